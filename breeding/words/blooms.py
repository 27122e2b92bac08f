"""When the spikes of a clone or plant were seen in flower: as rows for a table, and as bars for a picture. Pure.

The first day is the one on which open flowers were first seen, so flowering began on it or before; the last is the day
on which it was first seen over, or of the last look that saw flowers.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date

from nursery.days import MONTHS

WIDTH, YEAR_HEIGHT, BAR_HEIGHT = 366, 22, 12
LEFT, TOP = 40, 18


@dataclass(frozen=True)
class Bloom:
    """One spike that was seen in flower, from ``first`` to ``last``; ``on`` while nobody has seen it over."""

    first: date
    last: date
    sex: str
    url: str
    number: int | None
    on: bool

    @property
    def days(self) -> int:
        """How many days flowers were seen, both ends counted."""
        return (self.last - self.first).days + 1


@dataclass(frozen=True)
class Bar:
    """A piece of flowering within one year, in the picture's units."""

    x: int
    y: int
    width: int
    sex: str
    words: str


@dataclass(frozen=True)
class Mark:
    """Words in the picture: a year beside its row, or the letter of a month above."""

    x: int
    y: int
    text: str


@dataclass(frozen=True)
class Chart:
    """Flowering by year, January to December from left to right."""

    width: int
    height: int
    bars: tuple[Bar, ...]
    years: tuple[Mark, ...]
    months: tuple[Mark, ...]
    words: str


def chart_of(blooms: Iterable[Bloom]) -> Chart | None:
    """The picture, the latest year on top; None where nothing was seen in flower.

    >>> bloom = Bloom(date(2025, 12, 30), date(2026, 1, 2), "female", "/spikes/1/", None, on=False)
    >>> [(bar.x, bar.width) for bar in chart_of([bloom]).bars]
    [(404, 2), (40, 2)]
    """
    found = list(blooms)
    if not found:
        return None
    last = max(bloom.last.year for bloom in found)
    years = range(last, min(bloom.first.year for bloom in found) - 1, -1)
    rows = {year: TOP + turn * YEAR_HEIGHT for turn, year in enumerate(years)}
    return Chart(
        width=LEFT + WIDTH,
        height=TOP + len(rows) * YEAR_HEIGHT,
        bars=tuple(_bar(bloom, year, rows[year]) for bloom in found for year in _years(bloom)),
        years=tuple(Mark(0, y + BAR_HEIGHT, str(year)) for year, y in rows.items()),
        months=tuple(Mark(_x(date(last, month, 1)), BAR_HEIGHT, MONTHS[month - 1][:1]) for month in range(1, 13)),
        words=f"Days in flower by year, {years[-1]} to {last}" if len(rows) > 1 else f"Days in flower in {last}",
    )


def _years(bloom: Bloom) -> range:
    return range(bloom.first.year, bloom.last.year + 1)


def _bar(bloom: Bloom, year: int, y: int) -> Bar:
    first, last = max(bloom.first, date(year, 1, 1)), min(bloom.last, date(year, 12, 31))
    width = _x(last) - _x(first) + 1
    return Bar(_x(first), y, width, bloom.sex, f"{_day(bloom.first)} to {_day(bloom.last)}")


def _x(day: date) -> int:
    """Where a day begins in the picture, a unit a day; a year is 366 wide, so that a date stands at one place."""
    of_leap_year = day.replace(year=2024)
    return LEFT + of_leap_year.timetuple().tm_yday - 1


def _day(day: date) -> str:
    return f"{day.day} {MONTHS[day.month - 1][:3]} {day.year}"
