"""The tables about hides: their lives, stays, steps, rests, weights, tests and defects."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from hideledger.answers.export.columns import columns_of
from hideledger.answers.export.facts import number
from hideledger.answers.export.ground import Ground, figure, hours
from hideledger.model.table import Table
from hideledger.shopfloor.life import HideLife

Row = tuple[object, ...]


def hide_tables(ground: Ground) -> tuple[Table, ...]:
    """All of them, each numbered from 1."""
    lives = ground.floor.all_hides()
    return (
        _filled("hides", (_hide(life, ground) for life in lives), numbered=False),
        _filled("stays", (row for life in lives for row in _stays(life, ground))),
        _filled("steps", (row for life in lives for row in _steps(life, ground))),
        _filled("rests", (row for life in lives for row in _rests(life, ground))),
        _filled("weights", (row for life in lives for row in _weights(life, ground))),
        _filled("tests", (row for life in lives for row in _tests(life, ground))),
        _filled("defects", (row for life in lives for row in _defects(life, ground))),
    )


def _filled(name: str, rows: Iterator[Row], *, numbered: bool = True) -> Table:
    made = tuple((count, *row) for count, row in enumerate(rows, start=1)) if numbered else tuple(rows)
    return replace(columns_of(name), rows=made)


def _hide(life: HideLife, ground: Ground) -> Row:
    one = ground.custody[id(life)]
    killed = None if life.killed is None else life.killed[0]
    stamp = None if killed is None else killed.stamp
    time = "" if stamp is None or stamp.minute is None else f" {stamp.minute // 60:02d}:{stamp.minute % 60:02d}"
    party = {role: fact.name for role, (fact, _) in life.parties.items()}
    raw = life.raw
    return (
        ground.hide(life),
        life.tag,
        life.kind,
        life.what,
        life.sex,
        life.box,
        life.count,
        life.declared,
        *ground.when(life.arrived_when),
        "" if life.condition is None else life.condition[0].condition,
        None if stamp is None else f"{stamp.day.isoformat()}{time}",
        "" if killed is None else killed.where,
        None if life.hung is None else figure(life.hung[0].temperature.to("F")),
        party.get("for", ""),
        party.get("from", ""),
        party.get("hunter", ""),
        party.get("owner", ""),
        one.code("tag"),
        one.code("licence"),
        one.code("seal"),
        one.code("their tag"),
        None if life.promised is None else life.promised[0].day.isoformat(),
        life.apart is not None,
        "" if life.process is None else life.process.name,
        None if (out_of := one.whole or one.box) is None else ground.hide(out_of.life),
        life.stands_in_for,
        life.ended_as,
        *ground.when(life.ended_when),
        life.handed_to,
        None if one.value is None else number(one.value[0].value),
        "" if one.value is None else one.value[0].unit,
        None if raw is None else hours(raw.shop[0]),
        None if raw is None else hours(raw.shop[1]),
        ground.event(life.arrived),
        None if life.was is None else ground.hide(life.was),
    )


def _stays(life: HideLife, ground: Ground) -> Iterator[Row]:
    for stay in life.stays:
        runs = stay.line is not None and stay.line.sort == "run"
        yield (
            ground.hide(life),
            life.tag,
            stay.line.title if stay.line is not None else stay.name,
            stay.where,
            ground.bath(stay.bath),
            *ground.when(stay.start),
            *ground.when(stay.end),
            stay.goes_on,
            hours(stay.turned[0]) if runs else None,
            hours(stay.turned[1]) if runs else None,
            ground.before_tag(life, stay.mark.entry),
            ground.event(stay.mark.entry),
        )


def _steps(life: HideLife, ground: Ground) -> Iterator[Row]:
    for mark in life.marks:
        yield (
            ground.hide(life),
            life.tag,
            mark.line.title if mark.line is not None else mark.name,
            mark.where,
            *ground.when(mark.when),
            mark.skipped,
            mark.elsewhere,
            mark.fault,
            ground.before_tag(life, mark.entry),
            ground.event(mark.entry),
        )


def _rests(life: HideLife, ground: Ground) -> Iterator[Row]:
    for pause in life.pauses:
        yield (
            ground.hide(life),
            life.tag,
            pause.name,
            pause.place,
            *ground.when(pause.start),
            *ground.when(pause.end),
            ground.before_tag(life, pause.entry),
            ground.event(pause.entry),
        )


def _weights(life: HideLife, ground: Ground) -> Iterator[Row]:
    for one in life.weights:
        weight = figure(one.weight.to("lb")) if one.weight.dimension == "weight" else None
        yield (
            ground.hide(life),
            life.tag,
            weight,
            one.basis,
            one.shared_by,
            *ground.when(one.when),
            ground.event(one.entry),
        )


def _tests(life: HideLife, ground: Ground) -> Iterator[Row]:
    for one in life.tests:
        yield (
            ground.hide(life),
            life.tag,
            one.fact.test,
            one.fact.passed,
            one.fact.where,
            one.own,
            *ground.when(one.when),
            ground.before_tag(life, one.entry),
            ground.event(one.entry),
        )


def _defects(life: HideLife, ground: Ground) -> Iterator[Row]:
    for one in life.defects:
        size = one.fact.size
        yield (
            ground.hide(life),
            life.tag,
            one.fact.defect,
            one.fact.where,
            figure(size.to("in")) if size is not None and size.dimension == "length" else None,
            one.fact.degree,
            one.at_door,
            *ground.when(one.when),
            ground.before_tag(life, one.entry),
            ground.event(one.entry),
        )
