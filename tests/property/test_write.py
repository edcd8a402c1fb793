"""Laws of `write`, tried on made-up pages and lines: nothing that stood there changes, and no more comes than was asked for."""

from __future__ import annotations

import tempfile
from pathlib import Path

from hypothesis import given, settings
from hypothesis import strategies as st

from hideledger.cli import main
from hideledger.model.book import Book
from hideledger.reading import read_book
from tests.unit.small_book import SHOP

AT = "2026-11-12 10:05"
STAMPS = [
    "",
    "7:45 ",
    "2026-11-11 ",
    "2026-11-11 23:50 ",
    "  0:20 ",
    "3 Nov 8:00 ",
    "noon ",
    "morning ",
    "19:40 ",
    "11/3 ",
    "20261103 ",
]
SAYINGS = [
    "H1 fleshed", "H1 H2 pickle in P1", "P1 pH 2.1 strip, 64 F", "all in P1 drained", "remark buy salt", "H1 neutralisd",
    "P1 pH 21", "H3 in, whitetail cape,\n  green, tag 7\n  -- wet", "bought 50 lb salt, $12", "freezer -4 F", "H1 — soft",
    "H1 salt - wet", "41 fleshed", "# a note", "struck H1 in", "",
]  # fmt: skip
ENDS = ["", "\n", ",\n", "\r\n", "\n\n", "\nH2 in,", "\n# wet", "\nprocess late\n  in"]
lines = st.builds(
    lambda stamp, said: said if said[:1] in ("", "#", "s") else stamp + said,
    st.sampled_from(STAMPS),
    st.sampled_from(SAYINGS),
)
pages = st.builds(
    lambda mark, old, end: mark + "\n".join(f"2026-11-0{1 + number} {said}" for number, said in enumerate(old)) + end,
    st.sampled_from(["", "\ufeff"]),
    st.lists(st.sampled_from(SAYINGS[:6]), min_size=1, max_size=4),
    st.sampled_from(ENDS),
)


def entries(book: Book) -> list[tuple[str, int, int, object]]:
    """Each entry with its text, its time and its facts."""
    return [(entry.text, entry.when.lo, entry.when.hi, entry.facts) for entry in book.entries]


def unread(book: Book) -> list[str]:
    return [f"{complaint.place}: {complaint.message}" for complaint in book.unread]


@settings(max_examples=40)
@given(page=pages, block=st.lists(lines, min_size=1, max_size=4), keep=st.booleans())
def test_what_stood_there_stands_and_only_the_new_comes(page: str, block: list[str], keep: bool) -> None:
    with tempfile.TemporaryDirectory() as folder:
        (Path(folder) / "shop.hides").write_text(SHOP, encoding="utf-8")
        path = Path(folder) / "november.hides"
        path.write_bytes(page.encode())
        before, old = read_book([folder]), path.read_bytes()
        text = "\n".join(block)
        asked = ["write", "--book", folder, "--file", str(path), "--at", AT, text]
        tried = main([*asked, "--try", *(["--keep"] if keep else [])])
        assert path.read_bytes() == old
        code = main([*asked, *(["--keep"] if keep else [])])
        assert code == tried
        new, after = path.read_bytes(), read_book([folder])
        if code == 2 or (code == 3 and new == old):
            assert new == old
            return
        assert new.startswith(old)
        assert entries(after)[: len(before.entries)] == entries(before)
        assert unread(after)[: len(before.unread)] == unread(before)
        come, wrong = len(after.entries) - len(before.entries), len(after.unread) - len(before.unread)
        assert (wrong > 0) == (code == 3)
        assert keep or not wrong
        said = sum(bool(line.strip()) and not line.strip().startswith(("#", "struck")) for line in block)
        assert come + wrong == said
        # the newline style of the page is kept, and no line stands half
        assert new.endswith(b"\r\n" if page.count("\r\n") > page.replace("\r\n", "").count("\n") else b"\n")
