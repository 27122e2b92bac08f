"""On which days a routine falls due: recurrence rules of RFC 5545 (section 3.3.10), read to whole days.

A rule is checked here before python-dateutil sees it, because dateutil takes COUNT together with UNTIL, repeats the
start for ever at INTERVAL=0, and looks for a day that never comes until the year 9999. No Django and no clock.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import UTC, date, datetime, time, timedelta, tzinfo
from functools import lru_cache

from dateutil.rrule import rrule, rrulestr

LONGEST_RULE = 200
WEEKDAYS = ("MO", "TU", "WE", "TH", "FR", "SA", "SU")
MOST_BETWEEN = {"DAILY": 3650, "WEEKLY": 520, "MONTHLY": 120, "YEARLY": 10}
"""The largest INTERVAL for each FREQ: ten years."""
FIRST_WITHIN = 10
"""Years within which a rule must name its first day."""
CALENDAR_CYCLE = 400
"""Years after which the calendar comes again, weekdays and leap years alike."""

_TOO_OFTEN = frozenset({"SECONDLY", "MINUTELY", "HOURLY"})
_TIMES = frozenset({"BYHOUR", "BYMINUTE", "BYSECOND"})
_NUMBERS = {"BYMONTH": 12, "BYMONTHDAY": 31, "BYYEARDAY": 366, "BYWEEKNO": 53, "BYSETPOS": 366}
_ONLY_FROM_START = frozenset({"BYMONTH"})
_PARTS = frozenset({"FREQ", "INTERVAL", "COUNT", "UNTIL", "WKST", "BYDAY", *_NUMBERS})
_NOT_WITH = {
    "BYMONTHDAY": {"WEEKLY"},
    "BYYEARDAY": {"DAILY", "WEEKLY", "MONTHLY"},
    "BYWEEKNO": {"DAILY", "WEEKLY", "MONTHLY"},
}
_REPEATS_SOON = frozenset({"FREQ", "INTERVAL", "BYDAY", "WKST", "UNTIL"})
_EXAMPLE = "for example FREQ=WEEKLY;BYDAY=MO,TH"


@dataclass(frozen=True)
class Rule:
    """A rule that was checked: its parts as written, in capitals; ``until`` is its last day, if it names one."""

    parts: tuple[tuple[str, str], ...]
    until: date | None = None

    @property
    def text(self) -> str:
        """The rule with its last day as a plain day, as it is stored."""
        return ";".join(f"{name}={self._value(name, value)}" for name, value in self.parts)

    def _value(self, name: str, value: str) -> str:
        return f"{self.until:%Y%m%d}" if name == "UNTIL" and self.until else value

    def get(self, name: str, otherwise: str = "") -> str:
        return dict(self.parts).get(name, otherwise)

    @property
    def interval(self) -> int:
        return int(self.get("INTERVAL", "1"))


def checked(text: str, *, start: date, zone: tzinfo = UTC) -> Rule:
    """The rule somebody typed, once it is sure that it names days, and that finding them ends.

    Args:
        text: an RFC 5545 recurrence rule, with or without "RRULE:" before it.
        start: the day from which it holds.
        zone: a time given with UNTIL is taken to the day it falls on there.

    Raises:
        ValueError: what cannot be, or what no routine should be; the message is a sentence that says what to write.

    >>> checked("rrule:freq=weekly;byday=mo,th", start=date(2026, 1, 5)).text
    'FREQ=WEEKLY;BYDAY=MO,TH'
    """
    rule = read(text, zone=zone)
    first = _first_day(rule, start)
    if first is None:
        raise ValueError(
            f"This rule names no day in its first {FIRST_WITHIN} years. Check its months, days and its end."
        )
    return rule


def read(text: str, *, zone: tzinfo = UTC) -> Rule:
    """The parts of a rule, each as RFC 5545 allows it; whether it ever names a day is not looked at.

    Raises:
        ValueError: as in ``checked``.
    """
    parts = _parts(text)
    told = dict(parts)
    _check_frequency(told)
    _check_end(told)
    _check_lists(told)
    _check_weekdays(told)
    return Rule(parts, _last_day(told["UNTIL"], zone) if "UNTIL" in told else None)


def days(text: str, start: date) -> Iterator[date]:
    """The days a checked rule names from ``start`` on, in order. RFC 5545 wants the start to be one of them; where
    it is not, the first that is comes first.

    >>> [day.day for _, day in zip(range(3), days("FREQ=MONTHLY;BYMONTHDAY=31", date(2026, 1, 31)))]
    [31, 31, 31]
    """
    return (moment.date() for moment in _rrule(text, start))


def last_day(text: str, start: date, day: date) -> date | None:
    """The latest day the rule names up to ``day``, that one included; None before the first."""
    return _around(text, start, day)[0]


def next_day(text: str, start: date, day: date) -> date | None:
    """The first day the rule names after ``day``; None when it has ended."""
    return _around(text, start, day)[1]


@lru_cache(maxsize=4096)
def _around(text: str, start: date, day: date) -> tuple[date | None, date | None]:
    last = None
    for found in days(text, _near(read(text), start, day)):
        if found > day:
            return last, found
        last = found
    return last, None


def _near(rule: Rule, start: date, day: date) -> date:
    """A later start from which the days around ``day`` are the same, so that years of days are not gone through.

    Only where the rule repeats within seven of its steps: daily and weekly ones that choose by weekday at the most.
    """
    step = rule.interval * {"DAILY": 1, "WEEKLY": 7}.get(rule.get("FREQ"), 0)
    if not step or not {name for name, _ in rule.parts} <= _REPEATS_SOON:
        return start
    last = min(day, rule.until or day)
    return start + timedelta(days=step * max((last - start).days // step - 8, 0))


def _rrule(text: str, start: date) -> rrule:
    return rrulestr(text, dtstart=datetime.combine(start, time.min))


def _first_day(rule: Rule, start: date) -> date | None:
    """The first day a rule names, within its first years.

    Looking ends with the calendar, in the year 9999. So the rule is tried some times 400 years on, where weekdays and
    leap years are as they are now, and the end is near enough to be reached in a blink.
    """
    later = (9999 - FIRST_WITHIN - 1 - start.year) // CALENDAR_CYCLE * CALENDAR_CYCLE
    shifted = Rule(rule.parts, _years_on(rule.until, later) if rule.until else None)
    found = next(days(shifted.text, _years_on(start, later)), None)
    if found is None or found.year - later > start.year + FIRST_WITHIN:
        return None
    return _years_on(found, -later)


def _years_on(day: date, years: int) -> date:
    """By whole calendar cycles, so that 29 February stays one; what lies past the last year there is, ends with it."""
    return date.max if day.year + years > date.max.year else day.replace(year=day.year + years)


# --- what is typed -----------------------------------------------------------------------------------------------


def _parts(text: str) -> tuple[tuple[str, str], ...]:
    plain = "".join(text.upper().split()).removeprefix("RRULE:").strip(";")
    if not plain:
        raise ValueError(f"Write the rule, {_EXAMPLE}.")
    if len(plain) > LONGEST_RULE:
        raise ValueError(f"A rule has {LONGEST_RULE} letters at most. Make two routines of it.")
    parts = tuple(_part(part) for part in plain.split(";"))
    names = [name for name, _ in parts]
    twice = next((name for name in names if names.count(name) > 1), None)
    if twice:
        raise ValueError(f"{twice} stands in the rule twice. Leave one of them out.")
    return parts


def _part(part: str) -> tuple[str, str]:
    name, sign, value = part.partition("=")
    if name in _TIMES:
        raise ValueError(f"A routine comes on a day, not at a time of it. Leave {name} out.")
    if name not in _PARTS:
        raise ValueError(f"“{name[:40]}” is no part of a rule. Write it like this, {_EXAMPLE}.")
    if not sign or not value:
        raise ValueError(f"{name} says nothing. Write something behind its sign, {_EXAMPLE}.")
    return name, value


def _check_frequency(told: dict[str, str]) -> None:
    frequency = told.get("FREQ")
    if frequency is None:
        raise ValueError("FREQ is missing. Begin with FREQ=DAILY, WEEKLY, MONTHLY or YEARLY.")
    if frequency in _TOO_OFTEN:
        raise ValueError("A routine comes once a day at most. Write FREQ=DAILY.")
    if frequency not in MOST_BETWEEN:
        raise ValueError(f"FREQ is DAILY, WEEKLY, MONTHLY or YEARLY, not “{frequency[:40]}”.")
    if "INTERVAL" in told:
        _whole("INTERVAL", told["INTERVAL"], 1, MOST_BETWEEN[frequency])
    for name, unfit in _NOT_WITH.items():
        if name in told and frequency in unfit:
            raise ValueError(f"{name} does not go with FREQ={frequency}. Leave it out, or take another FREQ.")


def _check_end(told: dict[str, str]) -> None:
    if "COUNT" in told and "UNTIL" in told:
        raise ValueError("COUNT and UNTIL both say when it ends. Leave one of them out.")
    if "COUNT" in told:
        _whole("COUNT", told["COUNT"], 1, 9999)


def _check_lists(told: dict[str, str]) -> None:
    for name, most in _NUMBERS.items():
        for value in told[name].split(",") if name in told else ():
            least = 1 if name in _ONLY_FROM_START else -most
            _whole(name, value, least, most, zero=False)
    if "BYSETPOS" in told and not told.keys() & {"BYDAY", *_NUMBERS} - {"BYSETPOS"}:
        raise ValueError("BYSETPOS chooses among days. Say which, with BYDAY or BYMONTHDAY.")


def _check_weekdays(told: dict[str, str]) -> None:
    if told.get("WKST", "MO") not in WEEKDAYS:
        raise ValueError(f"WKST is one of {', '.join(WEEKDAYS)}.")
    for value in told["BYDAY"].split(",") if "BYDAY" in told else ():
        found = re.fullmatch(r"([+-]?\d{1,2})?(MO|TU|WE|TH|FR|SA|SU)", value, re.ASCII)
        if not found:
            raise ValueError(f"BYDAY takes {', '.join(WEEKDAYS)}, not “{value[:40]}”.")
        if found[1]:
            _check_ordinal(told, found[1])


def _check_ordinal(told: dict[str, str], number: str) -> None:
    """The "1" of 1FR: of a month, or of a year, and of nothing shorter."""
    in_month = told["FREQ"] == "MONTHLY" or "BYMONTH" in told
    if told["FREQ"] not in {"MONTHLY", "YEARLY"} or "BYWEEKNO" in told:
        raise ValueError("A number before a weekday, as in 1FR, goes with FREQ=MONTHLY or FREQ=YEARLY only.")
    _whole("The number before a weekday", number, -5 if in_month else -53, 5 if in_month else 53, zero=False)


def _whole(name: str, value: str, least: int, most: int, *, zero: bool = True) -> None:
    found = re.fullmatch(r"[+-]?\d{1,5}", value, re.ASCII)
    if not found or not least <= int(value) <= most or (not zero and int(value) == 0):
        around = " without 0" if least < 0 and not zero else ""
        raise ValueError(f"{name} is a whole number from {least} to {most}{around}, not “{value[:40]}”.")


def _last_day(value: str, zone: tzinfo) -> date:
    """The last day that UNTIL lets through: the day itself, or the day on which its moment falls in ``zone``."""
    found = re.fullmatch(r"(\d{8})(?:T(\d{6})(Z?))?", value, re.ASCII)
    try:
        day = datetime.strptime(found[1], "%Y%m%d")
        moment = datetime.strptime(found[1] + (found[2] or "000000"), "%Y%m%d%H%M%S")
        return (moment.replace(tzinfo=UTC).astimezone(zone) if found[3] else day).date()
    except (TypeError, ValueError, OverflowError):
        raise ValueError("UNTIL is a day, for example UNTIL=20261224.") from None
