"""The names of all findings, each once, in the order in which the rules are asked."""

from __future__ import annotations

from hideledger.rules.all_rules import ALL_RULES

NAMES: tuple[str, ...] = tuple(dict.fromkeys(rule.name for rule in ALL_RULES))
