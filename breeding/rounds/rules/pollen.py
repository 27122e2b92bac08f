"""Take pollen from a male spike in flower; see to a packet that should be past its best."""

from __future__ import annotations

from datetime import date, timedelta
from functools import partial

from breeding.milestones.spikes import OPEN
from breeding.rounds import words
from breeding.rounds.books import Books, Next, Told
from breeding.rounds.due import ONE_DAY, waiting
from breeding.rounds.expected import SAID
from breeding.rounds.rows import PollenRow, SpikeRow, made_on
from breeding.rounds.rules.served import females_served, served_words
from breeding.rounds.rules.spikes import opened
from breeding.science.pollen import keeping

GIVES_POLLEN = frozenset({"male", "unclear"})
NOT_SHOWING_AGAIN = timedelta(days=2)
"""New male flowers open every couple of days (one grower's page)."""
TAKE_AGAIN = timedelta(days=7)
"""Our choice: often enough to fill the packets, seldom enough not to nag."""
PRESSING = 3.0


def take_pollen(row: SpikeRow, books: Books, day: date) -> Next | None:
    """Once pollen shows; two days after a look that saw flowers but no pollen; a week after it was taken."""
    if row.sex not in GIVES_POLLEN or row.stage not in OPEN:
        return None
    due = _shows(row)
    if row.pollen_taken_on:
        due = max(due, row.pollen_taken_on + TAKE_AGAIN)
    weight = PRESSING / (2 if row.pollen_taken_on else 1)
    return Next("pollen", due, waiting(weight, due, TAKE_AGAIN.days), partial(_tell_take, row, books))


def old_pollen(row: PollenRow, books: Books, day: date) -> Next | None:
    """The day after it should have been used; where its age is not known, as if it was taken when it was entered."""
    best_before = row.best_before or made_on(row) + timedelta(days=keeping(row.storage).days)
    due = best_before + ONE_DAY
    return Next("old_pollen", due, waiting(0.2, due, 30), partial(_tell_old, row, best_before))


def _shows(row: SpikeRow) -> date:
    first, by = opened(row)
    if row.stage == "showing":
        return row.showing_on or by
    return max(row.last_look or by, by) + NOT_SHOWING_AGAIN


def _tell_take(row: SpikeRow, books: Books, day: date) -> Told:
    serves = females_served(row, books, day)
    age = f"{words.age(*opened(row), day)} since its first flower opened"
    taken = "no pollen taken from it yet"
    if row.pollen_taken_on:
        taken = f"pollen was taken {words.ago(row.pollen_taken_on, day)}, new flowers open every couple of days"
    looked = "" if row.last_look and row.last_look == row.pollen_taken_on else words.last_look(row, day)
    reason = words.sentence(f"male, {age}", taken, served_words(len(serves)), looked)
    return Told(reason=reason, serves=serves)


def _tell_old(row: PollenRow, best_before: date, day: date) -> Told:
    kept = keeping(row.storage)
    stored = words.kept(row.storage) if row.storage == "unknown" else f"kept {words.kept(row.storage)}"
    if row.best_before is None:
        stored = f"age not known, {stored}, entered {words.ago(made_on(row), day)}"
    good = f"good until about {words.short(best_before, day)}"
    usual = f"{words.days(kept.days)} is usual ({SAID[kept.strength]})"
    return Told(reason=words.sentence(stored, good, usual))
