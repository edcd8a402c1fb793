"""What a bath is to be made for: so much water or liquor, these skins, that vessel. Whatever a recipe needs and nobody said is asked for."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import date
from decimal import Decimal

from hideledger.answers.acid.names import NotReckoned
from hideledger.answers.mix.unread import read_whole
from hideledger.answers.mix.whom import by_kinds, lives_of
from hideledger.model.shop import Recipe, ShopBook, as_of
from hideledger.model.units import Quantity
from hideledger.reading.asking_mix import MixAsked, Portion
from hideledger.reading.trouble import Unreadable
from hideledger.rules.bath_made import has_met_salt
from hideledger.rules.bath_put_in import is_salt
from hideledger.rules.words import in_order, listed, who
from hideledger.shopfloor.floor import Floor
from hideledger.shopfloor.life import HideLife
from hideledger.shopfloor.noted import Weight
from hideledger.text.nearest import nearest

GREEN, SALTED, DRAINED, SHAVED = "green", "salted", "drained", "shaved"
BASES = (GREEN, SALTED, DRAINED, SHAVED)
# Weighed so, a skin may come from salt or a pickle, or from a soak in plain water: the word alone does not say which.
_PERHAPS_SALTED = frozenset([DRAINED, SHAVED])
_SKINS = frozenset(["skin", "skins", "hide", "hides", "cape", "capes", "pelt", "pelts", "wet", "wet skin", "wet skins"])
_LIQUOR = frozenset(["liquor", "bath", "finished", "finished liquor", "brine", "in all"])
# What may stand before the name of a recipe and says nothing of it.
_IDLE = frozenset(["recipe", "mix", "make", "up", "a", "an", "the", "some", "new", "fresh"])
# More than this is no bath of a shop: litres, or kilograms.
_MOST = 20_000


@dataclass(frozen=True, slots=True, kw_only=True)
class Wanted:
    """A request beside the book: each thing at most once. `bare` is a volume of which nobody said whether it is water or liquor."""

    recipe: Recipe
    floor: Floor
    asked: MixAsked
    lives: tuple[HideLife, ...] = ()
    water: Portion | None = None
    liquor: Portion | None = None
    bare: Portion | None = None
    weight: Portion | None = None

    @property
    def book(self) -> ShopBook:
        """The definitions of the book."""
        return self.floor.book.shop

    def heads(self) -> Decimal:
        """How many skins. Raises NotReckoned."""
        if self.lives:
            return Decimal(sum(life.count if life.box else 1 for life in self.lives))
        if self.asked.heads is not None:
            return self.asked.heads
        raise NotReckoned(
            f"{self.recipe.name} goes by the hide: for which? `mix {self.recipe.name} for H41 H44`, or how many: `for 5 hides`"
        )

    def counts(self) -> Decimal:
        """What the skins count together by their kinds. Raises NotReckoned."""
        if not self.lives:
            if self.asked.counts is not None:
                return self.asked.counts
            raise NotReckoned(
                f"{self.recipe.name} goes by what the hides count: for which? `mix {self.recipe.name} for H41 H44`, or `for 5 counts`"
            )
        kinds = self.book.kinds
        unknown = [life.tag for life in self.lives if life.kind.casefold() not in kinds]
        if unknown:
            kind = next(iter(sorted(kinds)), "whitetail cape")
            raise NotReckoned(
                f"{self.recipe.name} goes by what the hides count, and of what kind {listed(unknown)} {'is' if len(unknown) == 1 else 'are'} is not written: write `{who(unknown)} {kind}`"
            )
        total = Decimal(0)
        for life in self.lives:
            total += kinds[life.kind.casefold()].counts * (life.count if life.box else 1)
        return total

    def weighed(self, basis: str) -> Quantity:
        """What the skins weigh together on one basis, in kg or in the unit that was asked in. Raises NotReckoned."""
        if self.weight is not None:
            said = basis_said(self.weight)
            if said and said != basis:
                raise NotReckoned(
                    f"`{self.weight.text}`: {self.recipe.name} goes by the {basis} weight ({self.recipe.place.short}); weigh the skins {basis}, and ask with that"
                )
            return self.weight.quantity
        if not self.lives:
            raise NotReckoned(
                f"{self.recipe.name} goes by the {basis} weight of the skins: `mix {self.recipe.name} 30 lb {basis}`, or `for H41 H44` where the book has it"
            )
        found, missing = weights_of(self.lives, basis)
        missing = list(in_order(missing))
        if missing:
            raise NotReckoned(
                f"no {basis} weight is written for {listed(missing)}; weigh, and write `{missing[0]} 5 lb {basis}`{'' if len(missing) == 1 else ', a line for each'}"
            )
        return Quantity(value=sum((weight.weight.to("kg") for weight in found), Decimal(0)), unit="kg")

    def wet_kg(self) -> tuple[float, tuple[str, ...]]:
        """What goes into the bath, as far as it was weighed, in kg; and which hides have no weight at all."""
        if self.weight is not None:
            return float(self.weight.quantity.to("kg")), ()
        total, missing = 0.0, list[str]()
        for life in self.lives:
            alone = [weight for weight in life.weights if weight.shared_by == 1]
            last = alone[-1] if alone else (life.weights[-1] if life.weights else None)
            if last is None:
                missing.append(life.tag)
            elif last.shared_by == 1:
                total += float(last.weight.to("kg"))
            else:
                total += float(last.weight.to("kg")) / last.shared_by
        return total, tuple(missing)

    def raw_kg(self) -> float:
        """What of it brings its own plain water into the bath, in kg: what has met no salt, by the book or by the word that it was weighed with."""
        if self.weight is not None:
            return 0.0 if self.weight_basis() == SALTED else float(self.weight.quantity.to("kg"))
        return replace(self, lives=tuple(life for life in self.lives if not self.met_salt(life))).wet_kg()[0]

    @property
    def perhaps_salted(self) -> bool:
        """Whether a bare weight leaves open if the skins met salt before: `110 lb drained` comes from a pickle, or from a soak."""
        return self.weight is not None and self.weight_basis() in _PERHAPS_SALTED

    def met_salt(self, life: HideLife) -> bool:
        """Whether a skin brings no plain water any more: by what it went through, a bath with salt in it too, or weighed as salted."""
        if has_met_salt(life) or (life.weights and life.weights[-1].basis == SALTED):
            return True
        baths = [stay.bath for stay in life.stays if stay.bath is not None]
        return any(is_salt(amount.supply, self.book) for bath in baths for amount in bath.amounts)

    def unweighed_raw(self) -> tuple[str, ...]:
        """Skins that bring plain water, nobody knows how much."""
        return (
            ()
            if self.weight is not None
            else tuple(life.tag for life in self.lives if not self.met_salt(life) and not life.weights)
        )

    def weight_basis(self) -> str:
        """What sort of weight was asked with; where nobody said, the one that the recipe goes by."""
        assert self.weight is not None
        of_recipe = [basis.base.rsplit(" ", 1)[-1] for basis in self.recipe.bases if basis.per is not None]
        return basis_said(self.weight) or next((word for word in of_recipe if word in BASES), "")


def basis_said(portion: Portion) -> str:
    """`drained` of `30 lb drained weight`; empty where nobody said."""
    return next((word for word in portion.of.split() if word in BASES), "")


def weights_of(lives: Sequence[HideLife], basis: str) -> tuple[list[Weight], list[str]]:
    """The last weight of each on one basis, those weighed together once; and who has none.

    Raises NotReckoned where hides were weighed together with others that are not asked for.
    """
    found: list[Weight] = []
    missing: list[str] = []
    together: dict[int, list[Weight]] = {}
    for life in lives:
        last = next((weight for weight in reversed(life.weights) if weight.basis == basis), None)
        if last is None:
            missing.append(life.tag)
        elif last.shared_by == 1:
            found.append(last)
        else:
            together.setdefault(id(last.entry), []).append(last)
    for several in together.values():
        if len(several) != several[0].shared_by:
            where = several[0].entry.at.short
            raise NotReckoned(
                f"weighed together with others that are not asked for ({where}): ask for all of them, or weigh each and write it"
            )
        found.append(several[0])
    return found, missing


def wanted(asked: MixAsked, floor: Floor, day: date) -> Wanted:
    """The request beside the book. Raises Unreadable at a place of it, and NotReckoned."""
    asked, recipe = _recipe(asked, floor, day)
    asked = by_kinds(asked, floor.book.shop)
    given: dict[str, Portion] = {}
    for portion in asked.portions:
        what = _meant(portion)
        if what == "weight" and not portion.of and _by_weight_of_liquor(recipe):
            what = "liquor"  # `40 kg` where the recipe goes by no skin
        if what in given or (what == "bare" and ("water" in given or "liquor" in given)):
            raise Unreadable(
                "twice",
                f"`{portion.text}`: how much was said before, `{_other(given, what).text}`",
                portion.start,
                portion.end,
            )
        base = "kg" if portion.quantity.dimension == "weight" else "L"
        if portion.quantity.to(base) > _MOST:
            raise Unreadable(
                "number", f"`{portion.text}` is no bath of a shop; is it a slip?", portion.start, portion.end
            )
        given[what] = portion
    if "bare" in given and ("water" in given or "liquor" in given):
        bare = given["bare"]
        raise Unreadable("twice", f"`{bare.text}`: of what? how much was said before", bare.start, bare.end)
    return Wanted(
        recipe=recipe,
        floor=floor,
        asked=asked,
        lives=lives_of(asked, floor),
        water=given.get("water"),
        liquor=given.get("liquor"),
        bare=given.get("bare"),
        weight=given.get("weight"),
    )


def _by_weight_of_liquor(recipe: Recipe) -> bool:
    """Whether a recipe goes by a weight of its liquor, and by no weight of skin: then a bare weight is the liquor's."""
    weights = [basis for basis in recipe.bases if basis.per is not None and basis.per.dimension == "weight"]
    return bool(weights) and all(basis.base.rsplit(" ", 1)[-1] == "liquor" for basis in weights)


def _other(given: dict[str, Portion], what: str) -> Portion:
    return given.get(what) or next(iter(given.values()))


def _recipe(asked: MixAsked, floor: Floor, day: date) -> tuple[MixAsked, Recipe]:
    recipes = floor.book.shop.recipes
    name, start, end = asked.recipe, asked.recipe_start, asked.recipe_end
    words = name.split()
    while (
        words and " ".join(words) not in recipes and words[0] in _IDLE
    ):  # `recipe pickle`, as a line of the book has it; `make 20 gal pickle`
        words = words[1:]
    name = " ".join(words)
    if not name:
        for number, portion in enumerate(asked.portions):
            if portion.of in recipes:  # `20 gal of pickle`
                name, start, end = portion.of, portion.start, portion.end
                others = (
                    *asked.portions[:number],
                    replace(portion, of="", text=str(portion.quantity)),
                    *asked.portions[number + 1 :],
                )
                asked = replace(asked, portions=others)
                break
    known = ", ".join(f"`{each}`" for each in sorted(recipes)[:8])
    if not recipes:
        raise NotReckoned(
            "the book has no recipe; write one into the shop file, as in `recipe pickle` and below it `  per gal water: 1 lb salt`"
        )
    if not name:
        raise NotReckoned(f"mix what? name a recipe of the shop: {known}")
    found = recipes.get(name)
    if found is None:
        near = nearest(name, recipes)
        hint = f"did you mean `{near}`?" if near else f"the shop has {known}"
        raise Unreadable("recipe", f"`{name}` is no recipe of the shop; {hint}", start, max(end, start + 1))
    recipe = as_of(found, day)
    read_whole(recipe, floor.book)
    if not recipe.bases:
        raise NotReckoned(
            f"recipe {recipe.name} has no amounts ({recipe.place.short}); write them below it, as in `  per gal water: 1 lb salt`"
        )
    return asked, recipe


def _meant(portion: Portion) -> str:
    """`water`, `liquor`, `weight` of skins, or `bare`. Raises Unreadable."""
    of, weighs = portion.of, portion.quantity.dimension == "weight"
    if of == "water":
        return "water"
    if of in _LIQUOR:
        return "liquor"
    if weighs and (not of or of in _SKINS or basis_said(portion)):
        return "weight"
    if not weighs and not of:
        return "bare"
    known = (*BASES, "skins") if weighs else ("water", "liquor")
    near = nearest(of, known)
    hint = (
        f"did you mean `{near}`?"
        if near
        else f"behind {portion.quantity} may stand {' or '.join(known)}, and nothing else"
    )
    raise Unreadable("name", f"`{portion.text}`: {hint}", portion.start, portion.end)
