"""What a new book holds: limits with the page they were published on, and blanks where no page states one.

Read for this: Bookbinding and the Conservation of Books, A Dictionary of Descriptive Terminology (Library of
Congress, 1982), entry pickling; A. B. Farnham, Home Taxidermy for Pleasure and Profit (1916), chapters III and XI;
W. E. Austin, Principles and Practice of Fur Dressing and Fur Dyeing (1922), on the shrinking of dressed skins;
Henley's Twentieth Century Formulas, Recipes and Processes, leather-pickling process; 40 CFR 403.5(b). Running times
of a drum, and times of neutralising, tanning and draining capes, were found in none of them (common practice
differs from shop to shop), so they are left blank.
"""

from __future__ import annotations

SHOP_PAGE = """\
# How this shop works. Written once; when a sheet changes, write the process again with `since` and a date.
#
# Your tan maker's sheet outranks every figure on this page.
# A figure that stands here has the page it was published on beside it. Where no such page was found the limit is
# left out, and what has no limit is not judged. Lines that begin with # are notes. Among them are lines to complete:
#   "yours to add": fill in the blanks (__) and take away all up to the colon, so that the line counts too.
#   "yours for the line above": the same, and then take away the line above it, which says the same without a limit.
#
# The usual cautions; they are no substitute for the supplier's sheet, your local rules, and people licensed for it:
#   Acid into water, never water into acid. Salt first, acid last and slowly, stirring; cool before skins go in.
#   Eye protection, gloves and an apron, air to breathe, and water at hand to flush eyes and skin.
#   Never acid together with bleach or sulphides: the gas is poison.
#   Tubs and tools that acid does not eat. On each tub: what is in it, since when, how strong.
#   A drum is vented to zero pressure and locked out before anybody opens it or reaches in.
#   What may go down the drain, at what pH: ask your sewer authority before the first tub. Never a storm drain.
#   Raw skins can carry disease: gloves, cuts covered, hands washed.

shop My Shop                               # change
  zone America/Chicago                     # change: the zone of your town, as Region/City
  hours 8:00 to 17:00, Mon to Fri          # change: when somebody is there to move a hide
  dates month first                        # how 3/11/26 is read; or: day first
  gallons US                               # or: imperial
  degrees F                                # or: C
  sewer pH at least 5                      # 40 CFR 403.5(b)(2), US public sewers; yours may ask for more
  # yours to add, what a thermometer in the shop says:   room __ F
  # yours to add, the law of your state:   records kept __ y after out
  # yours to add, when a hide without a line is asked for:   quiet after __ d

# customer Jo Example, phone 555-0100

vessel V1, vat, 40 gal                     # change
vessel V2, vat, 40 gal                     # change
vessel D1, drum, 20 gal                    # change
# yours for the line above, the maker's plate:   vessel D1, drum, 20 gal, holds __, at most __ psi, stands at most __ h
place freezer
# yours for the line above:   place freezer, at most __ F

kind whitetail cape, counts 1, process tub
kind coyote, counts 1, process tub

supply salt
supply acid
supply soda
supply tan
supply oil

recipe pickle                              # 12 % salt: dictionary, entry pickling; 1.14 lb to a gallon is that
  per gal water: 1.14 lb salt
  # yours for the line above, the acid and how much from the supplier's sheet:   per gal water: 1.14 lb salt, __ oz acid
  # yours to add:   lasts __ d

recipe drum pickle                         # on weight: Henley's Formulas, 22 lb salt and 25 gal water to 110 lb of pelt
  110 lb of drained: 25 gal water, 22 lb salt
  # yours for the line above:   110 lb of drained: 25 gal water, 22 lb salt, __ lb acid, __ lb tan

process tub                                # open tubs
  in              needs pull test
  fleshed or flesh                         # fleshed, then salted, is the commoner way (common practice, no source)
  # yours for the line above:   fleshed or flesh within __ h of in
  ears turned     optional
  salt or salted  stays 12 h to 48 h, optional, raw clock stops    # Farnham 1916, XI: salted, 12 to 48 hours
  pickle or pickled stays, pH at most 2, at least 38 sal with skins in, at most 32 C, stirred every day, raw clock stops
  # yours for the line above:   pickle or pickled stays at least __ d, pH at most 2, at least 38 sal with skins in,
  #                             at most 32 C, stirred every day, read every day, raw clock stops
  # dictionary, entry pickling: below pH 2.0 hardly anything rots; above 32 C the acid may harm; salt above 10 %,
  # which is 37.9 degrees salometer (100 degrees are 26.395 %)
  # moved about every day for the first few days: Farnham 1916, III
  shaved or shave optional, weighs shaved
  pickle again    stays, pH at most 2, at least 38 sal with skins in, at most 32 C, optional
  # yours for the line above:   pickle again stays at least __ h, within __ h of shaved, pH at most 2,
  #                             at least 38 sal with skins in, at most 32 C, optional
  neutralised or neutralized or neut stays
  # yours for the line above:   neutralised or neutralized or neut stays __ min to __ min
  # left too long it loosens the hair; pages disagree, and the supplier's sheet says for which alkali
  tan or tanned   stays, tanning begun, raw clock stops
  # yours for the line above:   tan or tanned stays __ h to __ h, pH __ to __, tanning begun, raw clock stops
  drained or drain stays, weighs drained   # where it needs a cut test, that is made before
  # yours for the line above:   drained or drain stays __ min to __ h, needs cut test, weighs drained
  oiled or oil
  # yours for the line above:   oiled or oil within __ h of drained
  dried           stays, at most 40 C, optional                    # Austin 1922: salt-acid dressed, 40 C at most
  out
  may rest frozen after in or fleshed, raw clock stops
  # yours for the line above:   may rest frozen at most __ mo, after in or fleshed, raw clock stops
  # yours to add:   raw at most __ h at __ F
  # yours to add, what you tan with, so that `shrinks at` can be judged:   tannage alum

process drum                               # a drum under pressure, amounts on drained weight
  in              needs pull test
  fleshed or flesh
  # yours for the line above:   fleshed or flesh within __ h of in
  ears turned     optional
  drained or drain stays, weighs drained
  first turn      in a bath, note pressure, raw clock stops
  # yours for the line above:   first turn runs __ min to __ min, in a bath, note pressure, raw clock stops
  # no published page states the running times; the first turn is in the pickle liquor, whose salt and acid keep the
  # skin, so it is raw no longer: where yours is a mere wash, take `raw clock stops` away
  shaved or shave optional, weighs shaved
  second turn     in a bath, note pressure, tanning begun, raw clock stops
  # yours for the line above:   second turn runs __ min to __ min, in a bath, note pressure, tanning begun,
  #                             raw clock stops
  neutralised or neutralized or neut stays
  # yours for the line above:   neutralised or neutralized or neut stays __ min to __ min
  rested or rest  stays, needs cut test    # the test is made before it is laid to rest
  # yours for the line above:   rested or rest stays __ min to __ h, needs cut test
  oiled or oil
  # yours for the line above:   oiled or oil within __ h of rested
  out
  may rest frozen after in or fleshed, raw clock stops
  # yours for the line above:   may rest frozen at most __ mo, after in or fleshed, raw clock stops
  # yours to add:   raw at most __ h at __ F
  # yours to add, what you tan with, so that `shrinks at` can be judged:   tannage alum
"""

FIRST_PAGE = """\
# The first page. One line for one doing: the date and the time, who, what, and whatever was measured.
# Below is an example of a morning. Change it into yours, or take it out.
# A tag stands for a hide (H1), a tub of liquor (P1) or a drum load (L1), and is never given twice in a season.

{day} 07:10 H1 in, whitetail cape, buck, 7 1/2 lb, green, killed {eve} 16:30, for Jo Example, tag 00-000
{day} 07:15 H1 pull test ok
{day} 07:50 H1 fleshed, ears turned, by JE

# Lines of the next days would look like this (the mark at the head keeps them from counting):
# {day} 17:10 P1 mixed in V1, recipe pickle, 20 gal water, 22.8 lb salt lot S-1
# {day} 17:30 P1 pH 1.8 meter, 64 F, 46 sal
# {day} 17:40 H1 pickle in P1
# {day} 17:45 H2 in, coyote, frozen, for Jo Example -- weigh when thawed
"""
