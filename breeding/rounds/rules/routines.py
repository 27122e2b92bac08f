"""A routine falls due on the days its rule names; missed, it stays due until it is done or the next one falls due."""

from __future__ import annotations

from datetime import date
from functools import partial

from breeding.rounds import words
from breeding.rounds.books import Books, Next, Told
from breeding.rounds.due import ONE_DAY, waiting
from breeding.rounds.rows import RoutineRow
from breeding.science.recurrence import last_day, next_day
from breeding.words.routines import rule_words, steps_of
from nursery.cautions import cautions_for

SLOWLY = 14
"""Days over which what is missed grows as pressing as it gets; our choice."""


def routine(row: RoutineRow, books: Books, day: date) -> Next | None:
    """Due on the last day its rule named unless it was done since, else on the next; None when the rule has ended."""
    last = last_day(row.rule, row.starts, day)
    if last is None or (row.done_on and row.done_on >= last):
        last = next_day(row.rule, row.starts, max(day, row.done_on or day))
    if last is None:
        return None
    due = last
    if row.put_off_on and row.put_off_on >= last:
        due = row.put_off_on + ONE_DAY
    return Next("routine", due, waiting(1, last, SLOWLY), partial(_tell, row, last))


def _tell(row: RoutineRow, fell: date, day: date) -> Told:
    done = f"done last {words.ago(row.done_on, day)}" if row.done_on else "not done yet"
    missed = f"it was to be done on {words.short(fell, day)}" if fell < day else ""
    return Told(
        title=row.words[0].upper() + row.words[1:],
        reason=words.sentence(rule_words(row.rule), missed, done),
        cautions=tuple(cautions_for(*steps_of(row.words))),
    )
