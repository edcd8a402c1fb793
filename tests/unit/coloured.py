"""A page with what stands where, in plain words: the files for editors must see the same in it."""

# Each line with its pieces from left to right; what is not listed between them has no colour of its own.
PAGE: tuple[tuple[str, tuple[tuple[str, str], ...]], ...] = (
    ("# autumn, H41 and others", (("# autumn, H41 and others", "comment"),)),
    (
        "2026-10-30 18:20 H41 in, whitetail cape, buck, 7 1/2 lb, green, killed 2026-10-29 16:00 at Tarrow county",
        (
            ("2026-10-30", "date"),
            ("18:20", "time"),
            ("H41", "tag"),
            ("in", "word"),
            ("buck", "known"),
            ("7 1/2", "number"),
            ("lb", "unit"),
            ("green", "known"),
            ("killed", "word"),
            ("2026-10-29", "date"),
            ("16:00", "time"),
            ("at", "word"),
        ),
    ),
    (
        "  for Oren Vale, tag 40718, promised 12/15/26, process both",
        (
            ("for", "word"),
            ("Oren Vale", "person"),
            ("tag", "word"),
            ("40718", "code"),
            ("promised", "word"),
            ("12/15/26", "date"),
            ("process", "word"),
            ("both", "name"),
        ),
    ),
    (
        "2026-10-30 19:10 H41 fleshed, ears turned, by JK",
        (
            ("2026-10-30", "date"),
            ("19:10", "time"),
            ("H41", "tag"),
            ("fleshed", "step"),
            ("by", "word"),
            ("JK", "person"),
        ),
    ),
    (
        "Nov 2, 2026 7.45 h41, H42 and H44 thru H47 but H46 pickle in P3 -- bit wet, H2 too # later",
        (
            ("Nov 2, 2026", "date"),
            ("7.45", "time"),
            ("h41", "tag"),
            (",", "join"),
            ("H42", "tag"),
            ("and", "join"),
            ("H44", "tag"),
            ("thru", "join"),
            ("H47", "tag"),
            ("but", "join"),
            ("H46", "tag"),
            ("pickle", "step"),
            ("in", "word"),
            ("P3", "tag"),
            ("-- bit wet, H2 too", "remark"),
            ("# later", "comment"),
        ),
    ),
    (
        "  8:11 P3 PH2.0 meter",
        (
            ("8:11", "time alone"),
            ("P3", "tag"),
            ("PH", "word"),
            ("2.0", "number"),
            ("meter", "known"),
        ),
    ),
    (
        "  8:10 P3 pH 2.1 meter, 64 °F, 40 sal",
        (
            ("8:10", "time alone"),
            ("P3", "tag"),
            ("pH", "word"),
            ("2.1", "number"),
            ("meter", "known"),
            ("64", "number"),
            ("°F", "unit"),
            ("40", "number"),
            ("sal", "unit"),
        ),
    ),
    (
        "about 7:30 pm H41 42 lips split",
        (("about 7:30 pm", "time alone"), ("H41", "tag"), ("42", "bare"), ("lips split", "step")),
    ),
    (
        "\u00a08:10\u00a0H41\u202ffleshed, 7\u00a0lb",
        (("8:10", "time alone"), ("H41", "tag"), ("fleshed", "step"), ("7", "number"), ("lb", "unit")),
    ),
    (
        "2026-11-03\u00a08:10\u00a0H41 salt",
        (("2026-11-03", "date"), ("8:10", "time"), ("H41", "tag"), ("salt", "step")),
    ),
    ("P4 stirred (a little H2)", (("P4", "tag"), ("stirred", "word"), ("(a little H2)", "remark"))),
    (
        "2026-11-03 H41 8 lb salt lot S-113",
        (
            ("2026-11-03", "date"),
            ("H41", "tag"),
            ("8", "number"),
            ("lb", "unit"),
            ("lot", "word"),
            ("S-113", "code"),
        ),
    ),
    (
        "2026-11-03 19h40 bought ½ oz soda ash, $12.00",
        (
            ("2026-11-03", "date"),
            ("19h40", "time"),
            ("bought", "word"),
            ("½", "number"),
            ("oz", "unit"),
            ("$12.00", "money"),
        ),
    ),
    (
        "2026-11-03 H41 remark buy 3 lb salt",
        (("2026-11-03", "date"), ("H41", "tag"), ("remark buy 3 lb salt", "remark")),
    ),
    ("note buy 3 lb salt", (("note buy 3 lb salt", "remark"),)),
    ("2026-11-03 freezer -4 F", (("2026-11-03", "date"), ("freezer", "step"), ("-4", "number"), ("F", "unit"))),
    (
        "2026-11-03 noon H45 waived came out early — cut was clean",
        (
            ("2026-11-03", "date"),
            ("noon", "time"),
            ("H45", "tag"),
            ("waived", "word"),
            ("came out early", "finding"),
            ("— cut was clean", "remark"),
        ),
    ),
    (
        "2026-11-03 0830 pickle H48 in P3",
        (
            ("2026-11-03", "date"),
            ("0830", "time"),
            ("pickle", "step"),
            ("H48", "tag"),
            ("in", "word"),
            ("P3", "tag"),
        ),
    ),
    ("struck 2026-11-03 08:20 H45 out to Oren Vale", (("struck 2026-11-03 08:20 H45 out to Oren Vale", "struck"),)),
    ("  ~ 8:21 H46 out", (("  ~ 8:21 H46 out", "struck"),)),
    ("", ()),
    (
        "shop Tarrow Ridge in Skins  # ours",
        (("shop", "head"), ("Tarrow Ridge in Skins", "title"), ("# ours", "comment")),
    ),
    (
        "  hours 7:00 to 18:00, Mon to Fri",
        (
            ("hours", "clause"),
            ("7:00", "time"),
            ("to", "bound"),
            ("18:00", "time"),
            ("Mon", "bound"),
            ("to", "bound"),
            ("Fri", "bound"),
        ),
    ),
    (
        "process both, since 2026-09-01",
        (("process", "head"), ("both", "title"), ("since", "clause"), ("2026-09-01", "date")),
    ),
    ("# between", (("# between", "comment"),)),
    (
        "  fleshed or flesh   within 12 h of in, read every day",
        (
            ("fleshed", "step"),
            ("or", "bound"),
            ("flesh", "step"),
            ("within", "clause"),
            ("12", "number"),
            ("h", "unit"),
            ("of", "bound"),
            ("read every day", "clause"),
        ),
    ),
    ("", ()),
    (
        "  pickle again stays at least 12 h, pH 0.8 to 2.2, 50 to 80 F",
        (
            ("pickle", "step"),
            ("again", "clause"),
            ("stays", "clause"),
            ("at least", "bound"),
            ("12", "number"),
            ("h", "unit"),
            ("pH", "clause"),
            ("0.8", "number"),
            ("to", "bound"),
            ("2.2", "number"),
            ("50", "number"),
            ("to", "bound"),
            ("80", "number"),
            ("F", "unit"),
        ),
    ),
    ("  ~ salt optional", (("  ~ salt optional", "struck"),)),
    (
        "vessel D1, drum, 19 gal, holds 5",
        (("vessel", "head"), ("D1", "tag"), ("19", "number"), ("gal", "unit"), ("holds", "clause"), ("5", "number")),
    ),
    (
        "supply citric acid or citric or lemon salt, $38 per 50 lb",
        (
            ("supply", "head"),
            ("citric acid", "title"),
            ("or", "bound"),
            ("citric", "title"),
            ("or", "bound"),
            ("lemon salt", "title"),
            ("$38", "money"),
            ("per", "bound"),
            ("50", "number"),
            ("lb", "unit"),
        ),
    ),
    ("2026-11-03 8:00 H1 tanné", (("2026-11-03", "date"), ("8:00", "time"), ("H1", "tag"), ("tanné", "step"))),
)

TEXT = "".join(f"{line}\n" for line, _ in PAGE)


def expected(line: str, pieces: tuple[tuple[str, str], ...]) -> list[tuple[str, str]]:
    """The pieces of a line that have a colour, after a look that they do stand there in this order."""
    at = 0
    for text, _ in pieces:
        at = line.index(text, at) + len(text)
    return list(pieces)
