"""What the findings of the record mean."""

from __future__ import annotations

from hideledger.rules.meaning import Meaning

RECORD: dict[str, Meaning] = {
    "left out of the recipe": Meaning(
        seen=(
            "A bath was mixed by a recipe of the shop, and something that the recipe names stands on none of its lines, nor anything that could stand for it: another acid for an acid. "
            "A line that names the recipe and only the water says that it was made as the recipe has it."
        ),
        harm="Acid without its salt swells a skin, salt without its acid lets it rot; and what went in unwritten is missing from the shelf, the costs and the next search for a cause.",
        source="the recipe is the shop's own line; that it is asked for is common practice, no source",
        write="What went in, with its own date: `P3 add 60 oz citric acid`; or why it did not: `P3 waived left out of the recipe -- acid goes in tomorrow`.",
    ),
    "reading not explained": Meaning(
        seen=(
            "A bath read more or less salt, or a higher or lower pH, than anything by its own lines can make: what was put in, the water "
            "that wet skins bring, the acid that they bind, what dries up, what a top-up may replace, and the doubt of scale, level, "
            "form of acid and instrument. Acid lifts a hydrometer and is allowed for. Only where the amounts are written, and known. Or readings between two that agree, with nothing put in and no skin moved, agree with neither by more than both instruments may be wrong; or two readings of salt stand 10 degrees apart."
        ),
        harm=(
            "Salt is judged before acid is: a bath righted by a misread figure gets acid without salt, and swells the skins. A dose that "
            "nobody wrote is missing from the shelf, the costs and the next bath too."
        ),
        source=(
            "salt and water are conserved (densities: International Critical Tables); pH by charge balance (pKa: CRC Handbook), good to "
            "0.3; acid bound by skin: Bowes and Kenten (1948), from memory; what is allowed for besides is our own judgement"
        ),
        write=(
            "The line again with the right figure, the wrong one struck; or what went in and is not written, with its own date: "
            "`P3 add 5 lb salt`. Nothing goes into the tub for it: a soda raises a pH, an acid lowers it, and only what did go in is written."
        ),
    ),
    "shrinks too soon": Meaning(
        seen=(
            "A strip of a hide shrank below the range of what its process tans with (`tannage` in the process line). Alum and oil do not "
            "raise it above raw skin's, and with them nothing is proved either way; nor before the step at which tanning begins."
        ),
        harm="What shrinks like raw skin is raw skin: it dries like parchment and rots when it is wetted.",
        source="Conservation Science (RSC 2006), table of shrinkage temperatures; ISO 3380 and ASTM D6076 for the test",
        write="The second strip: `H41 shrinks at 82 C`; or what was done: `H41 waived shrinks too soon -- back in the tan`.",
    ),
    "not recorded": Meaning(
        seen=(
            "A later line is there, and a step before it, a test it needs, its bath, or a reading it asks for is not. "
            "Of a bath let go its pH or where to. It is not said that it was not done."
        ),
        harm="When hair falls in March, what was written in November is all there is to look for the cause in.",
        source="the shop's own line of its process; that it is asked for is common practice, no source",
        write=(
            "The line, late, with its own date: `2026-10-30 H41 fleshed`; or `H41 skipped salt -- straight to the "
            "pickle`."
        ),
    ),
    "out of order": Meaning(
        seen=(
            "A step stands where it does not come, or is no step of that hide's process; a rest where the process "
            "allows none; a bath let go with hides in it, which rings until their next step is written. Going back, washing or salting again, and whatever follows "
            "a failed test are no faults."
        ),
        harm=(
            "What goes before decides what comes after: acid before salt swells the skin, oil before the tan goes "
            "nowhere."
        ),
        source="the order is the shop's own line; Royal Society of Chemistry, on pickling; otherwise common practice, no source",
        write="The line again at its true time, the wrong one struck; or `H41 waived out of order -- why`.",
    ),
    "came out early": Meaning(
        seen=(
            "A stay or run ended before its least time. A tenth is allowed, whole days are counted by the calendar, "
            "and a clean cut or a remark on the line that ended it answers it."
        ),
        harm="A raw line stays in the thickest place; it dries like parchment and rots when wetted.",
        source="the least time is the shop's own line; what comes of a short pickle, thick or not shaved, is common practice, no source",
        write="`H41 cut test ok` with its date; or back it goes: `H41 back in P3 -- raw line at the neck`.",
    ),
    "stayed too long": Meaning(
        seen=(
            "A stay or run that is over lasted longer than its longest time: to the minute up to two hours, beyond "
            "that by more than a tenth. A short one that was passed rings, until the hide is tanned."
        ),
        harm=(
            "Alkali improves the stretch and loosens the hair within the hour; it falls two stages later. Soap breaks "
            "down protein."
        ),
        source="the longest time is the shop's own line; that hair loosens in an hour of neutralising is common practice, no source",
        write="`H41 pull test ok`, and whatever line was forgotten; or `H41 waived stayed too long -- why`.",
    ),
    "started late": Meaning(
        seen=(
            "A step's line lies later than its process line `within … of …` allows. Time spent frozen does not count. "
            "Where the process limits the raw clock, that speaks instead."
        ),
        harm="A shaved skin dries out with acid in it, a drained one sours, an oiled one sweats.",
        source="the time is the shop's own line; otherwise common practice, no source",
        write="The true time, if the line is wrong; or `H41 waived started late -- why`.",
    ),
    "reading missed": Meaning(
        seen=(
            "Between two readings of a bath with hides in it more time went by than the step allows: an open day "
            "without one, or more than so many hours."
        ),
        harm="Gaps between readings are what is looked for first when a load is lost in the pickle.",
        source="the length is the shop's own line; that a day without a reading is asked for first is common practice, no source",
        write="The reading, late, with its own date: `2026-11-04 17:30 P3 pH 2.1 strip`.",
    ),
    "stir missed": Meaning(
        seen="Between two stirs of a bath with hides in it more time went by than the step allows.",
        harm="A bath left still with drift in it grew black mould, and skins slipped.",
        source="the length is the shop's own line; Home Taxidermy for Pleasure and Profit (1916), on moving the bath; the mould of a bath left still is common practice, no source",
        write="`2026-11-04 17:30 P3 stirred`, with its own date.",
    ),
    "reading out of range": Meaning(
        seen=(
            "A reading, or a run of them, lay outside the range of a step that a hide in the bath was in. Put right "
            "with a dose and a good reading by the next open day it is not told; nor with nobody in the bath."
        ),
        harm="Same as now, only later: this is where to look when something shows two stages on.",
        source="the range is the shop's own line; Bookbinding and the Conservation of Books (Library of Congress, 1982), entry pickling",
        write="A misread figure is struck and written again; what was done answers it: `P3 waived reading out of range -- dosed, and read again`.",
    ),
    "in two places": Meaning(
        seen="One hide was written into two places at one minute, or came out of a load while it turned.",
        harm="One of the lines is about another hide, or at another time: its clocks are wrong until it is righted.",
        source="common practice, no source",
        write="The wrong line struck, with `struck` before it.",
    ),
    "vessel over full": Meaning(
        seen=(
            "More hides (as their kinds count), more pounds, or more liquor were in a vessel than its line allows. A "
            "vat may hold a tenth more by count. It rings while it is so. A kind that is not written may count for more: that is asked, "
            "and wakes nobody. So is liquor that its wet skins, a litre for a kilogram, lift over the rim by more than the doubt of both."
        ),
        harm=(
            "Skins that cannot move keep the liquor from each other, and skins carry water in: a packed bath thins by "
            "a tenth to a quarter."
        ),
        source="what it holds is the shop's own line; otherwise common practice, no source",
        write="`H41 out of P3`, or the line that is missing, with its own date.",
    ),
    "two baths in one vessel": Meaning(
        seen=(
            "A bath was mixed in a vessel while another there was never let go, or a bath was mixed anew with hides "
            "in it. It rings while hides are in the old one, or were put into it afterwards."
        ),
        harm=(
            "Either the letting go was not written, and with it the pH at which it went down the drain, or the hides "
            "lie in something else than the book says."
        ),
        source="common practice, no source",
        write="`P2 dumped 20 gal, sewer`, with its own date and the pH that you measured.",
    ),
    "bath worn out": Meaning(
        seen="A bath with hides in it is older, or has had more skin through it, than its recipe's line `lasts`.",
        harm=(
            "A bath may be used several times; dirty or greasy it is thrown away. What the skins took with them no "
            "reading of pH shows."
        ),
        source="what it lasts is the shop's own line; Home Taxidermy for Pleasure and Profit (1916), that a bath wears out",
        write="`P4 mixed in V2, recipe pickle, 20 gal water`, and `P3 dumped 20 gal, sewer`, with the pH that you measured.",
    ),
    "no off written": Meaning(
        seen=(
            "A load was turned on, and no `off` follows before its hides come out or its bath ends. It is asked once, "
            "and no time of that run is judged."
        ),
        harm="Only the time it turned counts in a drum.",
        source="common practice, no source",
        write="`L14 off`, with its own date and time.",
    ),
    "no vent written": Meaning(
        seen="Hides came out of a drum whose last gauge stood above nothing, and no `vented` lies between.",
        harm="A door opened under pressure flies open; the vessel is brought to nothing and locked out first.",
        source="the reading is asked for by the shop's own line; opening at zero and the lock-out are common practice, no source",
        write="`L14 vented`, with its own date and time.",
    ),
    "twice the same": Meaning(
        seen=(
            "Two lines of one tag, time and matter; two readings of one thing at one minute; the same dose within the "
            "hour; a drum turned on while it turned, or off while it stood by the other lines; an `in` of a hide that is here and that "
            "tells of no other skin."
        ),
        harm="A double dose of acid and one dose written twice look the same on paper. Only who did it knows.",
        source="common practice, no source",
        write="One of them struck; if both are true, `P3 waived twice the same -- second half of the dose`.",
    ),
    "one tag for two things": Meaning(
        seen=(
            "A tag that is a hide already is declared a bath, or the other way round; a tag that is here comes in again "
            "with another kind, customer or weight: then it rings, since two skins lie under one name; or a step, a defect or `out` is written of a bath (`P3 pickle`): "
            "it rings too, since it counts for no skin."
        ),
        harm="A month later nobody can tell which of the two a line was about.",
        source="common practice, no source",
        write="One of them under another tag.",
    ),
    "one legal tag twice": Meaning(
        seen=(
            "One `tag` stands at two hides, here or ever. The parts of a cut skin share theirs, and so do a skin and what `replaces` it; "
            "with two licences written they are two hunters, whose states may give out the same figures."
        ),
        harm="Whoever is asked for the papers shows another animal's tag, and the skin it belongs to has none.",
        source="a legal tag is given out for one animal (state rules on tagging; common practice, no source)",
        write="The tag as it reads: `H24 tag 40719`; of two states, whose each is: `H24 licence 7712`; or `H24 waived one legal tag twice -- two states`.",
    ),
    "nobody in it": Meaning(
        seen="A line says `all in P3`, and by the book nobody was in it then.",
        harm="The line that put them in is missing, and every clock of theirs with it.",
        source="common practice, no source",
        write="The missing line, with its own date: `2026-11-02 08:15 H41 H44 pickle in P3`.",
    ),
    "before it was mixed": Meaning(
        seen="A bath is read, dosed or used on a day before it was mixed.",
        harm="It was another bath, or this one is older than the book says.",
        source="common practice, no source",
        write="The right tag or date; or its making, with its own date: `P3 mixed in V1, recipe pickle, 20 gal water`.",
    ),
    "count differs": Meaning(
        seen="A box was opened with more or fewer skins in it than were written when it came in.",
        harm="They are somebody else's skins.",
        source="common practice, no source",
        write="A second count, as a remark, and a word to the shop they came from.",
    ),
    "lot past its date": Meaning(
        seen="A lot that was bought with `expires` is past that day, and lies on the shelf or was put into a bath that still stands.",
        harm="An old lot does less than its label says: the bath is weaker than its recipe, and nobody looks for the cause there.",
        source="the supplier's own date on the lot; what age does to each supply: common practice, no source",
        write="What was thrown out: `used 5 lb citric acid lot C-31 -- thrown out`, so that the record shows where it went; a bath that may stay: `P3 waived lot past its date -- why`.",
    ),
    "two names alike": Meaning(
        seen="Two names that hides are for, or that paid, are a slip of the fingers, an accent, an initial, `&` for `and` or the order of their words apart.",
        harm="One customer then has two bills, each with half of what was paid, and the sheet read out on the telephone is wrong.",
        source="common practice, no source",
        write="The right name, on a line of its own: `H41 for Oren Vale`. Two people: a `customer` line in the shop file for each, or `H41 waived two names alike -- brothers`.",
    ),
    "no process": Meaning(
        seen=(
            "A hide follows no process: its line names none, its kind has none, and the shop has more than one, or "
            "none."
        ),
        harm="Without a way to go nothing is missing and nothing is late: it is not judged at all.",
        source="common practice, no source",
        write="`H41 process both`, or a process for its kind in the shop file.",
    ),
    "no zone": Meaning(
        seen="The shop file names no time zone, so times are taken without any change of the clocks.",
        harm="An overnight soak is an hour longer or shorter on two nights of the year.",
        source="IANA time zone database",
        write="Under `shop`: `zone America/Chicago`, with your own.",
    ),
    "unknown kind": Meaning(
        seen="A word of an arrival line stands where the kind would, the shop file names no such kind, and no other is written of that skin; or another animal stands before the kind (`mule deer, cape`), or a part that was cut off is a skin by a name that is no kind.",
        harm="The kind says which way a skin goes, what it costs and what an officer counts; without it the register has a gap.",
        source="15A NCAC 10H .1003, 4VAC15-290-80 and 50 CFR 20.82 ask for the species of each",
        write="At the margin of the shop file: `kind pronghorn cape`; where it was a slip of the hand: `H41 whitetail cape`.",
    ),
    "unknown supply": Meaning(
        seen="A supply was used or counted that the shop file does not name. It is told once for each.",
        harm="Baking soda, washing soda crystals and soda ash differ 2.7-fold in strength, and look alike in a bucket.",
        source="formula weights of sodium carbonate and its decahydrate (CRC Handbook of Chemistry and Physics)",
        write="At the margin of the shop file: `supply soda ash, $2.10 per lb`.",
    ),
    "no time written": Meaning(
        seen="Lines of one day and one person are without a time. It is told once a day for each of them.",
        harm=(
            "Minutes matter in neutralising, hours in soaking: without a time a limit is judged by a range, and a "
            "finding can only say `may`."
        ),
        source="common practice, no source",
        write="The time, if it is remembered; `morning` or `evening` is better than none.",
    ),
    "no reason given": Meaning(
        seen="A step was skipped, and no reason is written (the word `why` alone is none). It is asked once, in the long list.",
        harm="Leaving out is a route and no mistake; next season nobody knows which it was.",
        source="common practice, no source",
        write="`H41 skipped salt -- straight to the pickle`.",
    ),
}
