"""A recipe brought to the size asked for: each basis with its factor, each amount as reckoned and as it is measured.

Weights of skin are scaled first, since they may give the water; then what goes by the water, then what goes by the liquor. All of it in exact
numbers: an amount is rounded once, at its end.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field
from datetime import date
from decimal import Decimal

from hideledger.answers.acid.names import NotReckoned
from hideledger.answers.mix.asked import BASES, Wanted
from hideledger.answers.mix.measured import measured, writable_here
from hideledger.answers.mix.supplies import WATER, Stuff, must_be_said, stuff_of
from hideledger.answers.mix.words import about, amount_words, bare, figure, handy, is_metric, title_of
from hideledger.model.shop import RecipeBasis
from hideledger.model.units import Quantity, plain_number
from hideledger.trade.rounding import Rounded, in_thirds, to_figures

_LIQUOR = "liquor"


@dataclass(frozen=True, slots=True, kw_only=True)
class Taken:
    """One amount of the recipe at its size: `base` is the amount and basis as the recipe has them (`1 lb per gal water`), `factor` how many times.

    `as_asked` marks the water that was asked for: it is not rounded. `said` whether the shop says how fine it is measured.
    """

    stuff: Stuff
    amount: Rounded
    base: str
    factor: Decimal
    as_asked: bool = False
    said: bool = False

    @property
    def quantity(self) -> Quantity:
        """What is measured out."""
        return self.amount.taken


@dataclass(frozen=True, slots=True, kw_only=True)
class Scaled:
    """The whole recipe at its size. `filled_to` is set where water makes up the liquor to a volume, and no amount of it is in the recipe."""

    taken: tuple[Taken, ...]
    bases: tuple[tuple[str, Decimal, str], ...]  # the basis as the recipe has it, how many times, and of what
    filled_to: Quantity | None = None
    assumed: tuple[str, ...] = ()


@dataclass(slots=True, kw_only=True)
class _Scaling:
    """The work while it goes on."""

    wanted: Wanted
    day: date
    taken: list[Taken] = field(default_factory=list)
    bases: list[tuple[str, Decimal, str]] = field(default_factory=list)
    assumed: list[str] = field(default_factory=list)
    liquor: Quantity | None = None
    filled_to: Quantity | None = None

    def by_skins(self, basis: RecipeBasis) -> None:
        """What goes by the hide, by the count, or by a weight of skin."""
        wanted = self.wanted
        if basis.per is None:
            factor = wanted.heads() if basis.base == "hide" else wanted.counts()
            self.add(
                basis,
                factor,
                f"{plain_number(factor)} {'hide' if factor == 1 and basis.base == 'hide' else basis.base + 's'}",
            )
            return
        kind = weight_of(basis)
        found = wanted.weighed(kind)
        if wanted.weight is not None:
            words = wanted.weight.text
            if kind not in wanted.weight.of.split():
                self.assumed.append(f"`{wanted.weight.text}` is the {kind} weight, as the recipe wants it")
        else:
            words = f"{_plain_words(found.to(basis.per.unit), basis.per.unit)} {kind}"
        self.add(basis, found.to(basis.per.unit) / basis.per.value, words)

    def by_water(self, basis: RecipeBasis) -> None:
        """What goes by the water taken."""
        wanted, per = self.wanted, basis.per
        assert per is not None
        asked = wanted.water or wanted.bare
        already = sum((self._litres(taken) for taken in self.taken if taken.stuff.sort == WATER), Decimal(0))
        listed = any(name == "water" for _, name in basis.amounts)
        if asked is not None:
            if already and not any(taken.as_asked for taken in self.taken):
                raise NotReckoned(
                    f"`{asked.text}`: recipe {wanted.recipe.name} gives the water itself, by the skins ({wanted.recipe.place.short}); leave it away"
                )
            if wanted.bare is not None:
                self.assumed.append(f"`{asked.text}` is the water taken, since the recipe goes by water")
            if not listed and not already:
                self.take_water(asked.quantity)
            whole = _in_litres(asked.quantity)
        elif already:
            whole = already
        else:
            raise NotReckoned(
                f"{wanted.recipe.name} goes by the water ({basis.place.short}): how much? `mix {wanted.recipe.name} {_so_much(wanted)}`"
            )
        self.add(
            basis,
            whole / _in_litres(per),
            asked.text if asked is not None else f"{_plain_words(whole / _in_litres(_one(per)), per.unit)} of water",
        )

    def by_liquor(self, basis: RecipeBasis) -> None:
        """What goes by the finished liquor."""
        wanted, per = self.wanted, basis.per
        assert per is not None
        asked = wanted.liquor or (wanted.bare if not self._goes_by("water") else None)
        if asked is not None and self.liquor is not None:
            raise NotReckoned(
                f"`{asked.text}`: recipe {wanted.recipe.name} says itself how much liquor it takes ({wanted.recipe.place.short}); leave it away"
            )
        gives_water = any(name == "water" for base in wanted.recipe.bases for _, name in base.amounts)
        whole = asked.quantity if asked is not None else self.liquor
        if whole is None:
            litres = sum((self._litres(taken) for taken in self.taken), Decimal(0))
            if not litres:
                raise NotReckoned(
                    f"{wanted.recipe.name} goes by the finished liquor ({basis.place.short}): how much? `mix {wanted.recipe.name} {_so_much(wanted, per)}`"
                )
            whole = Quantity(value=litres, unit="L")
            self.assumed.append("the liquor is the water and what else is poured; what dissolves in it is not counted")
        elif wanted.bare is not None and asked is wanted.bare:
            self.assumed.append(
                f"`{asked.text}` is the finished liquor, since the recipe goes by it: not the water taken"
            )
        if whole.dimension != per.dimension:
            raise NotReckoned(
                f"{wanted.recipe.name} goes by {'the weight' if per.dimension == 'weight' else 'the volume'} of the liquor ({basis.place.short}), and {figure(whole.value)} {bare(whole.unit)} is {'a volume' if per.dimension == 'weight' else 'a weight'}; ask in {bare(per.unit)}"
            )
        if asked is not None and not gives_water and whole.dimension == "volume" and not self._goes_by("water"):
            self.filled_to = writable_here(whole, self.wanted.book.shop)
        words = asked.text if asked is not None else f"{_plain_words(whole.to(per.unit), per.unit)} of liquor"
        self.add(basis, whole.to(per.unit) / per.value, words)
        if not gives_water and whole.dimension == "weight" and not self._goes_by("water"):
            self._water_of(whole)

    def _water_of(self, liquor: Quantity) -> None:
        """The water of a liquor that goes by weight, and whose recipe names none: what is left of it."""
        weights = [one.stuff.kg(one.amount.exact) for one in self.taken]
        if None in weights:
            return
        rest = liquor.to("kg") - sum((Decimal(repr(weight[1])) for weight in weights if weight is not None), Decimal(0))
        if rest > 0:
            stuff = stuff_of("water", self.wanted.book, self.day)
            exact = writable_here(Quantity(value=rest, unit="L"), self.wanted.book.shop)
            self.taken.insert(
                0, self._measured(stuff, exact, "what is left of the liquor, a litre weighing a kilogram", Decimal(1))
            )

    def add(self, basis: RecipeBasis, factor: Decimal, words: str) -> None:
        """All amounts of one basis, times its factor."""
        title = title_of(basis)
        self.bases.append((title, factor, words))
        for amount, name in basis.amounts:
            exact = Quantity(value=amount.value * factor, unit=amount.unit)
            if name == _LIQUOR:
                if self.liquor is not None:
                    raise NotReckoned(
                        f"recipe {self.wanted.recipe.name} says twice how much liquor it takes ({basis.place.short})"
                    )
                self.liquor = exact
                continue
            stuff = stuff_of(name, self.wanted.book, self.day)
            must_be_said(stuff, amount, basis.place.short)
            self.taken.append(self._measured(stuff, exact, f"{_as_written(amount)} {title}", factor))

    def _measured(self, stuff: Stuff, exact: Quantity, base: str, factor: Decimal) -> Taken:
        found = measured(stuff, exact, self.wanted.book.shop)
        if found.assumed:
            self.assumed.append(found.assumed)
        return Taken(stuff=stuff, amount=found.amount, base=base, factor=factor, said=found.said)

    def take_water(self, asked: Quantity) -> None:
        """The water that was asked for, as it was asked for."""
        stuff = stuff_of("water", self.wanted.book, self.day)
        amount = writable_here(asked, self.wanted.book.shop)
        exact = Rounded(exact=amount, taken=amount, step=amount.value)
        self.taken.append(Taken(stuff=stuff, amount=exact, base="as asked", factor=Decimal(1), as_asked=True))

    def _goes_by(self, what: str) -> bool:
        return any(basis.per is not None and basis.base.endswith(f" {what}") for basis in self.wanted.recipe.bases)

    def _litres(self, taken: Taken) -> Decimal:
        return Decimal(repr(taken.stuff.litres(taken.amount.exact)))


def scaled(wanted: Wanted, day: date) -> Scaled:
    """The recipe at the size asked for. Raises NotReckoned for whatever it needs and nobody said."""
    work = _Scaling(wanted=wanted, day=day)
    bases = wanted.recipe.bases
    of_skins = [basis for basis in bases if _by_skins(basis)]
    of_water = [basis for basis in bases if not _by_skins(basis) and basis.base.endswith(" water")]
    of_liquor = [basis for basis in bases if not _by_skins(basis) and not basis.base.endswith(" water")]
    if wanted.bare is not None and of_water and of_liquor:
        said = wanted.bare.text
        raise NotReckoned(
            f"`{said}`: of water taken, or of finished liquor? the recipe goes by both: `{said} water`, or `{said} liquor`"
        )
    _nothing_idle(wanted, of_water, of_liquor)
    for basis in of_skins:
        work.by_skins(basis)
    for basis in of_water:
        work.by_water(basis)
    for basis in of_liquor:
        work.by_liquor(basis)
    if work.liquor is not None and not of_liquor:
        raise NotReckoned(
            f"recipe {wanted.recipe.name} says how much liquor, and not what the liquor is made of ({wanted.recipe.place.short}): a line such as `per L liquor: …` is missing"
        )
    if wanted.water is not None and not of_water:
        work.take_water(wanted.water.quantity)
    taken = _in_written_order(work.taken, wanted)
    sour = next((one for one in taken if one.stuff.is_acid), None)
    if sour is not None and work.filled_to is None and not any(one.stuff.sort == WATER for one in taken):
        raise NotReckoned(
            f"recipe {wanted.recipe.name} has {sour.stuff.name} in it and no water ({wanted.recipe.place.short}): ask with it, as in `mix {wanted.recipe.name} … {_so_much(wanted)} water`, or write it into the recipe"
        )
    return Scaled(taken=taken, bases=tuple(work.bases), filled_to=work.filled_to, assumed=tuple(work.assumed))


def _nothing_idle(wanted: Wanted, of_water: list[RecipeBasis], of_liquor: list[RecipeBasis]) -> None:
    """Refuses an amount that the recipe has no use for: it would be passed over in silence."""
    name, place = wanted.recipe.name, wanted.recipe.place.short
    for portion, bases, what in (
        (wanted.water, of_water or _without_water(wanted), "the water"),
        (wanted.liquor, of_liquor, "the finished liquor"),
        (wanted.bare, of_water + of_liquor, "water or liquor"),
    ):
        if portion is not None and not bases:
            how = ", ".join(title_of(basis) for basis in wanted.recipe.bases)
            raise NotReckoned(f"`{portion.text}`: recipe {name} does not go by {what} ({place}) but {how}")


def _without_water(wanted: Wanted) -> list[RecipeBasis]:
    """The bases of a recipe that says nothing of water, so that it may be asked with it; none of another."""
    bases = list(wanted.recipe.bases)
    return [] if any(name in ("water", _LIQUOR) for basis in bases for _, name in basis.amounts) else bases


def _in_written_order(taken: Iterable[Taken], wanted: Wanted) -> tuple[Taken, ...]:
    """Water that was asked for first, then as the recipe has them."""
    order = {title_of(basis): number for number, basis in enumerate(wanted.recipe.bases)}

    def place(one: Taken) -> int:
        return -1 if one.as_asked else next((order[title] for title in order if one.base.endswith(title)), 0)

    return tuple(sorted(taken, key=place))


def _by_skins(basis: RecipeBasis) -> bool:
    return basis.per is None or weight_of(basis) != ""


def weight_of(basis: RecipeBasis) -> str:
    """`drained` of a basis that goes by a weight of skin; empty for others."""
    last = basis.base.rsplit(" ", 1)[-1]
    return last if last in BASES else ""


def _plain_words(value: Decimal, unit: str) -> str:
    """So much of a unit, in the one that is handy."""
    amount = handy(Quantity(value=value, unit=unit))
    return f"{about(amount.value)} {bare(amount.unit)}"


def _as_written(amount: Quantity) -> str:
    """An amount as the recipe has it; one that was a share of a weight to four figures."""
    shown = amount.value if in_thirds(amount.value) is not None else to_figures(amount.value, 4)
    return amount_words(Quantity(value=shown, unit=amount.unit))


def _so_much(wanted: Wanted, like: Quantity | None = None) -> str:
    """An amount to ask with, in the measure of the shop, and of the sort of another amount."""
    if like is not None and like.dimension == "weight":
        return "80 kg" if is_metric(like.unit) else "160 lb"
    return "20 gal" if wanted.book.shop.gallons else "80 L"


def _one(quantity: Quantity) -> Quantity:
    return Quantity(value=Decimal(1), unit=quantity.unit)


def _in_litres(quantity: Quantity) -> Decimal:
    """Litres of water: a kilogram is taken for a litre."""
    return quantity.to("L") if quantity.dimension == "volume" else quantity.to("kg")
