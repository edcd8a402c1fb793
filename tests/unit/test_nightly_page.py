"""The page that `check --page` leaves: whole, harmless, and the same words as on the screen."""

from __future__ import annotations

import os
import re
from html.parser import HTMLParser
from pathlib import Path

import pytest

from hideledger.answers.sheet import Quote, Row, Section, Sheet
from hideledger.cli import main
from hideledger.render.card import card
from hideledger.render.page import page, text_page
from tests.unit.small_book import AT, QUIET, SHOP, UNREAD, write_book

Captured = pytest.CaptureFixture[str]
# elements without an end tag (HTML Living Standard, section 13.1.2, void elements)
VOID = {"meta", "br", "hr", "img", "link", "input"}
NASTY = "</title></style></p><script>alert(1)</script><img src=x onerror='a()'> \"&amp;\x1b[31m\u202e\x00\x9b\ud800 [/x]\r\nnext"
LOOKED = f"Alder Fork {NASTY}, looked at Thu 2026-11-05 17:50"


class Read(HTMLParser):
    """What the standard library's reader makes of a page: its elements, attributes and text; badly nested fails."""

    def __init__(self, text: str) -> None:
        super().__init__(convert_charrefs=True)
        self.open: list[str] = []
        self.elements: list[str] = []
        self.attributes: list[tuple[str, str, str | None]] = []
        self.text: list[tuple[str, str]] = []
        self.feed(text)
        self.close()
        assert self.open == []

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.elements.append(tag)
        self.attributes += [(tag, name, value) for name, value in attrs]
        if tag not in VOID:
            self.open.append(tag)

    def handle_endtag(self, tag: str) -> None:
        assert self.open.pop() == tag

    def handle_data(self, data: str) -> None:
        if data.strip():
            self.text.append((self.open[-1] if self.open else "", data))

    def said(self, tag: str) -> list[str]:
        return [text for where, text in self.text if where == tag]


def nasty() -> Sheet:
    row = Row(
        head=NASTY,
        text=NASTY,
        under=(("", NASTY), ("do", NASTY), (NASTY, NASTY), ("", NASTY), ("from", NASTY)),
        quote=Quote(text=NASTY, column=12),
    )
    sections = [Section(heading=NASTY, rows=(row, row), spaced=spaced) for spaced in (True, False)]
    return Sheet(title=NASTY, sections=tuple(sections))


def test_what_a_book_says_is_shown_and_never_obeyed() -> None:
    read = Read(page(nasty(), LOOKED))
    assert not {"script", "img", "link", "iframe", "base", "form", "a"} & set(read.elements)
    assert {(tag, name) for tag, name, _ in read.attributes} == {
        ("html", "lang"),
        ("meta", "charset"),
        ("meta", "http-equiv"),
        ("meta", "content"),
        ("meta", "name"),
        ("section", "class"),
        ("div", "class"),
        ("p", "class"),
        ("h3", "class"),
    }
    assert {value for _, name, value in read.attributes if name == "class"} == {"row", "what", "close", "line"}
    (title,) = read.said("title")
    assert title.startswith(
        "</title></style></p><script>alert(1)</script><img src=x onerror='a()'> \"&amp;\\x1b[31m\\u202e"
    )
    assert title in read.said("h1")


def test_no_control_character_reaches_the_page() -> None:
    for text in (page(nasty(), LOOKED), text_page(nasty(), LOOKED)):
        assert not re.search("[\x00-\x08\x0b-\x1f\x7f-\x9f\u202a-\u202e\u2066-\u2069\ud800-\udfff]", text)
        text.encode("utf-8")


def test_nothing_is_fetched_and_nothing_runs() -> None:
    """Content Security Policy (W3C): `default-src 'none'` lets a page load and run nothing but what is named after it."""
    text = page(nasty(), LOOKED)
    read = Read(text)
    policy = {name: value for tag, name, value in read.attributes if tag == "meta" and value and "src" in value}
    assert policy == {"content": "default-src 'none'; style-src 'unsafe-inline'"}
    style = "".join(read.said("style"))
    assert "url(" not in style
    assert "@import" not in style
    assert ("html", "lang", "en") in read.attributes
    assert ("meta", "charset", "utf-8") in read.attributes
    assert "color-scheme: light dark" in style
    assert "@page" not in style, "letter or A4 is the printer's matter"


def test_the_place_in_a_line_is_marked_by_its_word() -> None:
    def marked(text: str, column: int) -> list[str]:
        quote = Quote(text=text, column=column)
        return Read(page(Sheet(title="t", sections=(Section(heading="h", rows=(Row(quote=quote),)),)), "x")).said(
            "mark"
        )

    assert marked("17:05 H2 fleshd, salt", 10) == ["fleshd,"]
    assert marked("17:05 H2 中文 fleshd <b>", 13) == ["fleshd"]
    assert marked("17:05 H2 e\u0301e\u0301 <b>", 15) == ["<b>"]
    assert marked("17:05 H2\tfleshd", 10) == ["fleshd"]
    assert marked("x " * 5000 + "fleshd " + "y" * 5000, 10_001) == ["fleshd"]
    # the end of a line that stops short: a blank to underline
    assert (
        Read(
            page(
                Sheet(title="t", sections=(Section(heading="h", rows=(Row(quote=Quote(text="17:05 H2", column=9)),)),)),
                "x",
            )
        ).open
        == []
    )


def test_every_word_of_the_card_stands_on_the_page(tmp_path: Path, capsys: Captured) -> None:
    book = write_book(tmp_path / "book", UNREAD, SHOP.replace("Alder Fork", "Alder & Fork"))
    for name in ("a.html", "b.HTM", "c.txt"):
        assert main(["check", book, "--at", AT, "--page", str(tmp_path / name)]) == 3
    out = capsys.readouterr().out
    shown = out[: len(out) // 3]
    html = (tmp_path / "a.html").read_text(encoding="utf-8")
    assert html == (tmp_path / "b.HTM").read_text(encoding="utf-8")
    read = Read(html)
    words = " ".join(text for where, text in read.text if where != "style").split()
    assert [word for word in shown.split() if word not in words and word != "^"] == []
    assert read.said("h2") == ["Now", "Not understood"]
    assert read.said("h3") == ["overdue: H1"]
    assert read.said("mark") == ["neutralized-ish"]
    first, second, *rest = (tmp_path / "c.txt").read_text(encoding="utf-8").split("\n")
    assert second == "Alder & Fork, looked at Thu 2026-11-05 17:50; left by hideledger"
    assert "\n".join([first, *rest]) == shown
    assert read.said("title") == [first] == read.said("h1")
    assert second in read.said("p")


def test_the_page_is_left_on_a_quiet_night_too_and_says_when(tmp_path: Path, capsys: Captured) -> None:
    book = write_book(tmp_path / "book", QUIET)
    left = tmp_path / "morning.html"
    assert main(["check", book, "--at", AT, "--quiet", "--page", str(left)]) == 0
    assert capsys.readouterr() == ("", "")
    text = left.read_text(encoding="utf-8")
    assert "all quiet, 2 skins" in text
    assert "Alder Fork, looked at Thu 2026-11-05 17:50; left by hideledger" in text
    main(["check", book, "--at", "2026-11-06 05:00", "--page", str(left)])
    assert "looked at Fri 2026-11-06 05:00" in left.read_text(encoding="utf-8")
    assert [path.name for path in tmp_path.iterdir()] != []
    assert sorted(path.name for path in tmp_path.iterdir()) == ["book", "morning.html"], "nothing else is left behind"


def test_the_page_tells_everything_whatever_was_told_before(tmp_path: Path, capsys: Captured) -> None:
    book = write_book(
        tmp_path / "book",
        QUIET.replace("P1 pH 2.0 strip, 62 F", "P1 pH 3.4 strip, 62 F") + "2026-11-05 17:45 H77 drained\n",
    )
    for night in ("1.txt", "2.txt"):
        main(
            ["check", book, "--at", AT, "--page", str(tmp_path / night), "--already-told", str(tmp_path / "told.json")]
        )
    assert (tmp_path / "1.txt").read_bytes() == (tmp_path / "2.txt").read_bytes()
    assert "unknown tag: H77\n" in (tmp_path / "2.txt").read_text(encoding="utf-8")
    assert "1 still rings" in capsys.readouterr().out


@pytest.mark.parametrize(
    ("name", "said"),
    [
        ("new.hides", "a file that ends in .hides is a page of a book, and is never written over"),
        ("new.HIDES", "a file that ends in .hides is a page of a book, and is never written over"),
        ("book", "that is a folder; give the name of a file in it"),
        ("none/", "that is a folder; give the name of a file in it"),
        ("page.pdf", "does the page end in .html (or .htm), or as plain text in .txt?"),
        ("page", "does the page end in .html (or .htm), or as plain text in .txt?"),
        ("notes.txt", "there is such a file already, and no check left it; name another, or take it away"),
        ("third.txt", "that is a page of this book, and is never written over"),
        ("link.txt", "a file that ends in .hides is a page of a book, and is never written over"),
    ],
)
def test_what_is_no_page_of_ours_is_never_written_over(name: str, said: str, tmp_path: Path, capsys: Captured) -> None:
    book = write_book(tmp_path / "book", QUIET)
    (tmp_path / "notes.txt").write_text("call Oren\n", encoding="utf-8")
    (tmp_path / "third.txt").write_text("2026-11-05 17:45 P1 stirred\n", encoding="utf-8")
    if name == "link.txt":
        if os.name != "posix":
            pytest.skip("links of a Unix system")
        (tmp_path / name).symlink_to(tmp_path / "book" / "november.hides")
    before = {path: path.read_bytes() for path in tmp_path.rglob("*") if path.is_file()}
    asked = f"{tmp_path}/{name}"
    assert main(["check", book, str(tmp_path / "third.txt"), "--at", AT, "--page", asked]) == 2
    out, err = capsys.readouterr()
    assert (out, err) == ("", f"hideledger: --page {asked}: {said}\n")
    assert {path: path.read_bytes() for path in tmp_path.rglob("*") if path.is_file()} == before


@pytest.mark.parametrize("page_of", [QUIET, UNREAD])
def test_a_page_that_cannot_be_written_is_told_and_the_answer_given(
    page_of: str, tmp_path: Path, capsys: Captured
) -> None:
    """2 outranks 3: whoever takes 1 and 3 for answers must learn that the page is an old one."""
    book = write_book(tmp_path / "book", page_of)
    main(["check", book, "--at", AT])
    answer = capsys.readouterr().out
    asked = str(tmp_path / "no such folder" / "page.html")
    assert main(["check", book, "--at", AT, "--page", asked]) == 2
    out, err = capsys.readouterr()
    assert out == answer
    assert err == f"hideledger: {asked}: the folder that it lies in is not there; nothing was written\n"


def test_a_page_of_any_answer_can_be_made() -> None:
    """The window decides nothing: whatever sheet comes is laid out."""
    sheet = Sheet(
        title="t", sections=(Section(heading="Tubs", rows=(Row(head="P1", text="in V1"),), whole_lines=True),)
    )
    assert "P1  in V1" in Read(page(sheet, "x")).said("p")
    assert card(sheet).split("\n")[0] == "t"


def test_several_pages_are_left_in_one_run(tmp_path: Path, capsys: Captured) -> None:
    book = write_book(tmp_path, QUIET)
    shown, plain = tmp_path / "morning.html", tmp_path / "morning.txt"
    main(["check", str(book), "--at", AT, "--page", str(shown), "--page", str(plain)])
    capsys.readouterr()
    assert shown.read_text(encoding="utf-8").startswith("<!")
    assert "Alder Fork" in plain.read_text(encoding="utf-8")


def test_where_one_of_several_pages_is_refused_none_is_left(tmp_path: Path, capsys: Captured) -> None:
    book = write_book(tmp_path, QUIET)
    assert (
        main(["check", str(book), "--at", AT, "--page", str(tmp_path / "a.html"), "--page", str(tmp_path / "b.pdf")])
        == 2
    )
    assert "b.pdf" in capsys.readouterr().err
    assert not (tmp_path / "a.html").exists()
