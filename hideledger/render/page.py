"""A sheet as a page to open each morning: one file, nothing fetched and nothing run, readable on a phone and on paper.

What stands in a book is shown, never obeyed: every text is cleaned of control characters and escaped, none of it goes
into an attribute, and a policy in the head (Content Security Policy, W3C) forbids whatever might slip through.
"""

from __future__ import annotations

from collections.abc import Iterator
from html import escape

from hideledger.answers.sheet import Quote, Row, Section, Sheet
from hideledger.render.card import card, quoted
from hideledger.render.width import width_of
from hideledger.text.clean import clean

# Whoever replaces a page looks for this in the one that is there.
MARK = "left by hideledger"
_LONGEST_QUOTE = 320

# Words carry the meaning: what little colour there is only sets the small print back, on a light screen and a dark one.
_STYLE = """
:root { color-scheme: light dark; --small: #595959; --line: #8c8c8c; --paper: #fdfcf8; --ink: #1a1a1a; }
@media (prefers-color-scheme: dark) {
  :root { --small: #b0b0b0; --line: #767676; --paper: #161614; --ink: #ececec; }
}
* { box-sizing: border-box; }
body { margin: 0; padding: 1rem .75rem 2rem; background: var(--paper); color: var(--ink);
  font: 1rem/1.45 Georgia, "Times New Roman", serif; }
main { max-width: 40rem; margin: 0 auto; overflow-wrap: anywhere; }
h1 { font-size: 1.3rem; line-height: 1.25; margin: 0; }
h1 + p { margin: .3rem 0 0; padding-bottom: .6rem; border-bottom: 1px solid var(--line); color: var(--small); }
h2 { font-size: 1.1rem; margin: 1.6rem 0 .5rem; }
.row { margin: 0 0 1rem; }
.close .row { margin-bottom: .25rem; }
.row p, h3 { margin: 0; }
h3 { font-size: 1rem; }
dl { margin: .2rem 0 0; display: grid; grid-template-columns: 2.8rem 1fr; }
dt { color: var(--small); }
dd { margin: 0; }
.line { margin: .3rem 0 0; padding-left: .6rem; border-left: 2px solid var(--line); }
code { font: .875rem/1.5 "DejaVu Sans Mono", Consolas, Menlo, monospace; white-space: pre-wrap; }
mark { background: none; color: inherit; font-weight: bold; text-decoration: underline 2px; text-underline-offset: 3px; }
@media print {
  :root { color-scheme: light; --small: #444; --line: #666; --paper: none; --ink: #000; }
  body { padding: 0; font-size: 11pt; }
  main { max-width: none; }
  .row { break-inside: avoid; }
  h1, h2, h3 { break-after: avoid; }
}
"""


def page(sheet: Sheet, looked: str) -> str:
    """The sheet as a whole HTML page; `looked` says of what and when, so that an old page is known for one."""
    title = _text(sheet.title)
    return "\n".join(
        (
            "<!doctype html>",
            '<html lang="en">',
            "<head>",
            '<meta charset="utf-8">',
            "<meta http-equiv=\"Content-Security-Policy\" content=\"default-src 'none'; style-src 'unsafe-inline'\">",
            '<meta name="viewport" content="width=device-width, initial-scale=1">',
            f"<title>{title}</title>",
            f"<style>{_STYLE}</style>",
            "</head>",
            "<body>",
            "<main>",
            f"<h1>{title}</h1>",
            f"<p>{_text(_stamp(looked))}</p>",
            *(line for section in sheet.sections for line in _section(section)),
            "</main>",
            "</body>",
            "</html>",
            "",
        )
    )


def text_page(sheet: Sheet, looked: str) -> str:
    """The same as plain text, laid out like the card; its second line says of what and when."""
    first, _, rest = card(sheet).partition("\n")
    return f"{first}\n{clean(_stamp(looked))}\n{rest}"


def _stamp(looked: str) -> str:
    return f"{looked}; {MARK}"


def _section(section: Section) -> Iterator[str]:
    yield "<section>" if section.spaced else '<section class="close">'
    yield f"<h2>{_text(section.heading)}</h2>"
    for row in section.rows:
        yield '<div class="row">'
        yield from _row(row, heading="h3" if section.spaced else "p")
        yield "</div>"
    yield "</section>"


def _row(row: Row, heading: str) -> Iterator[str]:
    what = "  ".join(part for part in (row.head, row.text) if part)
    if what:
        yield f'<{heading} class="what">{_text(what)}</{heading}>'
    labelled = False
    for label, text in row.under:
        if bool(label) != labelled:
            yield "<dl>" if label else "</dl>"
            labelled = bool(label)
        yield f"<dt>{_text(label)}</dt><dd>{_text(text)}</dd>" if label else f"<p>{_text(text)}</p>"
    if labelled:
        yield "</dl>"
    if row.quote is not None:
        yield f'<p class="line"><code>{_quote(row.quote)}</code></p>'


def _quote(quote: Quote) -> str:
    """The line of the book as it stands, the word at the place underlined; behind the end of a line, a blank."""
    shown, mark = quoted(quote, indent=0, width=_LONGEST_QUOTE)
    start = _letters(shown, width_of(mark) - 1)
    word = shown[start:].split(" ")[0] or "\N{NO-BREAK SPACE}"
    return f"{escape(shown[:start])}<mark>{escape(word)}</mark>{escape(shown[start + len(word) :])}"


def _letters(text: str, width: int) -> int:
    """How many letters of the text take so many places on a screen."""
    count = 0
    while count < len(text) and width_of(text[: count + 1]) <= width:
        count += 1
    return count


def _text(text: str) -> str:
    return escape(clean(text.replace("\r", "").replace("\n", " ")))
