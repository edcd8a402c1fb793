"""A finding explained to whoever meets it the first time: what was seen, why it harms, what to write."""

from __future__ import annotations

from hideledger.answers.sheet import Row, Section, Sheet
from hideledger.rules.meanings import MEANINGS, meaning_of
from hideledger.text.nearest import nearest


class NoSuchFinding(LookupError):
    """No finding bears that name; the text names the nearest."""


def meaning(name: str) -> Sheet:
    """The meaning of one finding by its plain words; without a name the list of all. Raises NoSuchFinding."""
    if not name.strip():
        return _all()
    explained = meaning_of(name)
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


def _all() -> Sheet:
    rows = tuple(Row(text=f"{name}: {said.seen}", plain=(name, said.seen)) for name, said in MEANINGS.items())
    return Sheet(
        title="All findings; hideledger meaning NAME explains one",
        sections=(Section(heading="Findings", rows=rows),),
        record={"schema": 1, "names": list(MEANINGS)},
    )


def _not_known(name: str) -> str:
    words = name.split()
    shared = [known for known in MEANINGS if all(nearest(word, known.split(), least=0.75) for word in words)]
    near = nearest(name, MEANINGS, least=0.6) or (shared[0] if len(shared) == 1 else None)
    hint = f"did you mean {near}?" if near else "hideledger meaning lists them all"
    return f"no finding is called {' '.join(name.split())}; {hint}"
