"""What the findings about a bath let go mean."""

from __future__ import annotations

from hideledger.rules.meaning import Meaning

LET_GO: dict[str, Meaning] = {
    "dumped below the sewer limit": Meaning(
        seen="A bath was let go to the sewer at a lower pH than the shop's line `sewer pH at least`; where there is no such line one below pH 5.0 is asked about. It is told until it is answered, and rings for 30 days.",
        harm=(
            "Acid eats the pipe and the works. In the United States nothing below pH 5.0 may go to a public sewer "
            "unless the works is built for it, and local limits are often stricter. Ask your authority."
        ),
        source="the limit is the shop's own line; 40 CFR 403.5(b), no lower than 5.0",
        write="What the authority said: `P3 waived dumped below the sewer limit -- told the works, nothing more to do`. A misread figure is struck and written again: `P3 dumped 21 gal, sewer`, with the pH that you measured.",
    ),
    "dumped above the sewer limit": Meaning(
        seen="A bath was let go to the sewer at a higher pH than the shop's line `sewer pH at most` (or `sewer pH 6 to 9`), or at 12.5 or more, whatever the shop's line says.",
        harm="Lye burns skin and eyes, of whoever works in the pipe too, and kills what cleans the water. Local limits are often at 9 or 10. The authority decides.",
        source="the limit is the shop's own line; 40 CFR 261.22(a)(1): a liquid at pH 12.5 or more, or 2 or less, is corrosive waste (from memory)",
        write="What the authority said: `P3 waived dumped above the sewer limit -- told the works, nothing more to do`; a misread figure is struck and written again.",
    ),
    "dumped outside the sewer": Meaning(
        seen="A bath was let go to a storm drain, a ditch, a stream, a septic tank or the ground, by the words of the line (`dumped 20 gal, storm drain`), whatever it read.",
        harm=(
            "A storm drain runs to the next stream, and nothing cleans what goes in. Salt kills plants and stays in the ground; salt and acid kill what works in a septic tank. "
            "The authority for water and waste decides what has to be told and done."
        ),
        source="40 CFR 122.26 (what may go into storm sewers) and common practice, both from memory; that dumped salt liquor kills plants stands in old manuals of the trade",
        write="What the authority said: `P3 waived dumped outside the sewer -- told the county, soil tested`. A slip of the pen is struck and written again: `P3 dumped 20 gal, sewer`, with the pH that you measured.",
    ),
    "more let go than it held": Meaning(
        seen="The line that let a bath go says more gallons than went into it by its own lines, a quarter over and the water of its skins allowed for.",
        harm="Either the year's sheet for the sewer authority is wrong, or a top-up was never written, and every strength reckoned since was wrong with it.",
        source="common practice, no source: water is conserved, and the quarter is our own judgement",
        write="The line again with the right amount, the wrong one struck; or the top-up: `P3 topped up to 30 gal`, with its own date.",
    ),
}
