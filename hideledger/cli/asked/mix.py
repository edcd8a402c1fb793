"""`mix`: a recipe of the shop at the size wanted, what it will be, and the line to write."""

from __future__ import annotations

from argparse import Namespace

from hideledger.cli.arguments import Parser, WrongUse, add_looks, add_named_book
from hideledger.cli.book_named import book_beside_a_request
from hideledger.cli.giving import QUIET, UNREAD, give, laid_out, notices
from hideledger.cli.words import in_words, not_followed

_EXAMPLE = "hideledger mix pickle 20 gal for H41 H44 in V1"
_ABOUT = (
    "a recipe of the shop, and how much of it: 20 gal (water or finished liquor, as the recipe goes by), for H41 H44 thru H47, "
    "for all in P3, 30 lb drained, for 5 hides, for 4 capes, in V1"
)


def arguments(parser: Parser) -> None:
    """What may be said with it."""
    add_looks(parser)
    parser.add_argument("words", nargs="*", metavar="WORDS", help=_ABOUT)
    parser.add_argument(
        "--gal", metavar="NUMBER", help="gallons of water, or of finished liquor, as the recipe goes by"
    )
    parser.add_argument("--litres", metavar="NUMBER", help="the same in litres")
    parser.add_argument("--hides", metavar="TAG", help="for which hides, as in H41,H44")
    parser.add_argument("--weight", metavar="WEIGHT", help='what the skins weigh, as in "30 lb" or "30 lb drained"')
    parser.add_argument("--in", metavar="TAG", dest="vessel", help="which vessel, to see whether it holds it")
    add_named_book(parser)


def answer(wanted: Namespace) -> int:
    """Reckoned, or one sentence why not."""
    from datetime import date

    from hideledger.answers.acid.names import NotReckoned
    from hideledger.answers.mix.answer import mix
    from hideledger.answers.saying import today
    from hideledger.reading.asking_mix import mix_asked
    from hideledger.reading.trouble import Unreadable

    books, words = book_beside_a_request(wanted.words, wanted.named_book)
    text = in_words(_asked(wanted, words), _EXAMPLE)
    floor = laid_out(wanted, books)
    notices(floor.book)
    day = date.fromordinal(today(floor.book.clock, floor.at))
    try:
        sheet = mix(mix_asked(text, gallons=floor.book.shop.shop.gallons), floor, day)
    except Unreadable as trouble:
        raise not_followed(text, trouble) from None
    except NotReckoned as why:
        raise WrongUse(str(why)) from None
    give(sheet, wanted)
    return UNREAD if floor.book.unread else QUIET


def _asked(wanted: Namespace, words: list[str]) -> list[str]:
    """The request as one row of words: what the options say is put behind it, as one would type it."""
    row = list(words)
    for option, before, behind in (
        (wanted.gal, "", " gal"),
        (wanted.litres, "", " L"),
        (wanted.hides, "for ", ""),
        (wanted.weight, "", ""),
        (wanted.vessel, "in ", ""),
    ):
        if option is not None:
            has_unit = any(sign.isalpha() for sign in option)
            row.append(f"{before}{option}{behind if not has_unit else ''}")
    return row
