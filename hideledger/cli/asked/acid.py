"""`acid`: the pH to be expected of a bath, the dose that moves it, the base that answers an acid."""

from __future__ import annotations

from argparse import Namespace

from hideledger.cli.arguments import Parser, WrongUse, add_looks, add_named_book
from hideledger.cli.bath_named import bath_of_book
from hideledger.cli.book_named import book_beside_a_request
from hideledger.cli.giving import QUIET, UNREAD, book_at_hand, give, notices
from hideledger.cli.words import in_words, not_followed

_EXAMPLE = "hideledger acid 20 gal water, 20 lb salt, 60 oz citric acid crystals"
_ABOUT = (
    "what is in it (20 gal water, 20 lb salt, 60 oz citric acid crystals; 85 %% formic acid 200 ml in 20 gal); "
    "or from where to where, with what (20 gal at 2.4 to 2.0 with citric acid crystals; 20 gal at 1.8 to 5.0 with baking soda; "
    "20 gal, 60 oz citric acid crystals at 2.4 to 5.0 with soda ash); "
    "or an acid and what answers it (neutralise 68 oz citric acid crystals with soda ash); "
    "30 lb skins among it are those that lie in it; P1 in place of an amount is that bath of the book (P1, P1 to 2.0 with citric acid crystals)"
)


def arguments(parser: Parser) -> None:
    """What may be said with it."""
    add_looks(parser)
    parser.add_argument("words", nargs="*", metavar="WORDS", help=_ABOUT)
    parser.add_argument("--gallons", choices=("US", "imperial"), help="which gallon; else as the book's shop has it")
    add_named_book(parser, "the book whose supplies say how strong and how heavy an acid is; none is needed")


def answer(wanted: Namespace) -> int:
    """Reckoned, or one sentence why not."""
    from dataclasses import replace

    from hideledger.answers.acid.answer import Shopside, acid
    from hideledger.answers.acid.names import NotReckoned
    from hideledger.reading.asking_acid import acid_asked
    from hideledger.reading.trouble import Unreadable
    from hideledger.rules.never import gas_that_kills, never_with_acid

    books, words = book_beside_a_request(wanted.words, wanted.named_book)
    text = in_words(words, _EXAMPLE)
    if never := never_with_acid(text):
        # first of all, and even where the rest of the request cannot be read
        raise WrongUse(gas_that_kills(never))
    book = book_at_hand(books)
    if book is not None and books:
        notices(book)
    said = wanted.gallons or (book.shop.shop.gallons if book is not None else "")
    side = Shopside(gallons=said or "US")
    if book is not None:
        from datetime import date

        from hideledger.answers.saying import today
        from hideledger.cli.moment import instant_in

        day = date.fromordinal(today(book.clock, instant_in(book, wanted.at)))
        side = Shopside(book=book.shop, gallons=said or "US", day=day)
    bath = None
    try:
        bath = bath_of_book(text, book, wanted, "acid")
        side = side if bath is None else replace(side, in_bath=bath.forms)
        sheet = acid(acid_asked(text if bath is None else bath.text, gallons=said), side)
    except Unreadable as trouble:
        raise not_followed(text, trouble, bath) from None
    except NotReckoned as why:
        raise WrongUse(str(why)) from None
    give(sheet if bath is None else bath.beside(sheet), wanted)
    return UNREAD if (books or bath is not None) and book is not None and book.unread else QUIET
