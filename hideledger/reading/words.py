"""The words an entry may use: those of the language, and the names this shop gave.

Names are looked up longest first, by the sorts that make sense where they stand.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from hideledger.model.shop import ShopBook
from hideledger.reading.own_words import (
    BASES,
    CONDITIONS,
    DEFECTS,
    DEGREES,
    FINDINGS,
    HOW,
    LONGEST_NAME,
    RESULTS,
    SEXES,
    TESTS,
)
from hideledger.text.nearest import slip_of


def _extras(shop: ShopBook) -> dict[str, str]:
    """The words by which the shop's charge lines ask for more, in small letters, each with its sum as it is written."""
    found: dict[str, str] = {}
    for charge in shop.charges:
        for money, what in charge.money if charge.sort == "charge" else ():
            word = what or charge.what
            if not what.startswith("per "):
                found[" ".join(word.casefold().split())] = str(money)
    return found


class Vocabulary:
    """Every known name, by its words in small letters: the sorts it belongs to and the shop's own name in each."""

    __slots__ = ("extras", "longest", "names", "supply_dimensions", "whole")

    def __init__(self, shop: ShopBook) -> None:
        self.names: dict[str, dict[str, str]] = {}
        self.longest = LONGEST_NAME
        self.whole = shop.whole
        self.extras = _extras(shop)
        self.supply_dimensions = {name: supply.by for name, supply in shop.supplies.items()}
        for sort, table in (
            ("defect", DEFECTS),
            ("condition", CONDITIONS),
            ("basis", BASES),
            ("degree", DEGREES),
            ("how", HOW),
            ("result", RESULTS),
        ):
            for name, others in table.items():
                self._put(sort, name, (name, *others))
        for name, short in TESTS.items():
            self._put("test", name, (name, short))
        for sex in SEXES:
            self._put("sex", sex, (sex,))
        for finding in FINDINGS:
            self._put("finding", finding, (finding,))
        self._put("rest", "frozen", ("frozen", "freeze", "froze"))
        self._put("rest", "thawed", ("thawed", "thaw"))
        self._put("place", "room", ("room",))
        self._put("supply", "water", ("water",))
        self._of_the_shop(shop)

    def _of_the_shop(self, shop: ShopBook) -> None:
        others: list[tuple[str, str]] = []
        for versions in shop.processes.values():
            for process in versions:
                self._put("process", process.name, (process.name,))
                for rest in process.rests:
                    self._put("rest", rest.name, (rest.name,))
                for step in process.steps:
                    if step.name in ("in", "out"):
                        continue
                    self._put("step", step.name, (step.name,))
                    others += [(step.name, other) for other in step.others]
                    for test in step.needs:
                        self._put("test", test, (test, test.removesuffix(" test")))
        for name, other in others:
            self._put("step", name, (other,))
        for kind in shop.kinds.values():
            names = (kind.name, *kind.others)
            self._put("kind", kind.name, (*names, *(plural(name) for name in names)))
        for supply in shop.supplies.values():
            self._put("supply", supply.name, (supply.name, *supply.others))
        for measure in shop.measures.values():
            self._put("measure", measure.name, (measure.name, plural(measure.name)))
        for spot in shop.spots.values():
            self._put("place", spot.name, (spot.name,))
        for recipe in shop.recipes.values():
            self._put("recipe", recipe.name, (recipe.name,))
        for name, names in shop.defects.items():
            self._put("defect", name, (name, *names))
        for name, names in shop.tests.items():
            self._put("test", name, (name, name.removesuffix(" test"), *names))

    def _put(self, sort: str, name: str, spellings: Iterable[str]) -> None:
        for spelling in spellings:
            self.names.setdefault(spelling.casefold(), {}).setdefault(sort, name)
            if sort in ("step", "supply") and (other := _overseas(spelling.casefold())) is not None:
                self.names.setdefault(other, {}).setdefault(sort, name)

    def match(self, words: Sequence[str], sorts: Sequence[str]) -> tuple[str, str, int] | None:
        """The longest name at the start of `words` (in small letters): its sort, its own name and how many words it takes."""
        for count in range(min(self.longest, len(words)), 0, -1):
            found = self.names.get(" ".join(words[:count]))
            if found:
                for sort in sorts:
                    if sort in found:
                        return sort, found[sort], count
        return None

    def of_sort(self, *sorts: str) -> list[str]:
        """Every spelling known for some sorts, for a hint."""
        return [spelling for spelling, found in self.names.items() if any(sort in found for sort in sorts)]

    def hint(self, word: str, *sorts: str, also: Iterable[str] = ()) -> str | None:
        """The spelling of these sorts that a word is a slip of the fingers from."""
        return slip_of(word, [*self.of_sort(*sorts), *also])

    def meant(self, word: str, *sorts: str, also: Iterable[str] = ()) -> str | None:
        """The same, or the name that one word is the beginning of, or stands in (`neut`, `re-salted`)."""
        known = [*self.of_sort(*sorts), *also]
        found = slip_of(word, known)
        if found is None and len(word) >= 4 and " " not in word:
            near = [name for name in known if name.startswith(word) or (len(name) >= 4 and word.endswith(f"-{name}"))]
            found = min(near, key=lambda name: (len(name), name), default=None)
        return found


def _overseas(name: str) -> str | None:
    """The American spelling of an English name, or the other way: `neutralised`, `neutralized`; `sulphuric acid`, `sulfuric acid`."""
    for one, other in (("sulph", "sulf"), ("sulf", "sulph")):
        if one in name:
            return name.replace(one, other)
    for here, there in (("ised", "ized"), ("ising", "izing"), ("ise", "ize")):
        for one, other in ((here, there), (there, here)):
            if name.endswith(one):
                return name.removesuffix(one) + other
    return None


def plural(name: str) -> str:
    """A kind or measure, several of it: `whitetail capes`."""
    return name + ("es" if name.endswith(("s", "x", "ch", "sh")) else "s")
