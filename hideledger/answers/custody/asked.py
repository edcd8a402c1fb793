"""Which records are asked for: by tag, by a code on the skin, by the name of anybody to do with it, or by kind."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from hideledger.answers.custody.record import Recorded
from hideledger.model.shop import Kind
from hideledger.rules.words import listed
from hideledger.text.nearest import nearest


class NoSuchRecord(LookupError):
    """No tag, code or name of the register is meant; the text says what is near."""


def asked_for(
    made: Sequence[Recorded], about: Sequence[str], kinds: Mapping[str, Kind] | None = None
) -> frozenset[str]:
    """The tags meant by these words; with a box or a cut skin what came out of it, with a part the skin it was cut from. `kinds` are those of the shop by every name.

    Raises NoSuchRecord.
    """
    whole = " ".join(" ".join(about).split())
    known = kinds or {}
    found = _named(made, whole, known)
    if not found:
        found = set()
        for word in (word.rstrip(",") for word in about):
            some = _named(made, word, known)
            if not some:
                raise NoSuchRecord(_nothing(made, whole if len(about) > 1 and not _tags(made, about) else word))
            found |= some
    return frozenset(_with_family(made, found))


def _named(made: Sequence[Recorded], word: str, known: Mapping[str, Kind]) -> set[str]:
    """Tags first, then codes, then whole names, then kinds, then a name of which the words are part."""
    said = word.casefold()
    tags = {one.tag for one in made if one.tag.casefold() == said}
    if tags:
        return tags
    codes = {one.tag for one in made if said in {code.casefold() for code in _codes(one)}}
    if codes:
        return codes
    exact = {one.tag for one in made if said in {name.casefold() for name in one.people}}
    if exact:
        return exact
    kind_meant = known.get(said) or known.get(said.removesuffix("s"))
    meant = said if kind_meant is None else kind_meant.name.casefold()
    kinds = {one.tag for one in made if meant in (kind := one.custody.life.kind.casefold(), f"{kind}s") and kind}
    if kinds:
        return kinds
    words = set(said.split())
    people = {name for one in made for name in one.people if words and words <= set(name.casefold().split())}
    if len({name.casefold() for name in people}) > 1:
        either = listed(sorted(people), "or")
        raise NoSuchRecord(f"{word} could be {either}; give the whole name")
    return {one.tag for one in made if people & set(one.people)}


def _tags(made: Sequence[Recorded], about: Sequence[str]) -> bool:
    known = {one.tag.casefold() for one in made}
    return any(word.rstrip(",").casefold() in known for word in about)


def _codes(one: Recorded) -> tuple[str, ...]:
    sorts = ("tag", "seal", "their tag", "licence")
    return tuple(code for code in (*(one.custody.code(sort) for sort in sorts), one.licence) if code)


def _with_family(made: Sequence[Recorded], tags: set[str]) -> set[str]:
    down, up = set(tags), set[str]()
    for one in made:  # what came out of another stands behind it
        whole = one.custody.whole
        if whole is None:
            continue
        if whole.life.tag in down:
            down.add(one.tag)
        elif one.tag in tags and not whole.life.box:
            up.add(whole.life.tag)
    return down | up


def _nothing(made: Sequence[Recorded], word: str) -> str:
    known = {one.tag for one in made} | {name for one in made for name in one.people}
    known |= {code for one in made for code in _codes(one)}
    known |= {part for one in made for name in one.people for part in name.split()}
    known |= {one.custody.life.kind for one in made if one.custody.life.kind}
    near = nearest(word, known, least=0.6)
    return f"{word} is in no record{f'; {near} is' if near else ''}"
