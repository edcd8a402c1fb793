"""The desk on which one piece of a line is understood: its phrases, how far one has read, and what has been made of it."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from lark import Token

from hideledger.model.facts import Fact
from hideledger.model.shop import ShopBook
from hideledger.reading.trouble import Unreadable
from hideledger.reading.words import Vocabulary

# Rules of one token each: what it is says the token.
_BY_THEIR_TOKEN = ("act", "small")


class Phrase:
    """One phrase of a piece: what the grammar calls it, its tokens, and where it stands in the piece. A word is a phrase of its own."""

    __slots__ = ("end", "kind", "start", "tokens")

    def __init__(self, kind: str, tokens: Sequence[Token]) -> None:
        self.tokens = tuple(tokens)
        self.kind = self.tokens[0].type.lower() if kind in _BY_THEIR_TOKEN else kind
        self.start = self.tokens[0].start_pos or 0
        self.end = self.tokens[-1].end_pos or 0

    @property
    def word(self) -> str:
        """Its first token in small letters, blanks between words made one."""
        return " ".join(self.tokens[0].casefold().split())


class Desk:
    """A piece being understood.

    `mode` says what the pieces before it have made of the line (`arrival`, `step`, `dose` …) and changes as this one is read;
    `who` is whether the line names somebody; `tags` are those named inside the piece, where the step stands first.
    """

    __slots__ = (
        "after_name",
        "at",
        "facts",
        "first",
        "mode",
        "phrases",
        "place",
        "shop",
        "tags",
        "text",
        "who",
        "words",
    )

    def __init__(
        self,
        *,
        text: str,
        phrases: Sequence[Phrase],
        mode: str,
        first: bool,
        who: bool,
        words: Vocabulary,
        shop: ShopBook,
    ) -> None:
        self.text = text
        self.phrases = phrases
        self.at = 0
        # `for Smith, John`: what follows a name is perhaps still the name.
        self.after_name = mode == "arrival name"
        self.mode = "arrival" if self.after_name else mode
        self.first = first
        self.who = who
        self.words = words
        self.shop = shop
        self.facts: list[Fact] = []
        self.tags: tuple[str, ...] = ()
        self.place = ""

    @property
    def after_step(self) -> bool:
        """Whether the line has come to a step that says nothing yet of its time."""
        return self.mode in ("step", "step supply", "bath step")

    # --- looking ahead ---------------------------------------------------------------------------------------------------

    def peek(self, ahead: int = 0) -> Phrase | None:
        """The phrase `ahead` of the next one, without taking it."""
        index = self.at + ahead
        return self.phrases[index] if index < len(self.phrases) else None

    def next_is(self, *kinds: str) -> bool:
        """Whether the next phrase is of one of these kinds."""
        phrase = self.peek()
        return phrase is not None and phrase.kind in kinds

    def take(self) -> Phrase:
        """The next phrase, taken."""
        phrase = self.phrases[self.at]
        self.at += 1
        return phrase

    def word_run(self) -> list[str]:
        """The words that stand next, in small letters."""
        run: list[str] = []
        for phrase in self.phrases[self.at :]:
            if phrase.kind != "word":
                break
            run.append(phrase.word.replace("’", "'"))
        return run

    def look(self, *sorts: str) -> tuple[str, str, int] | None:
        """The name that stands next, if it is of one of these sorts: sort, name, words."""
        return self.words.match(self.word_run(), sorts)

    def name(self, *sorts: str) -> tuple[str, str] | None:
        """The name that stands next, taken: its sort and the shop's own name."""
        found = self.look(*sorts)
        if found is None:
            return None
        self.at += found[2]
        return found[0], found[1]

    def skip_word(self, *words: str) -> bool:
        """Takes the next word if it is one of these."""
        phrase = self.peek()
        if phrase is not None and phrase.kind == "word" and phrase.word in words:
            self.at += 1
            return True
        return False

    def unknown_run(self, *sorts: str) -> tuple[str, int, int]:
        """Takes words up to one that begins a name of these sorts: the text as written, its start and end."""
        first = self.take()
        end = first.end
        while self.next_is("word") and self.look(*sorts) is None:
            end = self.take().end
        return self.text[first.start : end], first.start, end

    def rest_of_words(self) -> str:
        """Takes all words that stand next: the text as written."""
        start: int | None = None
        end = 0
        while self.next_is("word"):
            phrase = self.take()
            start = phrase.start if start is None else start
            end = phrase.end
        return "" if start is None else self.text[start:end]

    # --- speaking --------------------------------------------------------------------------------------------------------

    def say(self, fact: Fact) -> None:
        """Puts down a fact."""
        self.facts.append(fact)

    def refuse(self, code: str, message: str, phrase: Phrase | None = None, end: int | None = None) -> Unreadable:
        """The trouble at a phrase (the next one unless given; the end of the piece when there is none)."""
        found = phrase if phrase is not None else self.peek()
        if found is None:
            return Unreadable(code, message, len(self.text.rstrip()), end)
        return Unreadable(code, message, found.start, found.end if end is None else end)

    def nearest(self, written: str, sorts: Iterable[str], *, also: Iterable[str] = ()) -> str:
        """`; did you mean …?`, or nothing."""
        hint = self.words.hint(written, *sorts, also=also)
        return f"; did you mean `{hint}`?" if hint else ""


def canonical_tag(written: str) -> str:
    """A tag as the book knows it: capitals in front, a small letter behind (`H41a`)."""
    stem = written.upper()
    if len(stem) > 1 and stem[-1].isalpha() and stem[-2].isdigit():
        return stem[:-1] + stem[-1].lower()
    return stem
