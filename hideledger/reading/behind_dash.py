"""Facts that stand behind a dash or in brackets, where only a remark is heard: a person would miss them, so the line is refused."""

from __future__ import annotations

import re

from hideledger.model.facts import (
    By,
    Fact,
    Flaw,
    HandedOut,
    KeepApart,
    LiftedOut,
    Lost,
    Party,
    Reading,
    Refused,
    Remark,
    Skipped,
    Tested,
    Took,
    Waived,
    Weighed,
)
from hideledger.model.shop import ShopBook
from hideledger.reading.cut import Cut, Cutter
from hideledger.reading.loose import BareWeight, Degree, KilledAt, Where
from hideledger.reading.own_words import is_place_on_skin
from hideledger.reading.pieces import PieceReader
from hideledger.reading.trouble import Unreadable
from hideledger.reading.unknown_words import DOINGS
from hideledger.reading.words import Vocabulary

# What is written with its reason behind the dash: `lost -- slipped all over`.
_WITH_A_REASON = (Lost, Refused, Skipped, Waived, HandedOut, KeepApart, LiftedOut)
# What is missed even in brackets behind a doing; initials and the like are a remark there.
_FIGURES = (Reading, Weighed, BareWeight, Took)
# Refusals of what is a fact all the same, only not whole enough to be read: `8 oz citric acid` without `add`, a pH behind a step.
_FACT_ALL_THE_SAME = ("add", "whose reading", "weighs or used", "money", "size of what", "pH range")
# Tags with only a remark are a note; but such a remark is perhaps a doing, written behind a dash by mistake.
_DOINGS_OF_LANGUAGE = re.compile(r"(?:in|out|lost|stirred|dumped|mixed|add|skipped)(?![A-Za-z0-9])", re.IGNORECASE)
_COMMA = re.compile(r",(?![0-9])")
# What begins with a capital and is nobody: `-- for Christmas`, `-- by Friday`.
_NOBODY = re.compile(
    r"(?:mon|tues?|wed(?:nes)?|thu(?:rs)?|fri|sat(?:ur)?|sun)(?:day)?|(?:jan|feb|mar|apr|may|june?|july?|aug|sept?|oct|nov|dec)[a-z]*"
    r"|christmas|xmas|easter|thanksgiving|new|year|season|mistake|hand|phone",
    re.IGNORECASE,
)


class BehindDash:
    """Looks at remarks in the words of one shop. `look` raises Unreadable where a remark is surely a fact."""

    __slots__ = ("_customers", "_cutter", "_read", "_words")

    def __init__(self, cutter: Cutter, read: PieceReader, words: Vocabulary, shop: ShopBook) -> None:
        self._cutter = cutter
        self._read = read
        self._words = words
        self._customers = {" ".join(one.name.casefold().split()) for one in shop.customers}

    def look(self, line: str, cut: Cut, facts: tuple[Fact, ...], who: bool, mode: str) -> None:
        """The remark of a line whose pieces said `facts`; none where tags stand with a remark alone."""
        if any(isinstance(fact, _WITH_A_REASON) for fact in facts):
            return
        bracketed = line[cut.remark_at] == "("
        self._no_tag(cut, alone=not cut.pieces)
        if not cut.pieces and not bracketed:
            self._no_doing(cut)
        for part in cut.remark.split(";") if bracketed else (cut.remark.split(";")[0],):
            text = _COMMA.split(part, maxsplit=1)[0].strip()
            if text and self._is_fact(text, facts, who, mode, bracketed=bracketed, first=not cut.pieces):
                right = f"{cut.who.strip()} {text}" if not cut.pieces else f", {text}"
                message = f"behind a dash or in brackets all is remark: if it is a fact write `{right}`; else begin it with another word"
                raise Unreadable("fact in remark", message, cut.remark_at, cut.end)

    def _no_doing(self, cut: Cut) -> None:
        """`H41 -- fleshed` is a remark to the program and a step to the person who wrote it: refused."""
        words = [word.casefold() for word in re.findall(r"[^\W\d_]+", cut.remark)[:4]]
        found = self._words.match(words, DOINGS)
        if found is not None and found[0] == "test" and "test" not in words[: found[2]] and not self._reads(cut.remark):
            return  # `-- cut on the shoulder`, `-- pull it tomorrow`: no test
        named = " ".join(words[: found[2]]) if found else None
        if named is None and _DOINGS_OF_LANGUAGE.match(cut.remark):
            named = words[0] if words else None
        if named is not None:
            who, sort = cut.who.strip(), "defect" if found is not None and found[0] == "defect" else "step"
            message = f"behind a dash all is remark: the {sort} is `{who} {named}`; if it is a remark, begin it with another word"
            raise Unreadable("step in remark", message, cut.remark_at, cut.end)

    def _reads(self, text: str) -> bool:
        try:
            self._read.piece(True, True, "", _COMMA.split(text, maxsplit=1)[0])
        except Unreadable:
            return False
        return True

    def _no_tag(self, cut: Cut, *, alone: bool) -> None:
        """`H3 — H4 fleshed`: a run, both of them, or a doing that belongs on a line of its own? Never a remark."""
        inside = self._cutter.cut(cut.remark)
        if not inside.who or inside.date or inside.time:
            return
        said = inside.pieces[0][0].strip() if inside.pieces else ""
        if not said and not (alone and self._alike(cut.who, inside.who)):
            return
        if said and not self._is_fact(said, (), True, "", bracketed=False, first=True) and not self._is_doing(said):
            return
        before, behind = cut.who.strip(), inside.who.strip()
        begun = f"{said} …" if len(inside.pieces) > 1 else said
        if alone and self._alike(before, behind):
            message = f"a run (`{before} thru {behind} {begun or '…'}`), or these alone (`{before} {behind} {begun or '…'}`)? behind a dash all is remark"
        else:
            message = f"behind a dash all is remark: what happened to {behind} stands on a line of its own, `{behind} {begun}`; if it is a remark, begin it with another word"
        raise Unreadable("fact in remark", message, cut.remark_at, cut.end)

    def _alike(self, before: str, behind: str) -> bool:
        """Whether two tags have the same letters, so that a run may lie between them."""
        first, last = (re.match(r"[A-Za-z]+-?", tag.strip()) for tag in (before, behind))
        return first is not None and last is not None and first.group().casefold() == last.group().casefold()

    def _is_doing(self, text: str) -> bool:
        """Whether it begins with a doing of the shop, or with a slip of one."""
        words = [word.casefold() for word in re.findall(r"[^\W\d_]+", text)[:4]]
        return bool(words) and (
            self._words.match(words, DOINGS) is not None
            or _DOINGS_OF_LANGUAGE.match(text) is not None
            or self._words.hint(words[0], *DOINGS) is not None
        )

    def _is_fact(
        self, text: str, before: tuple[Fact, ...], who: bool, mode: str, *, bracketed: bool, first: bool
    ) -> bool:
        if self._goes_with_defect(text, before):
            return True
        try:
            facts = self._read.piece(first, who, mode, text).facts
        except Unreadable as trouble:
            return trouble.code in _FACT_ALL_THE_SAME and trouble.end >= len(text)
        named = [fact for fact in facts if isinstance(fact, By | Party | HandedOut)]
        if bracketed and not first:
            facts = tuple([fact for fact in facts if isinstance(fact, _FIGURES) or fact in named])
        if not facts or isinstance(facts[0], Remark | Where | Degree):
            return False
        if isinstance(facts[0], KilledAt):
            return text.casefold().startswith("killed")
        if named and facts[0] is named[0]:
            return self._is_person(named[0])
        return True

    def _goes_with_defect(self, text: str, before: tuple[Fact, ...]) -> bool:
        """`slip -- ears`: where on the skin, or how bad, and the line has not said it yet."""
        at = next((i for i in range(len(before) - 1, -1, -1) if isinstance(before[i], Flaw | Tested)), None)
        if at is None:
            return False
        behind = before[at + 1 :]
        words = text.casefold().split()
        degree = self._words.match(words, ("degree",)) if isinstance(before[at], Flaw) else None
        if degree is not None and degree[2] == len(words):
            return not any(isinstance(fact, Degree) for fact in behind)
        return is_place_on_skin(words) and not any(isinstance(fact, Where) for fact in behind)

    def _is_person(self, fact: Fact) -> bool:
        """Whether a name is one for sure: a customer's, or written as names are. `for a shoulder mount` and `by mistake` are nobody's."""
        name = fact.to if isinstance(fact, HandedOut) else fact.name if isinstance(fact, Party) else ""
        name = fact.who if isinstance(fact, By) else name
        words = name.split()
        if isinstance(fact, HandedOut):
            return not _NOBODY.fullmatch(words[0])  # whoever it is, the skin has left
        if name.casefold() in self._customers:
            return True
        if not all(word[:1].isupper() and not _NOBODY.fullmatch(word) for word in words):
            return False
        if isinstance(fact, By):
            return len(words) <= 3 and not (name.isupper() and any(len(word) > 3 for word in words))
        return len(words) > 1 or any(name.casefold() in one.split() for one in self._customers)
