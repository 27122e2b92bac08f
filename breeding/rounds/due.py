"""When to look next at one thing, and how much waiting until tomorrow would cost."""

from __future__ import annotations

from datetime import date, timedelta
from functools import lru_cache
from typing import NamedTuple

from breeding.rounds.expected import Expected
from breeding.science.cadence import next_look_age
from breeding.science.timings import Timing

CANT_TELL_AGAIN = timedelta(days=2)
"""Our choice: long enough for something to change, short enough to lose nothing by."""
ONE_DAY = timedelta(days=1)
MOST_FOR_WAITING = 2.0


class Watch(NamedTuple):
    """A step being waited for.

    ``start`` is the first day on which it can have begun: taking it for older than it is loses nothing. ``not_yet`` is
    the last day on which it was known not to have come, ``looked`` the last day on which anybody looked.
    """

    start: date
    not_yet: date
    looked: date
    expected: Expected
    bagged: bool = False

    @property
    def due(self) -> date:
        """The day to look again: never the day of the last look, never later than the longest gap after it."""
        expected = self.expected
        age = max((self.not_yet - self.start).days, 0)
        grace, gap = expected.grace(self.bagged), expected.longest_gap
        look = self.start + timedelta(days=_next_age(age, expected.timing, expected.risk, grace, gap))
        return min(max(look, self.looked + ONE_DAY), self.looked + timedelta(days=gap))

    def urgency(self, day: date, due: date) -> float:
        """How many times the accepted risk is run by leaving it until the day after ``day``.

        About 1 on the day it is due for its risk, near 0 where only the longest gap asks; grows while it waits.
        """
        expected = self.expected
        left_until = (day - self.start).days + 1 - expected.grace(self.bagged)
        waiting = expected.timing.survival(max((self.not_yet - self.start).days, 0))
        lost = 1 - expected.timing.survival(left_until) / waiting if waiting > 0 else 1.0
        return max(lost, 0.0) / expected.risk + overdue(day, due, expected.longest_gap)


def overdue(day: date, due: date, gap: int) -> float:
    """Days past the due day, in longest gaps: what was rolled over rises, but never over what is at risk today."""
    return min(max((day - due).days, 0) / gap, MOST_FOR_WAITING)


def cant_tell(looked: date, gap: int) -> date:
    """When to look again where nothing could be told; never later than the longest gap."""
    return min(looked + CANT_TELL_AGAIN, looked + timedelta(days=gap))


@lru_cache(maxsize=1 << 16)
def _next_age(last_age: int, timing: Timing, risk: float, grace: int, gap: int) -> int:
    """Ages are whole days, so a house full of pots asks for few different ones."""
    return next_look_age(last_age, timing=timing, risk=risk, grace=grace, longest_gap=gap)
