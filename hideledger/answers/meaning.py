"""A finding or a defect explained to whoever meets it the first time: what is seen, what it comes from, what to write."""

from __future__ import annotations

from hideledger.answers.sheet import Row, Section, Sheet
from hideledger.answers.slip.causes import CAUSES
from hideledger.reading.own_words import DEFECTS
from hideledger.rules.meanings import MEANINGS, meaning_of
from hideledger.text.nearest import nearest


class NoSuchFinding(LookupError):
    """No finding and no defect bears that name; the text names the nearest."""


def meaning(name: str) -> Sheet:
    """The meaning of one finding, or of one defect, by its plain words; without a name the list of all. Raises NoSuchFinding."""
    if not name.strip():
        return _all()
    explained = meaning_of(name)
    if explained is None and (defect := _defect(name)) is not None:
        return _of_defect(defect)
    if explained is None:
        raise NoSuchFinding(_not_known(name))
    words = next(known for known in MEANINGS if meaning_of(known) is explained)
    parts = (
        ("What was seen", explained.seen),
        ("Why it harms", explained.harm),
        ("How that is known", explained.source),
        ("What to write on the page", explained.write),
    )
    return Sheet(
        title=words,
        sections=tuple(Section(heading=heading, rows=(Row(text=text),)) for heading, text in parts),
        record={
            "schema": 1,
            "name": words,
            "seen": explained.seen,
            "harm": explained.harm,
            "source": explained.source,
            "write": explained.write,
        },
    )


def _defect(name: str) -> str | None:
    """The defect that is meant, by any of its names (`hair slip`, `burnt`); None where nothing is known to be said of it."""
    wanted = " ".join(name.split()).casefold()
    return next((one for one in CAUSES if wanted in (one, *DEFECTS[one])), None)


def _of_defect(defect: str) -> Sheet:
    cause = CAUSES[defect]
    write = f"`H41 {defect}, belly, 2 in`; its tag, where on the skin, how large or how bad"
    parts = (
        ("What it looks like", (cause.looks,)),
        ("What it usually comes from", cause.comes_from),
        ("How to tell it", (cause.tell,)),
        ("Whether it can be mended", (cause.mend,)),
        ("How that is known", ("common practice, no source",)),
        ("What to write on the page", (write,)),
        (
            "What went with it in your book",
            (f"hideledger slip{'' if defect == 'slip' else f' --defect {_quoted(defect)}'}",),
        ),
    )
    return Sheet(
        title=f"{defect}, a defect",
        sections=tuple(
            Section(heading=heading, rows=tuple(Row(text=text) for text in texts)) for heading, texts in parts
        ),
        record={
            "schema": 1,
            "name": defect,
            "sort": "defect",
            "looks": cause.looks,
            "comes_from": list(cause.comes_from),
            "tell": cause.tell,
            "mend": cause.mend,
            "source": "common practice, no source",
            "write": write,
        },
    )


def _quoted(defect: str) -> str:
    return f'"{defect}"' if " " in defect else defect


def _all() -> Sheet:
    rows = tuple(Row(text=f"{name}: {said.seen}", plain=(name, said.seen)) for name, said in MEANINGS.items())
    return Sheet(
        title="All findings and defects; hideledger meaning NAME explains one",
        sections=(
            Section(heading="Findings", rows=rows),
            Section(
                heading="Defects",
                rows=tuple(
                    Row(text=f"{name}: {said.looks}", plain=(name, said.looks)) for name, said in CAUSES.items()
                ),
            ),
        ),
        record={"schema": 1, "names": list(MEANINGS), "defects": list(CAUSES)},
    )


def _not_known(name: str) -> str:
    words = name.split()
    every = (*MEANINGS, *CAUSES)
    shared = [known for known in every if all(nearest(word, known.split(), least=0.75) for word in words)]
    near = nearest(name, every, least=0.6) or (shared[0] if len(shared) == 1 else None)
    hint = f"did you mean {near}?" if near else "hideledger meaning lists them all"
    return f"no finding or defect is called {' '.join(name.split())}; {hint}"
