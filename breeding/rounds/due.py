"""When to look next at one thing, and how much waiting until tomorrow would cost."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date, timedelta
from typing import NamedTuple

from breeding.rounds.expected import Expected
from breeding.science.cadence import chance_lost, next_look, risk_a_look
from breeding.science.grace import Grace
from breeding.science.predicted import Law

CANT_TELL_AGAIN = timedelta(days=2)
"""Our choice: long enough for something to change, short enough to lose nothing by."""
ONE_DAY = timedelta(days=1)
MOST_FOR_WAITING = 2.0


class Watch(NamedTuple):
    """A step being waited for.

    ``start`` is the first day on which it can have begun: taking it for older than it is loses nothing. ``not_yet`` is
    the last day on which it was known not to have come, ``looked`` the last day on which anybody looked. ``law`` and
    ``grace`` are of a stage of the step that is waited for, where it is not its end.
    """

    start: date
    not_yet: date
    looked: date
    expected: Expected
    bagged: bool = False
    law: Law | None = None
    grace: Grace | None = None

    @property
    def due(self) -> date:
        """The day to look again: never the day of the last look, never later than the longest gap after it."""
        start, looked, expected = self.start, self.looked, self.expected
        if self.law is None and self.grace is None:
            look = expected.next_look(self._age, self.bagged)
        else:
            law, grace, risk = self._told
            look = next_look(self._age, law, grace=grace, risk=risk, longest_gap=expected.longest_gap)
        since = (looked - start).days
        return start + timedelta(min(max(look, since + 1), since + expected.longest_gap))

    def urgency(self, day: date, due: date) -> float:
        """How many times the risk accepted for one look is run by leaving it until the day after ``day``.

        About 1 on the day it is due for its risk, near 0 where only the longest gap asks; grows while it waits.
        """
        gap = self.expected.longest_gap
        law, grace, risk = self._told
        lost = chance_lost(self._age, (day - self.start).days + 1, law, grace)
        return lost / risk_a_look(law, grace=grace, risk=risk, longest_gap=gap) + overdue(day, due, gap)

    @property
    def _age(self) -> int:
        return max((self.not_yet - self.start).days, 0)

    @property
    def _told(self) -> tuple[Law, Grace, float]:
        expected = self.expected
        return self.law or expected.timing, self.grace or expected.graces(self.bagged), expected.risk


def overdue(day: date, due: date, gap: int) -> float:
    """Days past the due day, in longest gaps: what was rolled over rises, but never over what is at risk today."""
    return min(max((day - due).days, 0) / gap, MOST_FOR_WAITING)


def waiting(weight: float, due: date, gap: int) -> Callable[[date], float]:
    """The urgency of what loses nothing in a day: the same until it is due, then rising as it waits."""
    return lambda day: weight + overdue(day, due, gap)


def cant_tell(looked: date, gap: int) -> date:
    """When to look again where nothing could be told; never later than the longest gap."""
    return min(looked + CANT_TELL_AGAIN, looked + timedelta(days=gap))
