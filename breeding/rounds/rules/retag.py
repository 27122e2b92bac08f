"""Print new tags at a place where the print of some fades soon."""

from __future__ import annotations

from datetime import date
from functools import partial

from breeding.rounds import words
from breeding.rounds.books import Books, Next, Told
from breeding.rounds.due import waiting
from breeding.rounds.rows import FadingRow
from nursery.worn import WORN_AHEAD

WEIGHT = 0.1
"""Below all that is looked at: nothing is lost by another day, until it cannot be read."""
SLOWLY = 90


def print_again(row: FadingRow, books: Books, day: date) -> Next | None:
    """A month before the first print at this place is expected to be gone; until another print is recorded."""
    due = row.prints[0][0] - WORN_AHEAD
    return Next("retag", due, waiting(WEIGHT, due, SLOWLY), partial(_tell, row))


def _tell(row: FadingRow, day: date) -> Told:
    first = row.prints[0][0]
    count = sum(number for until, number in row.prints if until <= max(day + WORN_AHEAD, first))
    about = f"about {words.short(first, day)}"
    ends = f"can be read until {about}" if first >= day else f"could be read until {about}"
    until = first if first >= day else None
    if count == 1:
        return Told(words.sentence(f"its print {ends}, by what it was printed on"), until)
    reason = words.sentence(f"the first of their prints {ends}, by what they were printed on")
    return Told(reason, until, title=f"Print {count} new tags")
