"""A line that cannot be read is answered with what belongs there, what stands there, and the nearest thing that would be right."""

from __future__ import annotations

import re

from lark import Token, Tree
from lark.exceptions import UnexpectedCharacters, UnexpectedToken

from hideledger.model.units import SPELLINGS
from hideledger.reading.define_clauses import CLAUSES, OPENINGS, TERMINAL_WORDS, misspelt_clause, place_of, word
from hideledger.reading.trouble import Unreadable, unseen
from hideledger.text.nearest import nearest

_CLAUSE_TERMINALS = {"ZONE", "OWN", "VALUED", "REACH", "NAMED", "FLAG"}
_TAKES_A_VALUE = {"VALUED", "LIMIT", "REACH", "NAMED", "OF", "TO", "PER", "SINCE", "AND", "OR", "AT", "MONEY"}
_SIDE_WORDS = {"_COMMA", "$END", "OR", "AND", "AGAIN", "SINCE", "BASIS", "PER"}
_PRICED = {"supply", "charge", "sent out", "shop"}
_PIECE = re.compile("[^ \t\u00a0\u202f\n,]+")
_NAME_WORDS = "WORD"


def clause_sort(sort: str, tokens: list[Token]) -> str:
    """`step` or `rest` for a line of a process that says so, else the sort itself."""
    if sort != "process":
        return sort
    if any(token.type == "HEAD" for token in tokens):
        return sort
    return "rest" if any(token.type == "MAY_REST" for token in tokens) else "step"


def trouble_of(
    unexpected: UnexpectedCharacters | UnexpectedToken, text: str, sort: str, *, stamped: bool = False
) -> tuple[Unreadable, Tree[Token] | None]:
    """What to say about a line that the grammar does not take, and what the line is about as far as that can be made out.

    `stamped` says that the line begins with a date or a time.
    """
    at_end = isinstance(unexpected, UnexpectedToken) and unexpected.token.type == "$END"
    at: int | None = getattr(unexpected, "pos_in_stream", None)  # lark does not say that it is one
    start = len(text) if at_end or at is None else at
    while start < len(text) and text[start] in " \t\u00a0\u202f\n":
        start += 1
    parser = unexpected.interactive_parser
    tokens = _flat(parser.parser_state.value_stack)
    accepted = {str(name) for name in parser.accepts()}  # type: ignore[no-untyped-call]
    if sort not in _PRICED:
        accepted.discard("MONEY")
    sort = clause_sort(sort, tokens)
    return _worded(text, start, sort, tokens, accepted, stamped=stamped), _begun(
        parser.parser_state.value_stack, tokens, sort
    )


def _worded(text: str, start: int, sort: str, tokens: list[Token], accepted: set[str], *, stamped: bool) -> Unreadable:
    found = _PIECE.match(text, start)
    piece = found.group() if found else text[start : start + 1]
    end = start + max(1, len(piece))
    if (mark := unseen(text, start, len(text))) is not None:  # never right in a definition, wherever it stands
        return mark
    shown = piece if len(piece) <= 40 else piece[:40] + "…"
    last = tokens[-1] if tokens else None
    if stamped:
        message = "an entry inside a definition; write it at the margin, below a blank line"
        return Unreadable("entry inside", message, 0, len(text))
    if piece.startswith(("--", "—", "(", "[")):
        return Unreadable(
            "remark", f"`{shown}`: a definition has no remarks; a note stands behind `#` and a blank", start, end
        )
    swallowed = _swallowed_before(text, start, end, tokens, sort)
    if swallowed is not None:
        return swallowed
    if (
        "WORD" in accepted
        and any(mark.isdigit() for mark in piece)
        and (last is None or last.type in {"WORD", "OR", "HEAD", "OF", "NAMED"})
    ):
        return Unreadable("name", f"`{shown}`: a name has no figures in it", start, end)
    if last is not None and last.type == "NUMBER" and _names_end(tokens[:-1]):
        return Unreadable("name", f"`{last}`: a name has no figures in it", *place_of(last))
    wanted = expected(accepted, sort, last, tokens)
    if start >= len(text):
        if last is not None and last.type == "NUMBER" and "UNIT" in accepted:
            return Unreadable("unit", f"`{last}`: a unit is missing, such as lb, gal, h or F", *place_of(last))
        end_column = len(text) - 1 if text else 0
        return Unreadable("unfinished", f"the line stops short; {wanted} belongs behind it", end_column, end_column + 1)
    if "UNIT" in accepted and last is not None and last.type == "NUMBER":
        near = nearest(piece, SPELLINGS)
        if near is not None:
            return Unreadable("unit", f"`{shown}` is no unit; did you mean `{near}`?", start, end)
    hint = hint_for(text[start:], accepted, sort)
    if hint is not None:
        near, length = hint
        return Unreadable(
            "word",
            f"{wanted} belongs here; `{text[start : start + length]}` stands here; did you mean `{near}`?",
            start,
            start + length,
        )
    return Unreadable("expected", f"{wanted} belongs here; `{shown}` stands here", start, end)


def expected(accepted: set[str], sort: str, last: Token | None, tokens: list[Token]) -> str:
    """What could stand there, in words, the likeliest first."""
    before = "" if last is None else last.type
    if before == "NUMBER" and "UNIT" in accepted:
        return TERMINAL_WORDS["UNIT"]
    reaches = [word(token) for token in tokens if token.type == "REACH"]
    if "OF" in accepted and reaches:
        return "`of` and a step" if reaches[-1] == "within" else "`of skin`"
    phrases = []
    clauses = CLAUSES.get(sort, ())
    if accepted & _CLAUSE_TERMINALS and clauses and before not in _TAKES_A_VALUE:
        first = "RAW" in accepted and sort == "step"
        words = (*OPENINGS["step"], *clauses) if first else clauses
        phrases.append(f"{', '.join(f'`{each}`' for each in words[:6])}{' …' if len(words) > 6 else ''}")
        if first:
            phrases.insert(0, "the name of a step")
    main = [name for name in TERMINAL_WORDS if name in accepted and name not in _SIDE_WORDS and TERMINAL_WORDS[name]]
    side = [name for name in TERMINAL_WORDS if name in accepted and name in _SIDE_WORDS]
    if not phrases:
        phrases = list(dict.fromkeys(TERMINAL_WORDS[name] for name in (main or side)[:4]))
    if not phrases:
        return "something else"
    return phrases[0] if len(phrases) == 1 else f"{', '.join(phrases[:-1])} or {phrases[-1]}"


def hint_for(rest: str, accepted: set[str], sort: str) -> tuple[str, int] | None:
    """The clause or word nearest to the first words of `rest`, and how many characters of it are meant."""
    known: list[str] = []
    if accepted & _CLAUSE_TERMINALS or "_COMMA" in accepted:
        known += [*CLAUSES.get(sort, ()), *OPENINGS.get(sort, ())]
    for name, words in {
        "LIMIT": ("at least", "at most"),
        "BASIS": ("at mixing", "with skins in"),
        "MAY_REST": ("may rest",),
    }.items():
        if name in accepted:
            known += words
    if "CONTACT" in accepted:
        known += CLAUSES["customer"]
    for name in ("OF", "PER", "TO", "SINCE", "AGAIN"):
        if name in accepted:
            known.append(name.casefold())
    pieces = list(_PIECE.finditer(rest))[:3]
    for count in (3, 2, 1):
        if count > len(pieces):
            continue
        words_found = " ".join(piece.group() for piece in pieces[:count])
        near = nearest(words_found, (word for word in known if word.count(" ") == count - 1))
        if near is not None:
            return near, pieces[count - 1].end() - pieces[0].start()
    return None


def _swallowed_before(text: str, start: int, end: int, tokens: list[Token], sort: str) -> Unreadable | None:
    """`kind elk cape cuonts 3`: the mark belongs under the word before the figure."""
    run: list[Token] = []
    for token in reversed(tokens):
        if token.type != _NAME_WORDS:
            break
        run.insert(0, token)
    if not run:
        return None
    # `raw clok stops`: the last words are not in the stack yet
    reserved_tail = [
        Token("WORD", piece.group(), start_pos=piece.start()) for piece in list(_PIECE.finditer(text, start))[:2]
    ]
    before = tokens[-len(run) - 1].type if len(tokens) > len(run) else ""
    whole = before in {"UNIT", "NUMBER", "FLAG", "TAG", "_COMMA"}
    for words in ([*run, *reserved_tail], [*run, *reserved_tail[:1]], run):
        found = misspelt_clause(words, sort, whole=whole)
        if found is not None and found.start <= end:
            return found
    return None


def _names_end(tokens: list[Token]) -> bool:
    return bool(tokens) and all(token.type in {"WORD", "OR", "HEAD"} for token in tokens) and tokens[-1].type == "WORD"


def _flat(stack: list[object]) -> list[Token]:
    found: list[Token] = []
    for item in stack:
        if isinstance(item, Token):
            found.append(item)
        elif isinstance(item, Tree):
            found += _flat(item.children)
        elif isinstance(item, list):
            found += _flat(item)
    return found


def _begun(stack: list[object], tokens: list[Token], sort: str) -> Tree[Token] | None:
    """What a line that was not read to its end is about: its name or tag and nothing else. None when even that cannot be made out."""
    head = tokens[:1] if tokens and tokens[0].type == "HEAD" else []
    rest = tokens[len(head) :]
    if head and rest and rest[0].type == "TAG":
        return Tree("head", [head[0], rest[0]])
    if (not head and sort != "step") or not rest or rest[0].type != "WORD":
        return None
    named = next((item for item in stack if isinstance(item, Tree) and item.data in {"names", "name"}), None)
    names: Tree[Token]
    if named is not None and span_start(named) == rest[0].start_pos:
        names = named if named.data == "names" else Tree("names", [named])
    else:
        words = []
        for token in rest:
            if token.type != "WORD":
                break
            words.append(token)
        names = Tree("names", [Tree("name", list(words))])
    if any(
        misspelt_clause([word for word in name.children if isinstance(word, Token)], sort) is not None
        for name in names.children
        if isinstance(name, Tree)
    ):
        return None
    return Tree("head", [head[0], names]) if head else Tree("step", [names])


def span_start(node: Tree[Token]) -> int | None:
    """Where a part of a line begins."""
    return next((token.start_pos for token in node.scan_values(lambda token: isinstance(token, Token))), None)
