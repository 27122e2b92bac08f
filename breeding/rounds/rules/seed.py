"""Sow seed at once: fresh seed is best."""

from __future__ import annotations

from datetime import date, timedelta
from functools import partial

from breeding.care import care_of
from breeding.rounds import words
from breeding.rounds.books import Books, Next, Told
from breeding.rounds.due import waiting
from breeding.rounds.rows import SeedRow, made_on

ROOM_AGAIN = timedelta(days=28)
COLD_AGAIN = timedelta(days=90)
"""How often a packet is asked about when some of it was sown, or when it lies in the cold; our choice."""


def sow(row: SeedRow, books: Books, day: date) -> Next | None:
    """At once; what lies in the refrigerator, is left over, or has pots prepared, is asked about from time to time."""
    cold = row.storage == "refrigerator"
    since = row.last_look or row.ripe_last or made_on(row)
    if cold or row.stage == "part_sown":
        due = since + (COLD_AGAIN if cold else ROOM_AGAIN)
    else:
        due = max(row.ripe_last or made_on(row), made_on(row))
    if row.prepared_for:  # its sowing session is asked about meanwhile
        due = max(due, row.prepared_for + ROOM_AGAIN)
    return Next("sow", due, waiting(1, due, ROOM_AGAIN.days), partial(_tell, row))


def longest_gap(row: SeedRow) -> timedelta:
    """Nothing in a packet is left unasked for longer than this."""
    return COLD_AGAIN if row.storage == "refrigerator" else ROOM_AGAIN


def _tell(row: SeedRow, day: date) -> Told:
    ripe = "day of ripeness not known"
    if row.ripe_first and row.ripe_last:
        ripe = f"{words.age(row.ripe_first, row.ripe_last, day)} since it was cut"
    state = {"waiting": "not cleaned yet", "cleaned": "cleaned", "part_sown": "part of it is sown"}.get(row.stage, "")
    prepared = "pots are prepared for it in a sowing session" if row.prepared_for else ""
    return Told(
        reason=words.sentence(
            ripe, words.kept(row.storage), state, prepared, "fresh seed comes up best (common practice, no source)"
        ),
        # One of its answers puts the packet into the refrigerator.
        cautions=() if row.storage == "refrigerator" else care_of("sown", "seed_stored"),
    )
