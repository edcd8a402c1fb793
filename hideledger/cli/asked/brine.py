"""`brine`: strengths from one scale to the others, what to weigh in, what it makes."""

from __future__ import annotations

from argparse import Namespace

from hideledger.cli.arguments import Parser, WrongUse, add_looks, add_named_book
from hideledger.cli.bath_named import bath_of_book
from hideledger.cli.book_named import book_beside_a_request
from hideledger.cli.giving import QUIET, UNREAD, book_at_hand, give
from hideledger.cli.words import in_words, not_followed

_EXAMPLE = "hideledger brine 40 sal, hideledger brine 20 gal from 36 to 46 sal"
_ABOUT = (
    "a strength (40 sal, 10.7 %%, 10.4 Be, SG 1.08, 1 lb per gal, 120 g per L brine), perhaps with the temperature it was read at (46 sal at 72 F); "
    "what a bath is made of (20 gal water, 20 lb salt; also lb of wet skins, oz of citric acid); "
    "or what it is to become (20 gal from 36 to 46 sal, 20 gal water to 40 sal, 20 gal from 36 to 46 sal, 30 lb skins); "
    "P1 in place of an amount is that bath of the book (P1, P1 to 46 sal)"
)


def arguments(parser: Parser) -> None:
    """What may be said with it."""
    add_looks(parser)
    parser.add_argument("words", nargs="*", metavar="WORDS", help=_ABOUT)
    parser.add_argument("--gallons", choices=("US", "imperial"), help="which gallon; else as the book's shop has it")
    parser.add_argument(
        "--instrument",
        default="60 F",
        metavar="MADE_FOR",
        help='what the hydrometer is made for: 60 F unless said, 20C, or "60 F, 100 at 25 %%" for a salometer whose 100 is not saturated',
    )
    add_named_book(parser, "the book whose shop says which units come first; none is needed")


def answer(wanted: Namespace) -> int:
    """The sheet, or why the request cannot be followed."""
    from hideledger.answers.acid.names import NotReckoned
    from hideledger.answers.amounts import is_metric
    from hideledger.answers.brine.answer import brine_sheet
    from hideledger.answers.brine.strength import instrument_of
    from hideledger.answers.brine.words import Units
    from hideledger.reading.trouble import Unreadable

    books, words = book_beside_a_request(wanted.words, wanted.named_book)
    text = in_words(words, _EXAMPLE)
    book = book_at_hand(books)
    shop = None if book is None else book.shop.shop
    gallons = wanted.gallons or ("" if shop is None else shop.gallons)
    units = Units(gallons=gallons, metric=shop is not None and not wanted.gallons and is_metric(shop))
    degrees = "" if shop is None else shop.degrees
    reading, bath = wanted.instrument, None
    try:
        instrument = instrument_of(reading, degrees=degrees)
        bath = bath_of_book(text, book, wanted, "brine")
        reading = text
        sheet = brine_sheet(text if bath is None else bath.text, instrument, units, degrees=degrees)
        if bath is not None:
            other = bath.without_acid and brine_sheet(bath.without_acid, instrument, units, degrees=degrees)
            sheet = bath.beside(sheet, other or None)
    except Unreadable as trouble:
        raise not_followed(reading, trouble, bath) from None
    except NotReckoned as why:
        raise WrongUse(str(why)) from None
    give(sheet, wanted)
    return UNREAD if bath is not None and book is not None and book.unread else QUIET
