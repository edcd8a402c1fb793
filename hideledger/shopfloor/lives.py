"""A hide comes, is cut, comes out of a box, stands in, and goes: custody stays with the skin, the job may move."""

from __future__ import annotations

from dataclasses import replace

from hideledger.model.entry import Entry
from hideledger.model.facts import Code, Divided, HandedOut, Opened, StandsIn
from hideledger.model.moments import When
from hideledger.model.shop import Kind
from hideledger.shopfloor.afoot import HideAfoot, Walk
from hideledger.shopfloor.life import HideLife, Pause, Stay, StepMark
from hideledger.shopfloor.members import go_in
from hideledger.shopfloor.steps import end_stay


def born(walk: Walk, tag: str, entry: Entry, when: When, *, declared: bool = True) -> HideAfoot:
    """A life begins with this line; not `declared` where its own `in` could not be read."""
    life = HideLife(tag=tag, arrived=entry, arrived_when=when, declared=declared)
    life.arrival_unread = not declared and tag in walk.unsure
    return _placed(walk, life)


def _placed(walk: Walk, life: HideLife) -> HideAfoot:
    hide = HideAfoot(life)
    walk.hides[life.tag] = hide
    walk.walked.append(hide)
    walk.floor.hides.setdefault(life.tag, []).append(life)
    return hide


def end_life(walk: Walk, hide: HideAfoot, entry: Entry, when: When, how: str) -> None:
    """It is out of the shop's hands, or no longer the same thing: `how` is out, lost, refused, cut or opened."""
    life = hide.life
    end_stay(walk, hide, when, entry)
    if hide.pause is not None:
        hide.pause.end, hide.pause.end_entry = when, entry
        hide.pause = None
    walk.stand(hide, "", when)
    hide.course.append((when, "gone", entry, ""))
    life.ended, life.ended_when, life.ended_as = entry, when, how


def hand_out(walk: Walk, hide: HideAfoot, entry: Entry, when: When, fact: HandedOut) -> None:
    """Handed back: the last step of the way."""
    hide.life.handed_to = fact.to
    end_life(walk, hide, entry, when, "out")
    hide.life.marks.append(StepMark(entry=entry, when=when, name="out"))


def cut(walk: Walk, hide: HideAfoot, entry: Entry, when: When, fact: Divided) -> list[HideAfoot]:
    """Each part takes over clocks, bath, owner, promise and the way so far; the weight of the whole is nobody's any more."""
    bath, pause, stay = hide.bath, hide.pause, hide.stay
    end_life(walk, hide, entry, when, "cut")
    parts = []
    for tag, what in fact.parts:
        part = _offspring(walk, hide, tag, when, stay=stay, pause=pause)
        if part is None:
            continue
        life = part.life
        life.parent, life.what = hide.life.tag, what
        kind = _kind_named(walk, what, hide.life.kind)
        if kind is not None:
            life.kind = kind.name
            if kind.process:  # a part may go its own way
                part.process_name, life.process_entry = "", None
        if bath is not None and part.stay is not None:
            go_in(walk, part, part.stay, bath, when)
        parts.append(part)
    return parts


def open_box(walk: Walk, box: HideAfoot, entry: Entry, when: When, fact: Opened) -> list[HideAfoot]:
    """The skins of a box came in when the box did, for whom and in what condition the box did."""
    whole = box.life
    whole.box = True
    if whole.count != len(fact.tags) and _counted(whole):
        walk.oddity("box count", (whole.tag,), entry, whole.arrived, f"{len(fact.tags)} of {whole.count}")
    pause, stay = box.pause, box.stay
    end_life(walk, box, entry, when, "opened")
    skins = []
    for i, tag in enumerate(fact.tags):
        skin = _offspring(walk, box, tag, when, stay=stay, pause=pause)
        if skin is None:
            continue
        skin.life.from_box = whole.tag
        if i < len(fact.their_tags):
            skin.life.codes["their tag"] = (Code(sort="their tag", code=fact.their_tags[i]), entry)
        skins.append(skin)
    return skins


def take_out(walk: Walk, hide: HideAfoot, where: str, entry: Entry, when: When) -> None:
    """Lifted out of a box that no line opened: it came in by a line of its own, and the box holds one fewer."""
    box = walk.hides.get(where)
    if box is None or box is hide or not box.life.box or box.life.ended is not None or hide.life.from_box:
        return
    hide.life.from_box = box.life.tag
    box.life.count = max(0, box.life.count - 1)
    if not box.life.count:
        end_life(walk, box, entry, when, "opened")


def _counted(whole: HideLife) -> bool:
    """Whether the arrival line said how many are in it."""
    return any(getattr(fact, "count", None) is not None for fact in whole.arrived.facts)


def _offspring(
    walk: Walk, hide: HideAfoot, tag: str, when: When, *, stay: Stay | None, pause: Pause | None
) -> HideAfoot | None:
    """A new tag that goes on with another's history; `stay` and `pause` are those that were open until this line."""
    whole = hide.life
    old = walk.hides.get(tag)
    if old is not None and old.life.ended is None:
        walk.oddity("twice", (tag,), whole.ended or whole.arrived, old.life.arrived)
        return None
    marks = [replace(mark) for mark in whole.marks]
    same = dict(zip(map(id, whole.marks), marks, strict=True))
    stays = [replace(one, mark=same[id(one.mark)]) for one in whole.stays]
    pauses = [replace(one) for one in whole.pauses]
    life = replace(
        whole,
        tag=tag,
        box=False,
        count=1,
        ended=None,
        ended_when=None,
        ended_as="",
        parties=dict(whole.parties),
        codes=dict(whole.codes),
        lines=[*whole.lines],
        marks=marks,
        stays=stays,
        pauses=pauses,
        places=list(whole.places),
        weights=[],
        tests=list(whole.tests),
        defects=list(whole.defects),
        taken=list(whole.taken),
        used=[],
        waived=list(whole.waived),
        missing=[],
        swapped=[],
        after_end=[],
        twice_in=[],
    )
    new = _placed(walk, life)
    new.course = list(hide.course)
    if hide.course and hide.course[-1][1] == "gone":
        new.course.pop()
    new.process_name, new.rested, new.failed = hide.process_name, hide.rested, hide.failed
    if stay is not None:
        new.stay = stays[-1]
        new.stay.end = new.stay.end_entry = None
    if pause is not None:
        new.pause = pauses[-1]
        new.pause.end = new.pause.end_entry = None
        walk.stand(new, pause.place, when)
    elif stay is not None and stay.bath is None:
        walk.stand(new, stay.where, when)
    return new


def _kind_named(walk: Walk, what: str, whole: str) -> Kind | None:
    """The shop's kind that a part is called by; the cape of an elk cape is elk, whatever kind `cape` is short for."""
    word = what.casefold()
    if whole.casefold().endswith(f" {word}"):
        return None
    for kind in walk.shop.kinds.values():
        if word == kind.name.casefold() or any(word == other.casefold() for other in kind.others):
            return kind
    return None


def stand_in(walk: Walk, hide: HideAfoot, fact: StandsIn) -> None:
    """A spare takes over who the job is for and until when, never whose skin it is nor what it went through."""
    hide.life.stands_in_for = fact.other
    other = walk.hides.get(fact.other)
    if other is None:
        return
    if "for" in other.life.parties:
        hide.life.parties["for"] = other.life.parties["for"]
    if other.life.promised is not None:
        hide.life.promised = other.life.promised
