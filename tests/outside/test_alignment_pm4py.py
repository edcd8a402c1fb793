"""The cost of the best explanation, against alignments worked out by pm4py on a net of the same process.

pm4py (process mining in Python, tried with version 2.7.23, AGPL, never shipped) is used for one number only: the cost
of the cheapest alignment of a finished trace with a net, found by its own search over the net's markings. There a
missing or an extra step costs 10000 and an optional step that is left out costs 1, so `cost // 10000` is ours. A swap
is 20000 there. None of its variants aligns a hide that is still in the shop, so only finished ones are compared. It is
no part of the usual environment; where it is not installed this file is passed over.

The idea of the alignment: A. Adriansyah, B. F. van Dongen, W. M. P. van der Aalst, "Conformance Checking Using
Cost-Based Fitness Analysis", 2011, cited from memory.
"""

import importlib
import random
import warnings
from typing import Any

import pytest

from hideledger.shopfloor.alignment import Slot, align

with warnings.catch_warnings():
    # what it says of its own imports is no matter of ours
    warnings.simplefilter("ignore")
    pytest.importorskip("pm4py")
    nets: Any = importlib.import_module("pm4py.objects.petri_net.obj")
    arcs: Any = importlib.import_module("pm4py.objects.petri_net.utils.petri_utils")
    logs: Any = importlib.import_module("pm4py.objects.log.obj")
    alignments: Any = importlib.import_module("pm4py.algo.conformance.alignments.petri_net.algorithm")

A_STEP = 10_000
SEED = 41
PROCESSES = 600
TRACES_EACH = 5

NAMES = ("in", "fleshed", "salt", "pickle", "shaved", "wash", "turned", "oiled")

Slots = tuple[Slot, ...]
Written = tuple[str, ...]


def net_of(slots: Slots) -> tuple[Any, Any, Any]:
    """A row of places, a transition a slot between them, and a silent one beside it where the slot is optional."""
    net = nets.PetriNet("process")
    places = [nets.PetriNet.Place(f"p{i}") for i in range(len(slots) + 1)]
    net.places.update(places)
    for i, slot in enumerate(slots):
        for label in (slot.name, None) if slot.optional else (slot.name,):
            transition = nets.PetriNet.Transition(f"t{i}{'' if label else ' left out'}", label)
            net.transitions.add(transition)
            arcs.add_arc_from_to(places[i], transition, net)
            arcs.add_arc_from_to(transition, places[i + 1], net)
    return net, nets.Marking({places[0]: 1}), nets.Marking({places[-1]: 1})


def their_cost(net: tuple[Any, Any, Any], written: Written) -> int:
    """The cost that pm4py finds, in its own units."""
    trace = logs.Trace([logs.Event({"concept:name": name}) for name in written])
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")
        found = alignments.apply(trace, *net)
    return int(found["cost"])


def made_up_process(dice: random.Random) -> Slots:
    """One to ten slots; with eight names many of them stand twice or more."""
    return tuple(Slot(name=dice.choice(NAMES), optional=dice.random() < 0.35) for _ in range(dice.randint(1, 10)))


def made_up_way(dice: random.Random, slots: Slots) -> Written:
    """A way through the process with up to four slips of the hand or goings back."""
    way = [slot.name for slot in slots if not slot.optional or dice.random() < 0.6]
    for _ in range(dice.randint(0, 4)):
        at = dice.randint(0, max(len(way) - 1, 0))
        match dice.choice(("forgotten", "swapped", "sent back", "other", "twice")):
            case "forgotten" if way:
                del way[at]
            case "swapped" if len(way) > 1:
                other = dice.randrange(len(way))
                way[at], way[other] = way[other], way[at]
            case "sent back" if way and len(way) < 12:
                way[at + 1 : at + 1] = way[dice.randint(0, at) : at + 1]
            case "other":
                way.insert(at, dice.choice((*NAMES, "dyed")))
            case "twice" if way:
                way.insert(at, way[at])
            case _:
                pass
    return tuple(way)


def test_the_net_charges_what_this_file_says_it_does() -> None:
    """If a later version charges otherwise, this says so, and not the comparisons below."""
    net = net_of((Slot(name="in"), Slot(name="salt", optional=True), Slot(name="pickle")))
    assert their_cost(net, ("in", "salt", "pickle")) == 0
    assert their_cost(net, ("in", "pickle")) == 1
    assert their_cost(net, ("in", "salt")) == A_STEP
    assert their_cost(net, ("in", "dyed", "salt", "pickle")) == A_STEP
    assert their_cost(net, ("salt", "in", "pickle")) == A_STEP + 1
    assert their_cost(net, ("pickle", "salt", "in")) // A_STEP == 3


def test_the_cost_is_the_one_that_pm4py_finds() -> None:
    dice = random.Random(SEED)
    compared = 0
    costs: set[int] = set()
    wrong: list[str] = []
    for _ in range(PROCESSES):
        slots = made_up_process(dice)
        net = net_of(slots)
        for _ in range(TRACES_EACH):
            written = made_up_way(dice, slots)
            ours = align(slots, written, finished=True).cost
            theirs = their_cost(net, written) // A_STEP
            compared += 1
            costs.add(theirs)
            if ours != theirs:
                process = ", ".join(slot.name + "?" * slot.optional for slot in slots)
                wrong.append(f"{process} | {', '.join(written)}: {ours}, pm4py {theirs}")
    assert wrong == []
    assert compared == PROCESSES * TRACES_EACH
    assert {0, 1, 2, 3, 4, 5} <= costs  # the ways made up are not all of one sort
