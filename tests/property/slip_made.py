"""A made-up season of a tannery for tests: sixty skins in six pickles, three lots of acid, five owners, and hair that slips."""

from __future__ import annotations

import random
from datetime import datetime, timedelta
from pathlib import Path

SHOP = """\
shop Fallow Creek Skins
  zone America/Chicago
  gallons US
  room 66 F
vessel V1, vat, 40 gal, holds 12
vessel D1, drum, 19 gal, holds 12
kind whitetail cape, process both
supply salt
supply citric acid
supply alum tan
recipe pickle
process both
  in
  fleshed
  salt         stays at least 12 h, raw clock stops
  pickle       stays at least 1 d, raw clock stops
  first turn   runs 10 min to 4 h, in a bath
  drained
  out
  raw at most 24 h at 66 F
"""
OWNERS = ("Oren Vale", "Ida Crane", "Hob Carrow", "Greta Holm", "Amos Weir")
SKINS = 60
PICKLES = 6


def written_season(folder: Path, seed: int, *, cause: str) -> str:
    """Writes a season in which skins that met `cause` slip in six of ten, the others in one of twenty; gives its folder.

    `cause` is a lot of acid (`C-2`), a pickle (`P4`), an owner, or empty: then one in eight slips whatever it met.
    """
    made = random.Random(seed)
    folder.mkdir(exist_ok=True)
    (folder / "shop.hides").write_text(SHOP, encoding="utf-8", newline="\n")
    lines: list[tuple[datetime, str]] = []
    start = datetime(2026, 9, 7, 8)
    for number in range(1, PICKLES + 1):
        begun = start + timedelta(days=7 * (number - 1))
        salt, acid = f"S-{(number + 1) // 2}", f"C-{made.randint(1, 3)}"
        lines.append(
            (begun, f"P{number} mixed in V1, recipe pickle, 20 gal water, 20 lb salt, 60 oz citric acid lot {acid}")
        )
        load = f"L{number}"
        lines.append((begun + timedelta(days=5), f"{load} mixed in D1, 9 qt water, 2 lb alum tan lot K-{number % 2}"))
        for place in range(SKINS // PICKLES):
            tag = f"H{(number - 1) * (SKINS // PICKLES) + place + 1}"
            owner = made.choice(OWNERS)
            came = begun + timedelta(hours=made.randint(0, 2) * 24 + 1, minutes=place)
            lines += [
                (came, f"{tag} in, whitetail cape, green, for {owner}"),
                (came + timedelta(hours=1), f"{tag} fleshed, by {made.choice(('JK', 'TR'))}"),
                (came + timedelta(hours=2), f"{tag} salt, 7 lb salt lot {salt}"),
                (came + timedelta(hours=20), f"{tag} pickle in P{number}"),
            ]
            share = 0.125 if not cause else 0.6 if cause in (acid, f"P{number}", owner) else 0.05
            turned = begun + timedelta(days=5, hours=1)
            if made.random() < share:
                when = made.choice((came + timedelta(hours=60), turned + timedelta(hours=5)))
                lines.append((when, f"{tag} slip, left ear base, 1 in"))
            lines += [
                (turned, f"{tag} first turn in {load}"),
                (turned + timedelta(hours=4), f"{tag} drained"),
                (turned + timedelta(days=6), f"{tag} out to {owner}"),
            ]
    lines.sort(key=lambda line: line[0])
    page = "".join(f"{when:%Y-%m-%d %H:%M} {what}\n" for when, what in lines)
    (folder / "season.hides").write_text(page, encoding="utf-8", newline="\n")
    return str(folder)
