"""The meanings of all findings, by their plain words."""

from __future__ import annotations

from hideledger.rules.meaning import Meaning
from hideledger.rules.meanings_let_go import LET_GO
from hideledger.rules.meanings_now import NOW
from hideledger.rules.meanings_record import RECORD

MEANINGS: dict[str, Meaning] = {**NOW, **LET_GO, **RECORD}


def meaning_of(name: str) -> Meaning | None:
    """The meaning of a finding by its plain words, in any case and spacing; None when there is no such finding."""
    return MEANINGS.get(" ".join(name.replace("’", "'").casefold().split()))
