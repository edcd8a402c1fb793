"""The shop itself, and its customers."""

from __future__ import annotations

from lark import Token, Tree

from hideledger.model.keeping import is_event
from hideledger.model.moments import Clock, UnknownZone
from hideledger.model.shop import Closed, Customer, Hours, Keeping, ShopLines
from hideledger.model.zones import zone_like, zone_names
from hideledger.reading import define_bounds as sides
from hideledger.reading import define_stock, values
from hideledger.reading import define_values as value
from hideledger.reading.define_clauses import CLAUSES, word
from hideledger.reading.define_ground import Ground, Said, foreign
from hideledger.reading.define_lines import Definition, Line, span
from hideledger.reading.define_values import Terms, refuse
from hideledger.reading.hurried_days import WEEK
from hideledger.reading.trouble import Unreadable
from hideledger.text.nearest import nearest

_SETTINGS = {"dates": ("month first", "day first"), "gallons": ("US", "imperial"), "degrees": ("F", "C")}


class ShopReader:
    """Reads the `shop` block: first what settles how figures are read (`terms`), then the rest."""

    def __init__(self, ground: Ground) -> None:
        self.ground = ground
        self.said = Said()
        self.hours: list[Hours] = []
        self.closed: list[Closed] = []
        self.kept: list[Keeping] = []

    def settle(self, made: Definition) -> None:
        """Takes the lines `dates`, `gallons` and `degrees`, on which the reading of all other lines rests."""

        def take(line: Line, clause: Tree[Token]) -> None:
            if clause.data != "setting":
                return
            leaf = clause.children[0]
            assert isinstance(leaf, Token)
            what = word(leaf)
            choices = _SETTINGS[what]
            name = clause.children[1]
            assert isinstance(name, Tree)
            written = value.text_of(name)
            found = next((choice for choice in choices if choice.casefold() == written.casefold()), None)
            if found is None:
                near = nearest(written, choices)
                hint = f"; did you mean `{near}`?" if near else ""
                message = f"`{what}` is followed by `{choices[0]}` or `{choices[1]}`, not by `{written}`{hint}"
                raise refuse("word", message, name)
            self.said.put(line, clause, what, **{what: found})

        self.ground.take(made, take)
        said = self.said.fields
        self.ground.terms = Terms(
            gallons=said.get("gallons", ""), degrees=said.get("degrees", ""), dates=said.get("dates", "")
        )

    def read(self, made: Definition) -> None:
        """Takes the name and all other lines."""
        line = made.head
        if line is not None and line.tree is not None:
            try:
                self.ground.define("shop", "shop", line, line.tree.children[0])
                texts = [leaf for leaf in value.leaves(line.tree) if leaf.type in {"FREE", "CONTACT"}]
                name = line.text[span(texts[0])[0] : span(texts[-1])[1]] if texts else ""
                self.said.fields.update(name=" ".join(name.split()), place=line.place)
            except Unreadable as trouble:
                self.ground.refused(made, line, trouble)
        for line in made.lines:
            try:
                self._line(line)
            except Unreadable as trouble:
                self.ground.refused(made, line, trouble)

    def lines(self) -> ShopLines:
        """All that was said."""
        return ShopLines(hours=tuple(self.hours), closed=tuple(self.closed), kept=tuple(self.kept), **self.said.fields)

    def _line(self, line: Line) -> None:
        tree = line.tree
        assert tree is not None
        clause = tree.children[0]
        assert isinstance(clause, Tree)
        match clause.data:
            case "zone":
                self._zone(line, clause)
            case "hours":
                self._hours(line, clause)
            case "closed":
                self._closed(line, clause)
            case "own":
                self._own(line, clause)
            case "wage":
                self.said.put(line, clause, "labour", labour=define_stock.wage(clause, self.ground))
            case _:  # `dates`, `gallons`, `degrees` are settled before
                pass

    def _zone(self, line: Line, clause: Tree[Token]) -> None:
        leaf = value.leaves(clause)[1]
        name = leaf.strip()
        try:
            Clock(name)
        except UnknownZone:
            like = zone_like(name)
            if like is None or like.casefold() != name.casefold():
                near = like or nearest(name, zone_names())
                hint = f"; did you mean `{near}`?" if near else "; it is a name such as `America/Chicago`"
                raise refuse("zone", f"`{name}` is no time zone known here{hint}", leaf) from None
            name = like
        self.said.put(line, clause, "zone", zone=name)

    def _hours(self, line: Line, clause: Tree[Token]) -> None:
        first, last = (leaf for leaf in clause.children if isinstance(leaf, Token) and leaf.type == "CLOCK")
        start, end = (values.clock_minute(str(leaf), leaf.start_pos or 0) for leaf in (first, last))
        if end <= start:
            raise refuse(
                "goes down", f"{first} to {last}: the shop closes before it opens; for a night write two lines", last
            )
        days: set[int] = set()
        for spell in value.parts(clause, "day_span"):
            names = [WEEK.index(leaf[:3].casefold()) for leaf in value.leaves(spell) if leaf.type == "DAY"]
            day = names[0]
            days.add(day)
            while day != names[-1]:
                day = (day + 1) % 7
                days.add(day)
        weekdays = frozenset(days or range(7))
        self.hours.append(Hours(start=start, end=end, weekdays=weekdays, place=line.at(clause)))

    def _closed(self, line: Line, clause: Tree[Token]) -> None:
        found = []
        for spell in value.parts(clause, "days_off"):
            days = [value.day(leaf, self.ground.terms) for leaf in value.leaves(spell) if leaf.type == "DATE"]
            if days[-1] < days[0]:
                raise refuse("goes down", f"{days[0]} to {days[-1]} goes back; the earlier day comes first", spell)
            found.append(Closed(first=days[0], last=days[-1], place=line.at(spell)))
        self.closed += found

    def _own(self, line: Line, clause: Tree[Token]) -> None:
        terms = self.ground.terms
        what, found, _ = sides.valued(clause)
        after = value.token(clause, "NAMED")
        if after is not None and (what != "records kept" or word(after) != "after"):
            raise refuse("word", f"`{after}` says nothing here", after)
        match what:
            case "room":
                warmth = value.quantity(sides.bare(found, "the temperature of the room"), terms, "temperature")
                self.said.put(line, clause, what, room=warmth)
            case "quiet after":
                quiet = value.length(sides.bare(found, "the quiet time"), terms)
                self.said.put(line, clause, what, quiet_after=quiet, quiet_place=line.at(clause))
            case "weighed to" | "measured to":
                finest = value.finest(sides.bare(found, "what it is weighed to"), terms, what)
                self.said.put(line, clause, what, **{what.replace(" ", "_"): finest})
            case "sewer ph":
                if found.least is None and found.most is None:
                    message = "here belongs `sewer pH at least` and a number, or `sewer pH 6 to 9`"
                    raise refuse("expected", message, clause)
                taken = sides.scale(line, clause, found, "pH")
                least, most = (None if end is None else end.value for end in (taken.least, taken.most))
                self.said.put(line, clause, "sewer pH", sewer_ph=least, sewer_most=most, sewer_place=line.at(clause))
            case "records kept":
                length = value.length(sides.bare(found, "the time that records are kept"), terms)
                self.kept.append(Keeping(length=length, after=self._event(clause), place=line.at(clause)))
            case _:
                raise foreign(clause, "shop")

    def _event(self, clause: Tree[Token]) -> str:
        """What the time that records are kept counts from: an event, or a day (of a permit that ends) as ISO date."""
        event, day = value.part(clause, "name"), value.token(clause, "DATE")
        if day is not None:
            return value.day(day, self.ground.terms).isoformat()
        if event is None:
            end = span(clause)[1]
            message = "here belongs `after` and what the time counts from, such as `after out`"
            raise Unreadable("unfinished", message, end - 1, end)
        said = value.written(event)
        if not is_event(said):
            known = "`in`, `out`, `the year`, `the year ending June`, `the last line`, or a date"
            raise refuse("event", f"`{said}`: no time is counted from that; it is {known}", event)
        return said


def customer(made: Definition, ground: Ground) -> Customer | None:
    """Somebody who brings hides or pays."""
    line = made.head
    if line is None or line.tree is None:
        return None
    names = [leaf for leaf in line.tree.children if isinstance(leaf, Token) and leaf.type == "FREE"]
    try:
        if not names:
            raise refuse("unfinished", "a name belongs behind `customer`", line.tree.children[0])
        name = " ".join(names[0].split())
        for said in CLAUSES["customer"]:
            at = f" {name.casefold()} ".find(f" {said} ")
            if at > 0:
                raise refuse("expected", f"a comma belongs before `{said}`", names[0])
        ground.define("customer", name.casefold(), line, names[0], shown=name)
    except Unreadable as trouble:
        ground.refused(made, line, trouble)
        return None
    details: list[tuple[str, str]] = []

    def take(_: Line, clause: Tree[Token]) -> None:
        leaves = value.leaves(clause)
        text = " ".join(leaves[-1].split()).removeprefix(":").strip()
        if len(leaves) == 2:
            details.append((word(leaves[0]).replace("license", "licence"), text))
        elif details and details[-1][0] == "address":  # an address has commas of its own
            details[-1] = ("address", f"{details[-1][1]}, {text}")
        else:
            first = text.split(maxsplit=1)[0] if text else text
            near = nearest(first, CLAUSES["customer"])
            hint = f"did you mean `{near}`?" if near else "`phone`, `email`, `address` or `licence` belongs here"
            raise refuse("word", f"`{first}`: {hint}", clause)

    ground.take(made, take)
    return Customer(name=name, lines=tuple(details), place=line.place)
