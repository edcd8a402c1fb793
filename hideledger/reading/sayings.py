"""Each sort of phrase and what is made of it: the language at one look."""

from __future__ import annotations

from collections.abc import Callable

from hideledger.reading import say_acts, say_amounts, say_arrival, say_people, say_readings, say_words
from hideledger.reading.desk import Desk


def _words(desk: Desk) -> None:
    """Words on an arrival line are kinds and conditions; elsewhere steps, tests and defects."""
    (say_arrival.at_the_door if desk.mode == "arrival" else say_words.words)(desk)


SAYINGS: dict[str, Callable[[Desk], None]] = {
    "word": _words,
    "tags": say_words.tags,
    "in": say_arrival.arrival,
    "quantity": say_amounts.quantity,
    "count": say_amounts.count,
    "price": say_amounts.price,
    "payment": say_amounts.payment,
    "scale": say_readings.scale,
    "sized": say_readings.sized,
    "shrinks": say_readings.shrinks,
    "hung": say_readings.hung,
    "span": say_readings.span,
    "whom": say_people.whom,
    "out_to": say_people.out_to,
    "out": say_people.out,
    "out_of": say_people.out_of,
    "coded": say_people.coded,
    "killed": say_arrival.killed,
    "at": say_arrival.at,
    "dated": say_arrival.dated,
    "theirs": say_people.theirs,
    "dosing": say_acts.dosing,
    "topped": say_acts.topped,
    "turning": say_acts.turning,
    "ran": say_acts.ran,
    "skipped": say_acts.skipped,
    "named": say_acts.named,
    "waived": say_acts.waived,
    "shelf": say_acts.shelf,
    "done": say_acts.done,
    "pressed": say_acts.pressed,
    "stirred": say_acts.stirred,
    "meter_set": say_acts.meter_set,
    "cut_into": say_acts.cut_into,
    "replaces": say_acts.replaces,
    "together": say_amounts.together,
}
