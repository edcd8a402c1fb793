"""What the findings of the hour mean."""

from __future__ import annotations

from hideledger.rules.meaning import Meaning

NOW: dict[str, Meaning] = {
    "gas that kills": Meaning(
        seen=(
            "Bleach or another chlorine (pool shock), a sulphide or a cyanide went into a bath that holds acid or alum, or acid into a bath of theirs; bleach and ammonia met; or one line names both. "
            "Drain and toilet cleaners may be either, and are told beside acid and beside bleach. "
            "Names are looked at, and the shop's other names of a supply, never amounts: there is no amount of it that is safe."
        ),
        harm=(
            "Chlorine, chloramine, hydrogen sulphide or hydrogen cyanide comes off at once; a breath or two can kill, in the drain too. "
            "Out into fresh air, and the emergency number; what is done with the bath is in the suppliers' sheets."
        ),
        source="common practice, no source (acids never with bleach, sulphides or cyanides, bleach never with ammonia: it stands on their labels)",
        write="What was done, once it is safe: `P3 waived gas that kills -- aired, left to the fire brigade`; a slip of the pen is struck.",
    ),
    "too little salt": Meaning(
        seen=(
            "A bath with skins in it, or made up for them, holds less salt by its own lines than its step wants, even with every doubt of scale, gallon mark and acid "
            "on the kind side; or acid went in and none of the salt that its recipe names. No salt was read since the last thing that went in: a reading is judged by itself."
        ),
        harm=(
            "Acid binds to the skin and draws water into it; without salt round it the skin swells to a jelly within the hour, and its grain and its hair roots are burned. "
            "A skin that has swollen is salted before the acid goes: back by strong brine and slow neutralising, by your supplier's sheet."
        ),
        source="the floor is the shop's own line; Royal Society of Chemistry, on pickling (salt against swelling); densities: International Critical Tables",
        write="What the salometer says, `P3 41 sal`; what went in, `P3 add 18 lb salt`; or what was done about it: `P3 waived too little salt -- no skin went in`.",
    ),
    "overdue": Meaning(
        seen=(
            "A hide is still in a step, a run or a rest whose longest time is past, or a step that had to follow "
            "within a time has not been written, nor any later one."
        ),
        harm=(
            "What goes on too long does harm that shows later: one that was neutralised an hour lost its hair by "
            "handfuls at the form, a skin held wet in a bag slips after the tan, a soft one left in the soak loosens."
        ),
        source="the limit is the shop's own line; Camping and Woodcraft, on soaking; what practitioners tell (neutralised 60 min, hair loose; late slip in the bag) is common practice, no source",
        write="Its next step, `H41 shaved`, or `H41 out of P3`; if it stays on purpose, `H41 waived overdue -- why`.",
    ),
    "due": Meaning(
        seen=(
            "A longest time runs out before the next look, or while nobody is there; where the shortest is not over "
            "before closing either, somebody has to come. A shortest time that is reached is no such thing: the hide is "
            "ready, and may wait. Or, as a maybe, the readings of a bath with hides in it go where they will pass its range "
            "by then: at least four taken in one way over a day or more, since the last dose or skin, all going the same way. Where their line is at its end already and the last reading is not, it is said too, with no bell once a reading goes no farther than the one before. "
            "Or a bath with nobody in it was last read outside the range of the step that its skins were in, or that is called like its recipe: "
            "that is told with no bell, until a reading is good, it is let go, or skins go in."
        ),
        harm=(
            "Nobody moves a hide at night. A limit of minutes cannot be caught in the morning. A bath that is wrong harms the next skins from the "
            "hour they go in."
        ),
        source="common practice, no source; for the slope Theil (1950) and Sen (J. Am. Stat. Assoc. 63, 1968)",
        write="Its next step before closing: `H41 drained`; or say why not: `H41 waived due -- why`. Of a bath its reading, or its dose.",
    ),
    "raw too long": Meaning(
        seen=(
            "The raw clock is past the process's own line `raw at most`. It runs from the door on, heavier where it "
            "is warm, lighter in the cold; salt, acid, drying and frost stop it, and a thaw sets it going where it "
            "stood. The hours from the kill to the door are judged once, when it comes in."
        ),
        harm=(
            "Decay begins within hours, how many the warmth decides; hang time before the door decides most losses. "
            "The hair lets go at ears, eyes, lips and belly first."
        ),
        source="the limit is the shop's own line; the weighting: the square-root model of Ratkowsky and Olley (FAO Fisheries Technical Paper 348), from memory; how soon it slips is common practice, no source",
        write=(
            "What stops it, as soon as it is done: `H41 salt`, `H41 frozen`, `H41 pickle in P3`. What was done and "
            "not written: the line, with its own date. One that lies raw for days by the book has mostly left: `H41 out to NAME`, `H41 lost -- why`."
        ),
    ),
    "stock short": Meaning(
        seen=(
            "A supply lies below what its line says to `keep`, or will before an order that is left until the next open day could come: it "
            "`comes in` so many days, and somebody must be there to take it in. The pace is that of the last four weeks. It rings only "
            "where the shelf will be empty before that."
        ),
        harm="Salt is wanted on the day the hides come in, and an unsalted skin does not wait for the carrier.",
        source="common practice, no source",
        write="What came, `bought 50 lb salt lot S-115, $9.50`; or what really lies there, `counted 140 lb salt`.",
    ),
    "no bath written": Meaning(
        seen=(
            "A hide is in a step that goes by its bath (in a bath, in a load that turns, with a pH range, or read or stirred "
            "every so often), and the line that put it there names no bath or load, or a vessel in which none stands."
        ),
        harm=(
            "No reading, no stir and no dose counts for it: by the book it lies in the tub unwatched, and what drifts "
            "there is not asked for."
        ),
        source="common practice, no source",
        write="The bath it lies in, as of when it went in: `H41 pickle in P3`.",
    ),
    "arrival not read": Meaning(
        seen=(
            "A hide is being worked, and the line it came in on could not be read: its kind, its process and its hours "
            "before that are not known. The shortest limit that any process has for its step is held against it, as a maybe."
        ),
        harm="It is in the tub like the others, and what nobody can judge nobody moves in time.",
        source="common practice, no source",
        write="The line that could not be read, put right; or how it came, with its own date: `H41 in, whitetail cape`.",
    ),
    "drum standing loaded": Meaning(
        seen="A load has stood still with hides in it for longer than the vessel's line `stands at most`.",
        harm=(
            "Skins in a heap warm each other and take the liquor in folds: the places where two touch stay pale, and "
            "creases set."
        ),
        source="common practice, no source",
        write="`L14 on` when it turns again, or `H41 H44 out of L14`.",
    ),
    "out of range now": Meaning(
        seen=(
            "The last reading of a bath with hides in it, or of a freezer, lies outside the range of a step that a "
            "hide in it is in. Within the doubt of the instrument (paper 0.3 pH, meter 0.1, salometer 2 degrees, "
            "thermometer 2 F) it only may be, and is to be read again."
        ),
        harm=(
            "Under pH 2 nearly no rot bacteria live; above it they do, and mould grows. Acid with too little salt "
            "swells the skin, and above 32 C acid attacks it."
        ),
        source="the range is the shop's own line; Bookbinding and the Conservation of Books (Library of Congress, 1982), entry pickling; Royal Society of Chemistry, on pickling",
        write=(
            "The dose, by your supplier's sheet, and a reading an hour after it: `P3 add 8 oz citric acid lot C-31`, "
            "`P3 pH 2.0 strip`. A bath that is too sour gets no acid, one with too little acid no alkali."
        ),
    ),
    "hair comes loose": Meaning(
        seen=(
            "The last pull test of a hide here failed, and nothing answers it since: no later one that held, and no slip. Where nothing was done to it "
            "here yet, it can still be refused, or be taken in at the customer's risk."
        ),
        harm=(
            "Hair that comes in a light pull is slip that has begun. What is cold, salted or sour at once may keep the rest; what goes on as if "
            "nothing was seen loses it in the tan, and is paid for by the shop."
        ),
        source="common practice, no source (the pull at the door, and who bears the risk of what came loose there)",
        write="What was seen, `H41 slip, ears, 1 in`, or `H41 pull test ok` once it holds; at the door `H41 refused -- hair comes`, or `H41 waived hair comes loose -- taken in at the customer's risk`.",
    ),
    "slip nearby": Meaning(
        seen=(
            "A hide here lay in the same bath, or came in the same box, or lay raw in the same freezer at the same time, with one that "
            "has slipped since; it is told wherever it has gone from there. Or it went into the bath that such a one lay in last, after it, and nothing "
            "is written with a reason that says the bath was set right. What was seen at the door proves nothing about the shop, and a good pull test on the hide itself since then "
            "answers it. A raw one is looked at now; one that is ready, or long out of the tan, before it goes: cold and acid are for raw skins."
        ),
        harm=(
            "What the sister hides did is the best evidence there is: same bath, same day, same lot. Slip is seen "
            "late and caused early."
        ),
        source="common practice, no source (what practitioners ask first of a slipped hide)",
        write="`H41 pull test ok`, or `H41 slip, left ear base, 1 in`; once the bath is right, for those that went in later, `P3 waived slip nearby -- dosed, and read again`.",
    ),
    "kept together": Meaning(
        seen="A hide written `keep apart` lies in one place with others while it is still raw.",
        harm=(
            "Mange, ringworm and lice go from skin to skin and to hands. Wear gloves; ask a doctor about what you "
            "catch."
        ),
        source="Diseases of Wisconsin Furbearers, on mange (gloves); for ringworm common practice, no source",
        write="`H58 out of V2` once it lies alone.",
    ),
    "wet salted into the freezer": Meaning(
        seen="A hide was frozen while wet with salt: its last step was a salting, or it came in wet salted.",
        harm=(
            "Salt keeps a wet skin from freezing through, so it lies there soft and rots slowly. One that was salted "
            "and dried hard takes no harm."
        ),
        source="common practice, no source; the difference between wet and dry is inferred",
        write="`H41 thawed`, then on with the salt or the pickle.",
    ),
    "reading due": Meaning(
        seen=(
            "A bath with hides in it wants a reading before the next look: each open day or each so many hours, as "
            "the step says; and an hour after skins went in or something was added, before closing when that hour ends "
            "while nobody is there."
        ),
        harm=(
            "A pickle is overdue by readings, not by days: acid goes into the skins, and a bath that drifts lets mould "
            "and slip begin."
        ),
        source="the length is the shop's own line; Home Taxidermy for Pleasure and Profit (1916), on moving and testing the bath; the hour after skins or a dose is common practice, no source, and no line of the shop: it goes with `read every …`, and is quieted by a waiving",
        write="`P3 pH 2.0 strip, 62 F, 38 sal`; or why not: `P3 waived reading due -- why`.",
    ),
    "stir due": Meaning(
        seen=(
            "A bath with hides in it wants to be moved, by the step's own line. An add, a top-up, and hides going in "
            "or out count as moved."
        ),
        harm=(
            "Print has daily, twice a day, and every third day for the first days: the shop says which it follows. "
            "Unmoved skins keep the liquor from each other."
        ),
        source="the length is the shop's own line; Home Taxidermy for Pleasure and Profit (1916), on moving the bath",
        write="`P3 stirred`.",
    ),
    "nobody wrote": Meaning(
        seen="Skins are wet, and on an open day nobody wrote a line in the book.",
        harm="Either nobody looked, or what was done will be remembered wrongly.",
        source="common practice, no source",
        write=(
            "What you see now, and what was done, each with its own date: `2026-11-05 17:00 P3 pH 2.0 strip, stirred`."
        ),
    ),
    "gone quiet": Meaning(
        seen=(
            "No line has named a hide or its bath for as long as the shop's line `quiet after` says (two open days "
            "for one in a bath), and it lies in no step or rest whose longest time is still to come. One that is "
            "finished waits to be fetched and is not meant."
        ),
        harm="A skin nobody writes of lies behind the others, or it left the shop without a line.",
        source="common practice, no source",
        write="`H41 remark seen, well`, or where it went: `H41 out to Oren Vale`.",
    ),
    "promise at risk": Meaning(
        seen=(
            "The promised day is still to come, but the least times of the steps to come do not fit before closing on "
            "it; or, within two weeks of it, what this shop usually takes from here does not."
        ),
        harm="A customer told in time can wait; one told on the day cannot.",
        source="the promised day is the shop's own line; that one tells the owner before it is past is common practice, no source",
        write="The new day once it is agreed: `H41 promised 2026-12-20`.",
    ),
    "promise missed": Meaning(
        seen=(
            "The promised day is over, and the hide is here. It rings on the first day after it, then once a week; "
            "one that is ready since, and not fetched, does not ring, and one that was ready in time is no missed promise."
        ),
        harm="The customer is owed a word.",
        source="common practice, no source",
        write="`H41 promised 2026-12-20`, or when it goes `H41 out to Oren Vale`.",
    ),
    "run ends after closing": Meaning(
        seen="A load has longer to turn, by the least time of its step, than is left until closing.",
        harm="A drum under pressure is not left alone: it warms by friction, and nobody is there when a door leaks.",
        source="common practice, no source",
        write="Begin it in the morning: `L14 on`; or stop it in time: `L14 off`.",
    ),
    "run complete without a cut": Meaning(
        seen=(
            "A load has turned its least time, the next step asks for a cut, and no cut is written since the run began."
        ),
        harm=(
            "In a short run the test is how deep it has gone, not the hour: cut the thickest place. One hide of "
            "several is not proof for all."
        ),
        source="common practice, no source",
        write="`L14 cut test ok, H45 neck`, or `H45 cut test fails, thin line at the neck`.",
    ),
    "pressure over the vessel's limit": Meaning(
        seen="A gauge was written above the vessel's line `at most`.",
        harm=(
            "A drum is built for its pressure and no more; acid, salt and friction thin it. Bring it to zero before "
            "anybody opens it. Above 15 psi other rules hold in many places: ask those who know yours."
        ),
        source="the limit is the shop's own line, from its maker; 8 CCR 460 and 465 (California), from 15 psig on; that wear thins a wall is common practice, no source",
        write="`L14 off`, `L14 vented`; a misread figure is struck and written again.",
    ),
    "pressure falling": Meaning(
        seen=(
            "Between two readings within the hour the gauge fell by 2 psi or more, at a tenth of a psi a minute or "
            "faster, with nothing written of venting, pressing or stopping."
        ),
        harm="A drum that loses pressure loses it at the door or the shaft, and liquor goes where the air goes.",
        source="common practice, no source",
        write="`L14 off`, `L14 vented`; then what was found, as a remark.",
    ),
    "unknown tag": Meaning(
        seen="A tag on a line came in nowhere in the book: it is no hide, bath, load, box or vessel.",
        harm="Mostly two figures stand the wrong way round, and another hide is missing the line.",
        source="common practice, no source",
        write="The line with the right tag, the wrong one struck; or how it came: `H49 in`.",
    ),
    "after it was out": Meaning(
        seen="A line of work on a hide after it was handed back, lost or cut, or on a bath after it was let go.",
        harm="Either it never left, or the line belongs to another tag.",
        source="common practice, no source",
        write="The right tag or time; or, if it came again, `H41 in` before it.",
    ),
    "dated ahead": Meaning(
        seen=(
            "A line lies after the moment looked at although a line below it does not, or more than 60 days after the line "
            "above it; or it is of tomorrow or later, and the book is looked at now."
        ),
        harm="It does not count until its date, so what it tells is missing today.",
        source="common practice, no source",
        write="The line again with its true date, the wrong one struck: `struck 2027-11-05 08:00 H41 pickle in P3`.",
    ),
    "dated back": Meaning(
        seen=(
            "A line lies more than 60 days before the line above it, and the next does not go back with it. A remark "
            "on the line that says why answers it."
        ),
        harm="In January one goes on writing the old year, and the line lands in the middle of last year's work.",
        source="common practice, no source",
        write="The line again with its true date, the wrong one struck.",
    ),
}
