"""The lexer of both grammars: lark's own contextual one, but every pattern is compiled once and tried by itself.

Lark joins the patterns that a parser state accepts into one long expression, and compiles one for each of some seventy sets of them: a
third of the time that a nightly check takes. The same patterns tried one after the other, in lark's own order, find the same tokens.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Collection
from functools import lru_cache
from typing import TYPE_CHECKING, Any

from lark.lexer import BasicLexer, ContextualLexer, Scanner, TerminalDef, _create_unless

if TYPE_CHECKING:
    from lark.common import LexerConf
    from lark.utils import TextSlice

_Match = Callable[[str, int, int], re.Match[str] | None]


@lru_cache(maxsize=512)
def _matcher(pattern: str, flags: int) -> _Match:
    return re.compile(pattern, flags).match


class _OneByOne(Scanner):
    """Tries each pattern in turn; the first that matches is the token."""

    def _build_mres(self, terminals: list[TerminalDef], max_size: int) -> list[re.Pattern[str]]:
        del max_size
        self._each = [
            (_matcher(terminal.pattern.to_regexp(), self.g_regex_flags), terminal.name) for terminal in terminals
        ]
        return []

    def match(self, text: TextSlice[str], pos: int) -> tuple[str, str] | None:
        """The token at `pos`: what it reads and its name."""
        whole, end = text.text, text.end
        for match, name in self._each:
            found = match(whole, pos, end)
            if found is not None:
                return found.group(), name
        return None


class _EachOnce(BasicLexer):
    """A lexer for one set of accepted terminals."""

    def _build_scanner(self) -> Scanner:
        terminals, self.callback = _create_unless(self.terminals, self.g_regex_flags, self.re, self.use_bytes)  # type: ignore[no-untyped-call]
        return _OneByOne(terminals, self.g_regex_flags, self.re, self.use_bytes)  # type: ignore[no-untyped-call]


class OncePerPattern(ContextualLexer):
    """Lark's contextual lexer over such lexers. Lark's checks of the patterns are made by a test, not at every start."""

    BasicLexer = _EachOnce

    def __init__(
        self, conf: LexerConf, states: dict[int, Collection[str]], always_accept: Collection[str] = ()
    ) -> None:
        conf.skip_validation = True
        super().__init__(conf, states, always_accept)


PLUGINS: dict[str, Any] = {"ContextualLexer": OncePerPattern}
