"""Cuts a line where the grammar would: stamp, those it is about, pieces, remark. Only the grammar's own patterns are used.

The same pieces come again and again in a book; reading them piece by piece behind a cache is several times faster than reading whole
lines, and a test holds both ways to the same answer.
"""

from __future__ import annotations

import re

from lark import Lark

from hideledger.text.blanks import BLANKS, PASSED_OVER

_INDENT = (" ", "\t", "\u00a0", "\u202f", ".")
# First letters of `remark` and `note`: most lines need not be looked at for them.
_BEGINS_REMARK = ("r", "R", "n", "N")


class Cut:
    """A line in its parts, each with its offset in the line. `who` and the pieces are texts for the grammar.

    What a line does not have stands at the class: most lines have little, and a book has many lines.
    """

    date: str = ""
    date_at: int = 0
    time: str = ""
    time_at: int = 0
    about: bool = False
    who: str = ""
    who_at: int = 0
    body_at: int = 0
    pieces: tuple[tuple[str, int], ...] = ()
    spoken: str | None = None
    remark: str = ""
    remark_at: int = -1
    end: int = 0


class Cutter:
    """The grammar's patterns for stamp, tags, comma, remark, comment and strike, put together for cutting."""

    def __init__(self, parser: Lark) -> None:
        self.patterns = {terminal.name: terminal.pattern.to_regexp() for terminal in parser.terminals}
        p = self.patterns
        # A `+` inside a `*` would try every way of dividing a run of blanks; each stop begins a run of its own instead.
        blank = p["BLANKS"].removesuffix("+") + "*"
        blanks = f"{blank}(?:(?:{p['STOP']}){blank})*"
        after = f"(?:{blanks}(?:{p['COMMA']}|{p['COLON']}))?"

        def clock(name: str) -> str:
            return f"(?P<{name}about>{p['ABOUT']})?{blanks}(?!{p['STARTED']})(?P<{name}clock>{p['CLOCK']})|(?P<{name}figures>{p['FIGURES']})"

        self.blanks = re.compile(blanks)
        self.stamp = re.compile(
            f"{blanks}(?:(?P<date>{p['DATE']}){after}{blanks}(?:(?:{clock('d')}|(?P<dotted>{p['DOTTED']})){after})?"
            f"|(?:{clock('t')}){after}){blanks}"
        )
        tag = f"{p['TAG']}(?:{blanks}{p['RUN']}{blanks}(?:{p['TAG']}|{p['BARE']}))?"
        bare = f"{p['BARE']}"
        more = f"(?:{blanks}(?:{p['COMMA']}|{p['AND']})?{blanks}(?:{tag}|{bare}))*"
        but = f"{blanks}{p['BUT']}{blanks}"
        named = f"{tag}{more}(?:{but}(?:{tag}|{bare}){more})?"
        everyone = f"{p['ALL_IN']}{blanks}{p['TAG']}(?:{but}{tag}{more})?"
        self.who = re.compile(f"(?P<who>{everyone}|{named}){after}{blanks}")
        self.date = re.compile(p["DATE"])
        self.comment = re.compile(p["COMMENT"])
        self.struck = re.compile(f"{blanks}{p['STRUCK']}")
        self.dash = re.compile(p["DASH"])
        self.remark_only = re.compile(f"{blanks}{p['DASH']}")
        self.spoken = re.compile(f"{p['REMARK']}{blanks}{p['COLON']}?")
        self.special = re.compile(f"(?P<dash>{p['DASH']})|(?P<bracket>{p['BRACKETS']})|(?P<comma>{p['COMMA']})")
        self.hard = re.compile(r"--|[—–(]")
        self.comma = re.compile(p["COMMA"])
        self.tag = re.compile(p["TAG"])
        self.run = re.compile(f"({p['TAG']}){blanks}{p['RUN']}{blanks}({p['TAG']}|{p['BARE']})")
        self.text = re.compile(p["TEXT"])

    def cut(self, line: str) -> Cut:
        """The line (without comment and newline) in its parts. What is in the wrong place is left in the pieces for the grammar to refuse."""
        cut = Cut()
        cut.end = len(line)
        stamp = self.stamp.match(line)
        at = 0
        if stamp is None and line[:1] in _INDENT:
            blanks = self.blanks.match(line)
            at = blanks.end() if blanks else 0
        if stamp is not None:
            at = stamp.end()
            _put_stamp(cut, stamp)
        who = self.who.match(line, at)
        if who is not None:
            cut.who, cut.who_at = who["who"], who.start("who")
            at = who.end()
        cut.body_at = at
        spoken = self.spoken.match(line, at) if line[at : at + 1] in _BEGINS_REMARK else None
        if spoken is not None:
            begun = self._past_blanks(line, spoken.end())
            dash = self.dash.match(line, begun)
            begun = begun if dash is None else self._past_blanks(line, dash.end())
            said = line[begun:].strip(f"{BLANKS}-—–")
            cut.spoken = "" if self.blanks.fullmatch(said) else said  # a full stop alone says nothing
            return cut
        self._body(cut, line, at)
        return cut

    def _body(self, cut: Cut, line: str, at: int) -> None:
        if not self.hard.search(line, at):
            cut.pieces = self._plain(line, at)
            return
        pieces: list[tuple[str, int]] = []
        remarks: list[str] = []
        start = at
        closed = False  # a bracket has just ended the piece: only a comma, a dash or another bracket may follow
        for found in self.special.finditer(line, at):
            between = line[start : found.start()].strip(PASSED_OVER)
            if not closed:
                pieces.append((line[start : found.start()], start))
            elif between:  # words behind a bracket: the whole goes to the grammar, which refuses it there
                pieces[-1] = (line[pieces[-1][1] : found.start()], pieces[-1][1])
            start = found.end()
            if cut.remark_at < 0 and found["comma"] is None:
                cut.remark_at = found.start()
            if found["dash"] is not None:
                remarks.append(line[self._past_blanks(line, start) :].strip())
                break
            closed = found["bracket"] is not None
            if found["bracket"] is not None:
                remarks.append(found["bracket"][1:-1].strip())
        else:
            rest = line[start:].strip(PASSED_OVER)
            if not closed:
                pieces.append((line[start:], start))
            elif rest:
                pieces[-1] = (line[pieces[-1][1] :], pieces[-1][1])
        cut.pieces = _without_end(pieces)
        cut.remark = "; ".join(remark for remark in remarks if remark)

    def _past_blanks(self, line: str, at: int) -> int:
        found = self.blanks.match(line, at)
        return found.end() if found else at

    def _plain(self, line: str, at: int) -> tuple[tuple[str, int], ...]:
        """Pieces of a body without dash or bracket: only commas divide it."""
        if "," not in line[at:]:
            return ((line[at:], at),) if line[at:].strip(PASSED_OVER) else ()
        pieces: list[tuple[str, int]] = []
        for found in self.comma.finditer(line, at):
            pieces.append((line[at : found.start()], at))
            at = found.end()
        pieces.append((line[at:], at))
        return _without_end(pieces)


def _without_end(pieces: list[tuple[str, int]]) -> tuple[tuple[str, int], ...]:
    """The pieces without the nothing behind a comma at the end; nothing between two commas stays, to be refused."""
    if pieces and not pieces[-1][0].strip(PASSED_OVER):
        pieces.pop()
    return tuple(pieces)


def _put_stamp(cut: Cut, stamp: re.Match[str]) -> None:
    written, about, clock, figures, dotted, about_alone, clock_alone, figures_alone = stamp.groups()
    if written is not None:
        cut.date, cut.date_at = written, stamp.start("date")
    if clock is not None:
        cut.time, cut.time_at = clock, stamp.start("dclock")
    elif clock_alone is not None:
        cut.time, cut.time_at = clock_alone, stamp.start("tclock")
    else:
        for name, found in (("dfigures", figures), ("dotted", dotted), ("tfigures", figures_alone)):
            if found is not None:
                cut.time, cut.time_at = found, stamp.start(name)
    if about is not None or about_alone is not None:
        cut.about = True
