"""A small reader of TextMate grammars: match, begin and end, captures, includes. Enough to see what ours says of a line.

The rules are those of the TextMate manual, chapter "Language Grammars": the first pattern that matches furthest left is taken, the `end` of
an open rule goes before its patterns, a capture may have patterns of its own, and no pattern sees more than one line.
"""

import json
import re
from collections.abc import Iterator
from functools import cache
from pathlib import Path
from typing import Any

Rule = dict[str, Any]


@cache
def compiled(pattern: str) -> re.Pattern[str]:
    return re.compile(pattern)


class Grammar:
    """One grammar file."""

    def __init__(self, path: Path) -> None:
        self.top: Rule = json.loads(path.read_text(encoding="utf-8"))

    def patterns(self, rules: list[Rule]) -> Iterator[Rule]:
        """The rules with every include replaced by what it names."""
        for rule in rules:
            if "include" in rule:
                named = self.top["repository"][rule["include"].removeprefix("#")]
                yield from self.patterns([named])
            elif "match" in rule or "begin" in rule:
                yield rule
            else:
                yield from self.patterns(rule["patterns"])

    def scopes(self, text: str) -> list[list[str]]:
        """For each line the innermost scope of each character, or nothing."""
        opened: list[Rule] = []
        return [self._line(line, opened) for line in text.removesuffix("\n").split("\n")]

    def _line(self, line: str, opened: list[Rule]) -> list[str]:
        scopes = [""] * len(line)
        at = 0
        closed_at = -1
        while at <= len(line):
            rule = opened[-1] if opened else self.top
            end = compiled(rule["end"]).search(line, at) if opened and closed_at != at else None
            found = self._first(rule["patterns"], line, at, len(line))
            if end is not None and (found is None or end.start() <= found[0].start()):
                opened.pop()
                closed_at = at = end.end()
                continue
            if found is None:
                break
            match, inner = found
            self._put(scopes, inner, match)
            if "begin" in inner:
                opened.append(inner)
            at = match.end() if match.end() > at else at + 1
        return scopes

    def _first(self, rules: list[Rule], line: str, at: int, end: int) -> tuple[re.Match[str], Rule] | None:
        best: tuple[re.Match[str], Rule] | None = None
        for rule in self.patterns(rules):
            match = compiled(rule.get("match") or rule["begin"]).search(line[:end], at)
            if match is not None and (best is None or match.start() < best[0].start()):
                best = match, rule
        return best

    def _put(self, scopes: list[str], rule: Rule, match: re.Match[str]) -> None:
        _paint(scopes, match.start(), match.end(), rule.get("name", ""))
        for number, capture in (rule.get("captures") or rule.get("beginCaptures") or {}).items():
            start, end = match.span(int(number))
            _paint(scopes, start, end, capture.get("name", ""))
            while start < end and "patterns" in capture:
                found = self._first(capture["patterns"], match.string, start, end)
                if found is None:
                    break
                self._put(scopes, found[1], found[0])
                start = max(found[0].end(), start + 1)

    def every_pattern(self) -> Iterator[str]:
        """Every pattern in the file."""
        waiting: list[Any] = [self.top]
        while waiting:
            here = waiting.pop()
            if isinstance(here, dict):
                yield from (here[key] for key in ("match", "begin", "end") if key in here)
                waiting += here.values()
            elif isinstance(here, list):
                waiting += here


def _paint(scopes: list[str], start: int, end: int, name: str) -> None:
    if name and start >= 0:
        scopes[start:end] = [name] * (end - start)


def pieces(line: str, scopes: list[str]) -> list[tuple[str, str]]:
    """Runs of one scope in a line, those without any left out."""
    runs: list[tuple[str, str]] = []
    start = 0
    for at in range(1, len(line) + 1):
        if at == len(line) or scopes[at] != scopes[start]:
            if scopes[start]:
                runs.append((line[start:at], scopes[start]))
            start = at
    return runs
