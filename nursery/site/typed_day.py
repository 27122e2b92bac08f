"""A day as somebody types it at a desk: "26 Nov", "24.12.2027", "yesterday". Pure."""

import re
from datetime import date, timedelta

from nursery.site.moving.tables.days import Reading, day_told
from nursery.site.moving.tables.errors import CellWrong

TOLD = "Write the day, for example 2026-03-09, 9 Mar or yesterday."
_SPOKEN = {"today": 0, "yesterday": 1}
_BARE = re.compile(r"(\d{1,2}(?:st|nd|rd|th)?[.,]?[ -]*[a-z]+|\d{1,2}\.\d{1,2})[.,]*")
"""A day and a month: "26 Nov", "26.11."."""
LEAP_YEARS_ARE_WITHIN = 8


def day_typed(text: str, today: date) -> date:
    """One day; without a year it is the last of its name, for what is typed here has happened.

    Raises:
        ValueError: it is no day, or may be several; the message says how to write it.

    >>> today = date(2026, 11, 27)
    >>> [str(day_typed(text, today)) for text in ("yesterday", "26 Nov", "28.11.", "24.12.2027")]
    ['2026-11-26', '2026-11-26', '2025-11-28', '2027-12-24']
    """
    said = " ".join(text.lower().split())
    if said in _SPOKEN:
        return today - timedelta(days=_SPOKEN[said])
    found = _BARE.fullmatch(said)
    tries = _with_years(found[1], today) if found else [said]
    days = (_exact(one, today) for one in tries)
    day = next((one for one in days if one is not None and (not found or one <= today)), None)
    if day is None:
        raise ValueError(TOLD)
    return day


def _with_years(said: str, today: date) -> list[str]:
    """The day in this year and in those before, as far back as one surely has a 29th of February."""
    sign = "." if re.fullmatch(r"\d{1,2}\.\d{1,2}", said) else " "
    return [f"{said}{sign}{year}" for year in range(today.year, today.year - LEAP_YEARS_ARE_WITHIN - 1, -1)]


def _exact(text: str, today: date) -> date | None:
    try:
        day = day_told(text, Reading(today))
    except CellWrong:
        return None
    return day.first if day.said == "exact" else None
