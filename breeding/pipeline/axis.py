"""The time axis that fits the lines shown, and where each line lies on it, in percent of its width. Pure."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date, timedelta
from functools import cached_property
from typing import NamedTuple

from breeding.pipeline.lines import Line
from nursery.days import MONTHS

MARGIN = timedelta(days=10)
FARTHEST_BACK, FARTHEST_ON = timedelta(days=550), timedelta(days=400)
MOST_LABELS = 9
A_LETTER = 1.75
"""What a letter of a month takes of the narrowest axis that is shown, in percent (measured at 1280 pixels)."""
_STEPS = (1, 2, 3, 6, 12)
_NARROWEST = 0.6


class Tick(NamedTuple):
    x: float
    text: str


class Bar(NamedTuple):
    """A piece of a line; ``middle`` is that of a predicted window."""

    x: float
    width: float
    middle: float = 0.0


@dataclass(frozen=True)
class Axis:
    """From ``start`` to ``end``; bars that reach farther are cut off there."""

    start: date
    end: date
    today: date

    @property
    def now(self) -> float:
        return self.at(self.today)

    def at(self, day: date) -> float:
        """Percent of the width, from 0 to 100; kept, as thousands of lines share the days."""
        if day not in self._found:
            share = (day - self.start).days / (self.end - self.start).days
            self._found[day] = round(100 * min(max(share, 0.0), 1.0), 2)
        return self._found[day]

    @cached_property
    def _found(self) -> dict[date, float]:
        return {}

    def past(self, line: Line) -> Bar | None:
        if line.start is None:
            return None
        x = self.at(line.start)
        return Bar(x, round(max(self.at(line.end or self.today) - x, _NARROWEST), 2))

    def windows(self, line: Line) -> list[Bar]:
        return [self._bar(one.low, one.middle, one.high) for one in line.windows if one.low < self.end]

    def _bar(self, low: date, middle: date, high: date) -> Bar:
        x = self.at(low)
        return Bar(x, round(max(self.at(high) - x, _NARROWEST), 2), self.at(middle))

    @property
    def ticks(self) -> list[Tick]:
        """The first days of months, as many as fit, each with its whole name; January tells its year."""
        first = self.start.year * 12 + self.start.month
        last = self.end.year * 12 + self.end.month - 1
        step = next((one for one in _STEPS if (last - first) / one < MOST_LABELS), _STEPS[-1])
        found = (_tick(self, month) for month in range(first, last + 1) if month % step == 0)
        return [tick for tick in found if tick.x + len(tick.text) * A_LETTER <= 100]


def _tick(axis: Axis, month: int) -> Tick:
    year, turn = divmod(month, 12)
    words = MONTHS[turn][:3]
    return Tick(axis.at(date(year, turn + 1, 1)), f"{words} {year}" if turn == 0 else words)


def axis_for(found: Iterable[Line], today: date) -> Axis:
    """From the first start to the last window's end, neither farther from today than a picture can show.

    >>> axis = axis_for([], date(2026, 11, 25))
    >>> axis.now, [tick.text for tick in axis.ticks]
    (18.18, ['Dec', 'Jan 2027'])
    """
    found = list(found)
    start = min((line.start for line in found if line.start), default=today)
    end = max((window.high for line in found for window in line.windows), default=today)
    start = max(min(start, today) - MARGIN, today - FARTHEST_BACK)
    return Axis(start, min(max(end, today + timedelta(days=35)) + MARGIN, today + FARTHEST_ON), today)
