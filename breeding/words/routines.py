"""Routines in words: how often they come, and what to mind while doing them."""

from __future__ import annotations

import re

from breeding.science.recurrence import WEEKDAYS, Rule, read
from nursery.days import MONTHS

DAY_NAMES = ("Monday", "Tuesday", "Wednesday", "Thursday", "Friday", "Saturday", "Sunday")
_NAMED = dict(zip(WEEKDAYS, DAY_NAMES, strict=True))
_EACH = {"DAILY": "day", "WEEKLY": "week", "MONTHLY": "month", "YEARLY": "year"}
_FIRSTS = {"1": "first", "2": "second", "3": "third", "4": "fourth", "5": "fifth", "-1": "last", "-2": "last but one"}
_TOLD = {
    "DAILY": set(),
    "WEEKLY": {"BYDAY"},
    "MONTHLY": {"BYDAY", "BYMONTHDAY"},
    "YEARLY": {"BYMONTH", "BYMONTHDAY"},
}
_MEANT = (
    ("misting", r"mist|fog|humid|spray|hose"),
    ("feeding", r"feed|fertili|manure"),
    ("cleaning", r"clean|wash|disinfect|scrub|bleach"),
)


def rule_words(text: str) -> str:
    """How often, in words; a rule of a rarer kind is shown as it is written.

    >>> rule_words("FREQ=WEEKLY;BYDAY=MO,TH"), rule_words("FREQ=MONTHLY;BYMONTHDAY=-1")
    ('every Monday and Thursday', 'every month on the last day')
    >>> rule_words("FREQ=DAILY;INTERVAL=6"), rule_words("FREQ=WEEKLY;INTERVAL=2;BYDAY=FR")
    ('every 6 days', 'every 2 weeks on Friday')
    """
    rule = read(text)
    frequency = rule.get("FREQ")
    plain = {name for name, _ in rule.parts} - {"FREQ", "INTERVAL", "COUNT", "UNTIL", "WKST"}
    on = _on(rule)
    if not plain <= _TOLD[frequency] or on is None:
        return f"by the rule {text}"
    return _every(rule, frequency, on) + _end(rule)


def steps_of(words: str) -> tuple[str, ...]:
    """The steps whose cautions belong to a routine, by the words it has.

    >>> steps_of("Mist the warm house"), steps_of("change the sticky cards")
    (('misting',), ())
    """
    return tuple(step for step, stems in _MEANT if re.search(rf"\b({stems})", words, re.IGNORECASE))


def _every(rule: Rule, frequency: str, on: str) -> str:
    if frequency == "WEEKLY" and rule.interval == 1 and on:
        return f"every {on}"
    often = _EACH[frequency] if rule.interval == 1 else f"{rule.interval} {_EACH[frequency]}s"
    return f"every {often} on {on}" if on else f"every {often}"


def _end(rule: Rule) -> str:
    if rule.until:
        return f", until {rule.until.day} {MONTHS[rule.until.month - 1]} {rule.until.year}"
    count = rule.get("COUNT")
    return f", {count} times" if count else ""


def _on(rule: Rule) -> str | None:
    """The days within a week, month or year; empty where the rule leaves them to its start, None where it is rare."""
    weekdays, month_days, months = (rule.get(name) for name in ("BYDAY", "BYMONTHDAY", "BYMONTH"))
    if weekdays and month_days:
        return None
    if weekdays:
        told = [_weekday(value) for value in weekdays.split(",")]
        return None if None in told else _listed(told)
    if not month_days:
        return None if months else ""
    told = [_month_day(value) for value in month_days.split(",")]
    return None if None in told else _listed(told) + (f" of {_listed(_months(months))}" if months else "")


def _weekday(value: str) -> str | None:
    number, name = value[:-2].lstrip("+"), _NAMED[value[-2:]]
    if not number:
        return name
    return f"the {_FIRSTS[number]} {name}" if number in _FIRSTS else None


def _month_day(value: str) -> str | None:
    number = int(value)
    if number > 0:
        return f"the {number}{_ending(number)}"
    return {-1: "the last day", -2: "the last day but one"}.get(number)


def _ending(number: int) -> str:
    return "th" if 10 < number < 20 else {1: "st", 2: "nd", 3: "rd"}.get(number % 10, "th")


def _months(value: str) -> list[str]:
    return [MONTHS[int(number) - 1] for number in value.split(",")]


def _listed(words: list[str]) -> str:
    return words[0] if len(words) == 1 else f"{', '.join(words[:-1])} and {words[-1]}"
