"""Reads a tanning shop's plain-text book and says what needs a hand, and what the book cannot vouch for."""

__version__ = "0.1.0"
