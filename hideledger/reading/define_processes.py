"""A process as a whole: its versions, the order of its steps, and the names in one line that another line must give."""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from functools import partial

from lark import Token, Tree

from hideledger.model.process import Limits, Process, RawLimit, Rest, Within
from hideledger.model.tannage import TANNAGES
from hideledger.reading import define_bounds as sides
from hideledger.reading import define_values as value
from hideledger.reading.define_clauses import word
from hideledger.reading.define_ground import Ground, Said, clauses_of, foreign, one_name
from hideledger.reading.define_lines import Definition, Line
from hideledger.reading.define_rests import raw_limit, rest
from hideledger.reading.define_steps import NameRef, StepDraft, step_draft
from hideledger.reading.define_together import keeps_both
from hideledger.reading.define_values import refuse
from hideledger.reading.trouble import Unreadable
from hideledger.text.nearest import nearest
from hideledger.text.place import Place


class ProcessDraft:
    """A process on its way."""

    __slots__ = ("line", "made", "name", "node", "raw", "rests", "since", "steps", "tannage")

    def __init__(self, made: Definition, line: Line, node: Tree[Token], name: str) -> None:
        self.made = made
        self.line = line
        self.node = node
        self.name = name
        self.since: date | None = None
        self.steps: list[StepDraft] = []
        self.rests: list[tuple[Rest, list[NameRef]]] = []
        self.raw: RawLimit | None = None
        self.tannage = ""


class ProcessReader:
    """Reads every process of the book. What one line names is looked up when all lines are known."""

    def __init__(self, ground: Ground, kinds: dict[str, str], tests: dict[str, str], rests: dict[str, str]) -> None:
        self.ground = ground
        self.kinds = kinds  # every spelling of a kind: its own name
        self.tests = tests  # likewise
        self.rests = rests  # those every shop has
        self.drafts: list[ProcessDraft] = []
        self.others: dict[str, tuple[str, Place]] = {}  # other names of steps: the step, and where it was said

    def read(self, made: Definition) -> None:
        """Takes one process."""
        found = one_name(made, self.ground)
        if found is None:
            return
        line, node, name = found
        draft = ProcessDraft(made, line, node, name)
        said = Said()

        def since(here: Line, clause: Tree[Token]) -> None:
            if clause.data == "named" and word(value.leaves(clause)[0]) == "tannage":
                said.put(here, clause, "tannage", tannage=_tannage(clause))
                draft.tannage = said.fields["tannage"]
                return
            if clause.data != "since":
                raise foreign(clause, "process")
            said.put(here, clause, "since", since=value.day(value.leaves(clause)[1], self.ground.terms))
            draft.since = said.fields["since"]

        self.ground.take(made, since, head_only=True)
        for each in made.lines:
            assert each.tree is not None
            try:
                if each.tree.data == "line":
                    for clause in clauses_of(each.tree):
                        since(each, clause)
                else:
                    self._line(draft, each)
            except Unreadable as trouble:
                self.ground.refused(made, each, trouble)
        try:
            if not draft.steps and not made.unread:
                raise refuse("empty", f"`process {name}` has no steps; they stand indented below it", node)
            self.ground.define("process", name, line, node, since=str(draft.since or ""), dated=True)
        except Unreadable as trouble:
            self.ground.refused(made, line, trouble)
            return
        self.drafts.append(draft)

    def step_places(self) -> dict[str, Place]:
        """Every name of every step of every process, with the first line that gives it."""
        found: dict[str, Place] = {}
        for draft in self.drafts:
            for step in draft.steps:
                for name in () if step.only_by_kind else step.names:
                    found.setdefault(name, step.line.place)
        return found

    def processes(self, defects: dict[str, str]) -> dict[str, tuple[Process, ...]]:
        """All of them, each name with its versions, oldest first. No step may bear a name that every shop has for a rest or a defect."""
        found: dict[str, list[Process]] = {}
        places = {name: place for name, place in self.step_places().items() if name not in self.rests}
        for draft in self.drafts:
            self._settle(draft, places)
            for step in draft.steps:
                for node in value.parts(step.node, "name"):
                    name = value.written(node)
                    what = "rest" if name in self.rests else "defect" if name in defects else ""
                    if what:
                        said = f"`{name}` is a {what} in every shop and cannot be a step too"
                        self.ground.refused(draft.made, step.line, refuse("both", said, node))
            process = Process(
                name=draft.name,
                since=draft.since,
                steps=tuple(step.step() for step in draft.steps),
                rests=tuple(each for each, _ in draft.rests),
                raw_limit=draft.raw,
                tannage=draft.tannage,
                place=draft.line.place,
            )
            found.setdefault(draft.name, []).append(process)
        return {
            name: tuple(sorted(versions, key=lambda version: version.since or date.min))
            for name, versions in found.items()
        }

    def _line(self, draft: ProcessDraft, line: Line) -> None:
        tree = line.tree
        assert tree is not None
        if tree.data == "raw_limit":
            if draft.raw is not None:
                raise refuse("twice", f"`raw at most` is said already at {draft.raw.place.short}", tree)
            draft.raw = raw_limit(line, self.ground)
            return
        if value.token(tree, "MAY_REST") is not None:
            each, after = rest(line, self.ground)
            each = replace(each, name=self.rests.get(each.name, each.name))
            same = next((other for other, _ in draft.rests if other.name == each.name), None)
            if same is not None:
                raise refuse(
                    "twice", f"the rest `{each.name}` is defined already at {same.place.short}", tree.children[1]
                )
            draft.rests.append((each, after))
            return
        troubles: list[Unreadable] = []
        step = step_draft(line, self.ground, troubles)
        try:
            if not step.only_by_kind:
                self._order(draft, step)
            draft.steps.append(step)
        except Unreadable as trouble:
            troubles.append(trouble)
        if troubles:
            raise troubles[0]

    def _order(self, draft: ProcessDraft, step: StepDraft) -> None:
        """Raises Unreadable when the line cannot stand here, or its name stands already."""
        names = [each for each in draft.steps if not each.only_by_kind]
        before = {name: each for each in names for name in each.names}
        main = step.names[0]
        if step.names[0] == "in" and names:
            raise refuse(
                "order", f"`in` is the first step of a process; `{names[0].title}` stands before it", step.node
            )
        if "out" in before:
            raise refuse("order", f"`{step.title}` stands behind `out`, which is the last step", step.node)
        for name, node in zip(step.names, value.parts(step.node, "name"), strict=True):
            same = before.get(name)
            if same is not None and not (step.again and same.names[0] == main):
                again = (
                    f"; a step that comes once more is written `{name} again`" if name == main == same.names[0] else ""
                )
                raise refuse("twice", f"`{name}` is a step already at {same.line.place.short}{again}", node)
        if step.again and main not in before and not draft.made.unread:
            raise refuse("step", f"`{main} again`: no step `{main}` stands above{_near(main, before)}", step.node)
        for name, node in zip(step.names[1:], value.parts(step.node, "name")[1:], strict=True):
            meant, place = self.others.setdefault(name, (main, step.line.at(node)))
            if meant != main:
                raise refuse("twice", f"`{name}` is another name of `{meant}` at {place.short}", node)

    def _settle(self, draft: ProcessDraft, places: dict[str, Place]) -> None:
        """Looks up what the lines name. A name that is not there is told; its clause is left out, the rest of the line holds."""
        names = {name: each.names[0] for each in draft.steps if not each.only_by_kind for name in each.names}
        for step in [each for each in draft.steps if each.only_by_kind]:
            draft.steps.remove(step)
            self._try(draft, step.line, lambda step=step: self._by_kind_line(draft, step, names))
        for at, step in enumerate(draft.steps):
            step.within = [
                (replace(within, of=self._titled(ref, names)), ref)
                for within, ref in step.within
                if self._try(draft, ref.line, partial(self._before, draft, within, ref, names, at))
            ]
            step.needs = [ref for ref in step.needs if self._try(draft, ref.line, lambda ref=ref: self._test(ref))]
            self._limits_by_kind(draft, step)
        settled = []
        for each, after in draft.rests:
            if each.name in places:
                line = next(line for line in draft.made.lines if line.place == each.place)
                assert line.tree is not None
                message = f"`{each.name}` is a step at {places[each.name].short} and cannot be a rest too"
                self.ground.refused(draft.made, line, refuse("both", message, line.tree.children[1]))
                continue
            kept = [ref for ref in after if self._try(draft, ref.line, lambda ref=ref: self._step(draft, ref, names))]
            after_names = tuple(dict.fromkeys(names.get(ref.name, ref.name) for ref in kept))
            settled.append((replace(each, after=after_names), kept))
        draft.rests = settled

    def _try(self, draft: ProcessDraft, line: Line, check: object) -> bool:
        assert callable(check)
        try:
            check()
        except Unreadable as trouble:
            self.ground.refused(draft.made, line, trouble)
            return False
        return True

    def _titled(self, ref: NameRef, names: dict[str, str]) -> str:
        name = names.get(ref.name, ref.name)
        return f"{name} again" if ref.again else name

    def _step(self, draft: ProcessDraft, ref: NameRef, names: dict[str, str]) -> None:
        if ref.name != "in" and ref.name not in names and not draft.made.unread:
            raise refuse("step", f"`{ref.name}` is no step of this process{_near(ref.name, names)}", ref.node)

    def _before(self, draft: ProcessDraft, within: Within, ref: NameRef, names: dict[str, str], at: int) -> None:
        self._step(draft, ref, names)
        title = self._titled(ref, names)
        counted = next((each for each in draft.steps[:at] if each.title == title), None)
        if counted is not None:
            keeps_both(draft.steps[at], within, ref, counted)
        if draft.made.unread or title == "in" or counted is not None:
            return
        here = draft.steps[at].title
        raise refuse(
            "order", f"`{title}` does not stand before `{here}`; `within` counts from a step before it", ref.node
        )

    def _test(self, ref: NameRef) -> None:
        if ref.name in self.tests:
            ref.name = self.tests[ref.name]
            return
        near = nearest(ref.name, self.tests)
        if near is not None:
            raise refuse("test", f"`{ref.name}` is no test known here; did you mean `{near}`?", ref.node)
        if "test" not in self.ground.unread:
            message = (
                f"`{ref.name}` is no test known here; a test of the shop's own has a line such as `test {ref.name}`"
            )
            raise refuse("test", message, ref.node)

    def _kind(self, ref: NameRef) -> str:
        if ref.name not in self.kinds and "kind" not in self.ground.unread:
            hint = _near(ref.name, self.kinds) or "; a line such as `kind whitetail cape` defines one"
            raise refuse("kind", f"`{ref.name}` is no kind of this shop{hint}", ref.node)
        return self.kinds.get(ref.name, ref.name)

    def _by_kind_line(self, draft: ProcessDraft, extra: StepDraft, names: dict[str, str]) -> None:
        """`second turn, elk cape: 3 h to 4 h` on a line of its own."""
        title = f"{names.get(extra.names[0], extra.names[0])}{' again' if extra.again else ''}"
        step = next((each for each in reversed(draft.steps) if each.title == title), None)
        if step is None:
            raise refuse("step", f"`{extra.title}` is no step of this process{_near(extra.title, names)}", extra.node)
        step.by_kind += extra.by_kind

    def _limits_by_kind(self, draft: ProcessDraft, step: StepDraft) -> None:
        found: list[tuple[str, Limits]] = []
        for ref, given, clause in step.by_kind:
            try:
                kind = self._kind(ref)
                verb = {"stay": "stays", "run": "runs"}.get(step.said.fields.get("sort", ""), "")
                if not verb and step.line.trouble is None:
                    raise refuse("bare", f"`{step.title}` neither stays nor runs; its own line says which", ref.node)
                if any(kind == other for other, _ in found):
                    raise refuse("twice", f"limits of `{kind}` are said already for `{step.title}`", ref.node)
                found.append((kind, sides.limits(ref.line, clause, given, self.ground.terms, verb)))
            except Unreadable as trouble:
                self.ground.refused(draft.made, ref.line, trouble)
        if found:
            step.said.fields["limits_by_kind"] = tuple(found)


def _tannage(clause: Tree[Token]) -> str:
    """What a process tans with: one of the words of the table."""
    names = value.parts(clause, "name")
    if len(names) > 1:
        raise refuse("expected", "a process has one tannage; a second one is a process of its own", names[1])
    written = value.written(names[0])
    value.known(written, TANNAGES, names[0], "word", "tannage")
    return TANNAGES[written]


def _near(name: str, names: dict[str, StepDraft] | dict[str, str]) -> str:
    near = nearest(name, names)
    return f"; did you mean `{near}`?" if near else ""
