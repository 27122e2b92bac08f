"""One small rule for each kind of task: a row, the books and a day give the next task of that kind, or none.

A new kind of task is one more rule in this tuple and one more line in ``breeding.rounds.kinds``.
"""

from __future__ import annotations

from collections.abc import Callable
from datetime import date

from breeding.rounds.books import Books, Next
from breeding.rounds.rows import (
    FadingRow,
    PollenRow,
    PotRow,
    RoutineRow,
    Row,
    SectionRow,
    SeedRow,
    SowingRow,
    SpikeRow,
    made_on,
)
from breeding.rounds.rules.pods import bag_pods, harvest, look_at_pods
from breeding.rounds.rules.pollen import old_pollen, take_pollen
from breeding.rounds.rules.pollinate import pollinate
from breeding.rounds.rules.pots import look_for_seedlings
from breeding.rounds.rules.retag import print_again
from breeding.rounds.rules.routines import routine
from breeding.rounds.rules.seed import sow
from breeding.rounds.rules.sowing import sow_session
from breeding.rounds.rules.spikes import look_at_spike
from breeding.rounds.rules.take import read_take
from breeding.science.cadence import ONE_DAY, on_working_day

Rule = Callable[..., Next | None]

RULES: dict[type[Row], tuple[Rule, ...]] = {
    SpikeRow: (take_pollen, pollinate, look_at_spike),
    SectionRow: (harvest, bag_pods, read_take, look_at_pods),
    PollenRow: (old_pollen,),
    SeedRow: (sow,),
    PotRow: (look_for_seedlings,),
    RoutineRow: (routine,),
    FadingRow: (print_again,),
    SowingRow: (sow_session,),
}

LOOKS = frozenset({"spikes", "pods", "pots"})
"""Kinds of task that ask for a look, which keeps to working days; whatever is to be done at once does not, nor does
the reading of take, which is not to be read before its time."""


def nexts_for(row: Row, books: Books, day: date) -> list[Next]:
    """The next task of each kind that is on for one open thing; a postponed one is due no earlier than was asked."""
    asked = [rule(row, books, day) for rule in RULES[type(row)]]
    return [_moved(found, row, books) for found in asked if found and found.kind not in books.off]


def left_out(row: Row, books: Books, day: date) -> list[str]:
    """The kinds of task that would be asked of it, were they on."""
    asked = (rule(row, books, day) for rule in RULES[type(row)])
    return [found.kind for found in asked if found and found.kind in books.off]


def _moved(found: Next, row: Row, books: Books) -> Next:
    """Looks to a working day; whatever was postponed to the day that was asked for."""
    due = found.due
    if found.kind in LOOKS and due.weekday() not in books.working:
        due = _working(due, row, books.working)
    if row.later_until and row.later_until > due:
        due = row.later_until
    return found if due is found.due else found._replace(due=due)


def _working(due: date, row: Row, weekdays: frozenset[int]) -> date:
    """The working day for a look: not after it is due, if there is one since anybody last looked."""
    return on_working_day(due, weekdays, after=min(row.last_look or made_on(row), due - ONE_DAY))
