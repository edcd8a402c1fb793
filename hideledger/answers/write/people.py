"""Names of people on a new line that are nearly those of somebody in the book: is it the same?"""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from hideledger.model.entry import Entry
from hideledger.model.facts import HandedOut, Money, Party
from hideledger.reading.draft import Draft
from hideledger.rules.alike import alike
from hideledger.rules.finding import Finding
from hideledger.rules.names import account


def people_asked(written: Draft, findings: Iterable[Finding]) -> list[tuple[Entry, str]]:
    """A question for each new name that is alike to one that is defined or was written before.

    What one of the `findings` asks already is not asked twice.
    """
    new = [entry for entry in written.after.entries if entry.order in written.new]
    names = dict(_names(new))
    if not names:
        return []
    defined = {account(person.name): f"customer {person.name}" for person in written.after.shop.customers}
    known = {key: f"{name} ({entry.at.short})" for key, (name, entry) in _names(written.before.entries)}
    known |= defined
    told = [finding.message for finding in findings if finding.name == "two names alike"]
    asked: list[tuple[Entry, str]] = []
    for key, (name, entry) in names.items():
        if key in known or any(name in message for message in told):
            continue
        found = [said for other, said in known.items() if alike(key, other)]
        if found:
            asked.append((entry, f"{name}: {found[-1]} is in the book; is it the same?"))
    return asked


def _names(entries: Iterable[Entry]) -> Iterator[tuple[str, tuple[str, Entry]]]:
    for entry in entries:
        for fact in entry.facts:
            name = ""
            if isinstance(fact, Party):
                name = fact.name
            elif isinstance(fact, Money):
                name = fact.by
            elif isinstance(fact, HandedOut):
                name = fact.to
            if name:
                yield account(name), (name, entry)
