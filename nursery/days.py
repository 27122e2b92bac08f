"""Days as people remember them: exact, about a week, a month, a season, a year, or not known.

Kept as the first and last day that it can have been, with how it was said. False exactness poisons timings, so
everything that counts days from one of these gets a range.
"""

from __future__ import annotations

from calendar import monthrange
from collections.abc import Callable
from dataclasses import dataclass, replace
from datetime import date, datetime, timedelta
from typing import Literal, get_args

Said = Literal["exact", "week", "month", "season", "year", "unknown"]

HOW_SAID: tuple[Said, ...] = get_args(Said)
HALF_A_WEEK = timedelta(days=3)
EARLIEST, LATEST = date(1950, 1, 1), date(2199, 12, 31)
"""The first and the last day that is taken anywhere; anything else is a slip in the year."""

# Not strftime: month names follow our words, never the server's locale.
MONTHS = (
    "January",
    "February",
    "March",
    "April",
    "May",
    "June",
    "July",
    "August",
    "September",
    "October",
    "November",
    "December",
)

_LONGEST = {"exact": 1, "week": 7, "month": 31, "season": 92, "year": 366}


@dataclass(frozen=True)
class Day:
    """One day, known from ``first`` to ``last``; both None when nothing is known about it.

    Raises:
        ValueError: one end missing, ends in the wrong order, or more days than was said.
    """

    first: date | None
    last: date | None
    said: Said

    def __post_init__(self) -> None:
        if self.said not in HOW_SAID:
            raise ValueError(f"A day is said as one of {', '.join(HOW_SAID)}; got “{self.said}”.")
        if self.said == "unknown":
            if self.first is not None or self.last is not None:
                raise ValueError("A day that is not known has no dates.")
            return
        if not (_is_plain_date(self.first) and _is_plain_date(self.last)):
            raise ValueError(f"A day said as “{self.said}” needs a first and a last date, without a time.")
        if not 1 <= (self.last - self.first).days + 1 <= _LONGEST[self.said]:
            raise ValueError(f"From {self.first} to {self.last} is not a day said as “{self.said}”.")

    # --- how it can be said ---

    @classmethod
    def on(cls, day: date) -> Day:
        return cls(day, day, "exact")

    @classmethod
    def about_week(cls, day: date) -> Day:
        """Three days before to three days after."""
        return cls(day - HALF_A_WEEK, day + HALF_A_WEEK, "week")

    @classmethod
    def month(cls, year: int, month: int) -> Day:
        return cls(date(year, month, 1), _end_of_month(year, month), "month")

    @classmethod
    def season(cls, day: date) -> Day:
        """The three months that hold ``day``, as weather services cut the year: March to May, and so on.

        >>> Day.season(date(2026, 1, 20)).words(date(2026, 5, 1))
        'Dec 2025–Feb 2026'
        """
        year, start = divmod(day.year * 12 + day.month - day.month % 3 - 1, 12)
        end_year, end = divmod(year * 12 + start + 2, 12)
        return cls(date(year, start + 1, 1), _end_of_month(end_year, end + 1), "season")

    @classmethod
    def year(cls, year: int) -> Day:
        return cls(date(year, 1, 1), date(year, 12, 31), "year")

    @classmethod
    def unknown(cls) -> Day:
        return cls(None, None, "unknown")

    # --- what it tells ---

    @property
    def is_known(self) -> bool:
        return self.first is not None

    @property
    def middle(self) -> date | None:
        """The day in the middle, the earlier of two; None when not known."""
        return self.first and self.first + (self.last - self.first) // 2

    @property
    def told_on(self) -> date | None:
        """A date that tells ``from_form`` this day again, wherever its end was cut off; None when not known.

        >>> Day.about_week(date(2026, 3, 10)).clipped(date(2026, 3, 10)).told_on
        datetime.date(2026, 3, 10)
        """
        return self.first + HALF_A_WEEK if self.said == "week" else self.middle

    @property
    def key(self) -> tuple[date, date]:
        """For sorting: by the middle, then by the first day; days not known come first."""
        return (self.middle or date.min, self.first or date.min)

    def age_range(self, on: date) -> tuple[int, int] | None:
        """Fewest and most days from this day to ``on``; None when not known.

        While ``on`` lies inside, the fewest are 0. Before it both are negative: an effect before its cause.

        >>> Day.about_week(date(2026, 3, 10)).age_range(date(2026, 3, 20))
        (7, 13)
        """
        if self.first is None:
            return None
        fewest, most = (on - self.last).days, (on - self.first).days
        return (max(fewest, 0) if most >= 0 else fewest, most)

    def not_after(self, today: date) -> bool:
        """Whether it can have been by ``today``; a month in progress can, and so can a day not known."""
        return self.first is None or self.first <= today

    def clipped(self, today: date) -> Day:
        """The same without the part that has not come yet.

        Raises:
            ValueError: none of it has come.

        >>> Day.month(2026, 3).clipped(date(2026, 3, 10)).last
        datetime.date(2026, 3, 10)
        """
        if not self.not_after(today):
            raise ValueError("That day has not come yet.")
        return self if self.last is None else replace(self, last=min(self.last, today))

    def words(self, today: date) -> str:
        """As it was said, with the year left away where it is this year's and nothing is lost.

        >>> [Day.on(date(2026, 11, 23)).words(date(year, 12, 1)) for year in (2026, 2027)]
        ['23 Nov', '23 Nov 2026']
        """
        return _WORDS[self.said](self, today)


def from_form(said: str, day: date | None) -> Day:
    """The day that a form tells: how it was said, and any date inside it.

    Raises:
        ValueError: no such way of saying it, no date where one is needed, or a year that is a slip.

    >>> from_form("month", date(2026, 3, 10)) == Day.month(2026, 3)
    True
    """
    if said == "unknown":
        return Day.unknown()
    if said not in _FROM_DATE:
        raise ValueError(f"Say the day as one of {', '.join(HOW_SAID)}; got “{said}”.")
    if day is None:
        raise ValueError("Give a date, or say that the day is not known.")
    if not EARLIEST <= day <= LATEST:
        raise ValueError(f"Give a year from {EARLIEST.year} to {LATEST.year}; got {day.year}.")
    return _FROM_DATE[said](day)


def _is_plain_date(value: date | None) -> bool:
    return isinstance(value, date) and not isinstance(value, datetime)


def _end_of_month(year: int, month: int) -> date:
    return date(year, month, monthrange(year, month)[1])


def _short(month: int) -> str:
    return MONTHS[month - 1][:3]


def _exact_words(day: date, today: date) -> str:
    words = f"{day.day} {_short(day.month)}"
    return words if day.year == today.year else f"{words} {day.year}"


def _season_words(first: date) -> str:
    last = Day.season(first).last
    year = "" if first.year == last.year else f" {first.year}"
    return f"{_short(first.month)}{year}–{_short(last.month)} {last.year}"


# By the first day and never by the last, which is cut off while a month is still running.
_WORDS: dict[str, Callable[[Day, date], str]] = {
    "exact": lambda day, today: _exact_words(day.first, today),
    "week": lambda day, today: f"about {_exact_words(day.first + HALF_A_WEEK, today)}",
    "month": lambda day, today: f"in {MONTHS[day.first.month - 1]} {day.first.year}",
    "season": lambda day, today: _season_words(day.first),
    "year": lambda day, today: f"in {day.first.year}",
    "unknown": lambda day, today: "day not known",
}

_FROM_DATE: dict[str, Callable[[date], Day]] = {
    "exact": Day.on,
    "week": Day.about_week,
    "month": lambda day: Day.month(day.year, day.month),
    "season": Day.season,
    "year": lambda day: Day.year(day.year),
}
