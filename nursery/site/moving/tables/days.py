"""Days as people write them in tables, kept as vague as they were written.

"3/4/2026" means two days; which, is asked once for a column (see day_order.py). Seasons are those of weather
services: spring from March to May in the north, from September to November in the south (common practice, no source).
"""

import re
from collections.abc import Callable
from dataclasses import dataclass
from datetime import date, timedelta
from typing import Literal

from nursery.days import EARLIEST, HALF_A_WEEK, LATEST, MONTHS, Day
from nursery.site.moving.tables.errors import CellWrong, quoted

Order = Literal["", "day", "month"]
Spring = Literal["march", "september"]

UNKNOWN = frozenset(
    {"", "unknown", "not known", "day not known", "don't know", "?", "??", "???", "-", "–", "—", "n/a", "na", "none"}
)
SEASONS = {"spring": 0, "summer": 3, "autumn": 6, "fall": 6, "winter": 9}
_NUMBERED = {name.lower()[:length]: at for at, name in enumerate(MONTHS, 1) for length in (3, 4, len(name))}
_ABOUT = re.compile(r"(?:about|around|approx\.?|approximately|circa|ca?\.?|~)\s*(.+)")
_WEEKDAY = re.compile(r"(?:mon|tues?|wed(?:nes)?|thu(?:rs)?|fri|sat(?:ur)?|sun)(?:day)?\.?,?\s+(?=.*\d)")
_TIME = r"(?:[t ]\d{1,2}:\d\d(?::\d\d)?(?:\.\d+)?z?)?"
NUMBERS = re.compile(rf"(\d{{1,2}})([/-])(\d{{1,2}})\2(\d{{4}}|\d\d){_TIME}")


@dataclass(frozen=True)
class Reading:
    """What was asked about a table: which number of 3/4/2026 is the day, and when spring is. ``today`` is its clock."""

    today: date
    order: Order = ""
    spring: Spring = "march"


def day_told(text: str, how: Reading) -> Day:
    """The day that a cell tells.

    Raises:
        CellWrong: it cannot be read, is no day of any calendar, or could be two days.

    >>> how = Reading(today=date(2026, 11, 25))
    >>> [day_told(text, how).said for text in ("2026-03-09", "9 Mar 2026", "March 2026", "spring 2026", "2026", "?")]
    ['exact', 'exact', 'month', 'season', 'year', 'unknown']
    """
    said = " ".join(text.lower().replace("’", "'").split())
    if said.rstrip(".") in UNKNOWN:
        return Day.unknown()
    about = _ABOUT.fullmatch(said)
    try:
        day = _read(_WEEKDAY.sub("", about[1] if about else said, count=1), how)
        if day is not None and not EARLIEST <= day.first <= LATEST:
            raise CellWrong(f"{quoted(text)}: give a year from {EARLIEST.year} to {LATEST.year}.")
    except CellWrong:
        raise
    except (ValueError, OverflowError) as error:
        raise CellWrong(f"{quoted(text)} is no day of any calendar. Look at it again.") from error
    if day is None:
        raise CellWrong(_unreadable(text))
    return Day.about_week(day.first) if about and day.said == "exact" else day


def written(day: Day) -> str:
    """A day as export writes it, which ``day_told`` reads the same way again, whatever was asked.

    >>> written(Day.month(2026, 3)), written(Day.season(date(2026, 1, 5))), written(Day.about_week(date(2026, 3, 9)))
    ('2026-03', '2025-12 to 2026-02', 'about 2026-03-09')
    """
    if day.first is None:
        return "unknown"
    return _WRITTEN[day.said](day.first)


def _unreadable(text: str) -> str:
    if re.fullmatch(r"\d{5}(\.\d+)?", text.strip()):
        return f"{quoted(text)} is how a spreadsheet counts days. Show that column as a date there, and copy it again."
    return (
        f"{quoted(text)} is no day that can be read here. Write it like 2026-03-09, 9 Mar 2026, March 2026, "
        "spring 2026, 2026 or unknown."
    )


def _read(said: str, how: Reading) -> Day | None:
    for pattern, reader in _READERS:
        found = pattern.fullmatch(said)
        day = reader(how, *found.groups()) if found else None
        if day is not None:
            return day
    return None


def _ymd(how: Reading, year: str, month: str, day: str) -> Day:
    return Day.on(date(int(year), int(month), int(day)))


def _month(how: Reading, year: str, month: str) -> Day:
    return Day.month(int(year), int(month))


def _named(how: Reading, day: str, month: str, year: str) -> Day | None:
    return Day.on(date(_year(how, year), _NUMBERED[month], int(day))) if month in _NUMBERED else None


def _month_or_season(how: Reading, word: str, year: str) -> Day | None:
    if word in _NUMBERED:
        return Day.month(int(year), _NUMBERED[word])
    return _season(how, word, int(year)) if word in SEASONS else None


def _season(how: Reading, word: str, year: int) -> Day:
    start = _season_start(how, word)
    if start == 12:
        raise CellWrong(
            f"“{word} {year}” may begin or end in {year}. Write {word} {year - 1}/{year % 100:02} or "
            f"{word} {year}/{(year + 1) % 100:02}."
        )
    return Day.season(date(year, start, 1))


def _season_of_two_years(how: Reading, word: str, year: str, next_year: str) -> Day | None:
    if word not in SEASONS:
        return None
    if (int(year) + 1) % 100 != int(next_year) % 100 or _season_start(how, word) != 12:
        raise CellWrong(f"“{word} {year}/{next_year}” is no season that can be read here. Write, say, March {year}.")
    return Day.season(date(int(year), 12, 1))


def _season_start(how: Reading, word: str) -> int:
    return (3 if how.spring == "march" else 9) + SEASONS[word] - (12 if _wraps(how, word) else 0)


def _wraps(how: Reading, word: str) -> bool:
    return (3 if how.spring == "march" else 9) + SEASONS[word] > 12


def _from_to(how: Reading, year: str, month: str, to_year: str, to_month: str) -> Day | None:
    day = Day.season(date(int(year), int(month), 1))
    ends = (day.last.year, day.last.month) == (int(to_year), int(to_month))
    return day if ends and day.first.month == int(month) else None


def _numbers(how: Reading, one: str, sign: str, other: str, year: str) -> Day:
    first, second = int(one), int(other)
    if first != second and not how.order:
        raise CellWrong(f"“{one}{sign}{other}{sign}{year}” may be two days. Say above which number is the day.")
    day, month = (second, first) if how.order == "month" else (first, second)
    if month > 12 and day <= 12:
        which = "month" if how.order == "month" else "day"
        raise CellWrong(f"“{one}{sign}{other}{sign}{year}” does not put the {which} first, as the others do.")
    return Day.on(date(_year(how, year), month, day))


def _with_points(how: Reading, day: str, month: str, year: str) -> Day:
    """Written with points, the day comes first (common practice, no source)."""
    return Day.on(date(_year(how, year), int(month), int(day)))


def _year(how: Reading, year: str) -> int:
    if len(year) == 4:
        return int(year)
    if 2000 + int(year) > how.today.year:
        raise CellWrong(f"The year “{year}” may be of two centuries. Write it with four digits.")
    return 2000 + int(year)


_READERS: tuple[tuple[re.Pattern[str], Callable[..., Day | None]], ...] = tuple(
    (re.compile(pattern), reader)
    for pattern, reader in (
        (rf"(\d{{4}})[-/.](\d{{1,2}})[-/.](\d{{1,2}}){_TIME}", _ymd),
        (r"(\d{4})[-/.](\d{1,2})", _month),
        (r"(\d{1,2})[-/.](\d{4})", lambda how, month, year: _month(how, year, month)),
        (r"(\d{4})", lambda how, year: Day.year(int(year))),
        (r"(\d{1,2})(?:st|nd|rd|th)?[.,]?[ -]*([a-z]+)[.,]*[ -]*(\d{4}|\d\d)", _named),
        (
            r"([a-z]+)\.? (\d{1,2})(?:st|nd|rd|th)?,? (\d{4})",
            lambda how, month, day, year: _named(how, day, month, year),
        ),
        (r"(?:early |mid[ -]?|late |end of |start of |beginning of )?([a-z]+)[.,]*[ -]*(\d{4})", _month_or_season),
        (r"(\d{4})[ -]([a-z]+)", lambda how, year, word: _month_or_season(how, word, year)),
        (r"([a-z]+) (\d{4})[/–-](\d{4}|\d\d)", _season_of_two_years),
        (r"(\d{4})-(\d\d) to (\d{4})-(\d\d)", _from_to),
        (NUMBERS.pattern, _numbers),
        (rf"(\d{{1,2}})\.(\d{{1,2}})\.(\d{{4}}|\d\d){_TIME}", _with_points),
    )
)

_WRITTEN: dict[str, Callable[[date], str]] = {
    "exact": lambda first: first.isoformat(),
    "week": lambda first: f"about {(first + HALF_A_WEEK).isoformat()}",
    "month": lambda first: f"{first:%Y-%m}",
    "season": lambda first: f"{first:%Y-%m} to {first + timedelta(days=75):%Y-%m}",
    "year": lambda first: f"{first:%Y}",
}
