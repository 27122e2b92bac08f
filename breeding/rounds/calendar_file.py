"""The days to come as a file for calendar programs (iCalendar, RFC 5545), written by the icalendar library."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Sequence
from datetime import date, datetime, timedelta
from itertools import groupby

from icalendar import Calendar, Event

from breeding.rounds.ahead import Coming

MOST_LINES = 80
"""In one day; a calendar's window shows fewer."""

ASK_AGAIN = timedelta(hours=4)
"""How often a program should look (RFC 7986, REFRESH-INTERVAL); many have a mind of their own."""


def calendar_file(tasks: Iterable[Coming], *, house: str, key: str, now: datetime, round_url: str = "") -> bytes:
    """One event of a whole day for each day with tasks, which marks nobody as busy.

    Args:
        key: what tells this nursery from others, so that a day keeps its UID however often it is read.
        now: with its time zone; when this was written.
        round_url: the address of the round, ending in "/"; empty where none is known.
    """
    calendar = Calendar()
    calendar.add("prodid", "-//Tepal//Round//EN")
    calendar.add("version", "2.0")
    calendar.add("method", "PUBLISH")
    calendar.add("name", f"{house}: round")
    calendar.add("x-wr-calname", f"{house}: round")  # the older name of the same, which most programs read
    calendar.add("refresh-interval", ASK_AGAIN, parameters={"value": "DURATION"})
    for day, found in _by_day(tasks).items():
        calendar.add_component(_event(day, found, key, now, round_url))
    return calendar.to_ical()


def _by_day(tasks: Iterable[Coming]) -> dict[date, list[Coming]]:
    days: dict[date, list[Coming]] = defaultdict(list)
    for task in tasks:
        days[task.day].append(task)
    return dict(sorted(days.items()))


def _event(day: date, tasks: Sequence[Coming], key: str, now: datetime, round_url: str) -> Event:
    event = Event()
    event.add("uid", f"round-{day}-{key}")
    event.add("dtstamp", now)
    event.add("dtstart", day)
    event.add("dtend", day + timedelta(days=1))
    event.add("transp", "TRANSPARENT")
    event.add("summary", _summary(tasks))
    event.add("description", _description(tasks))
    if round_url:
        event.add("url", f"{round_url}round/{day}/")
    return event


def _summary(tasks: Sequence[Coming]) -> str:
    words = "1 task" if len(tasks) == 1 else f"{len(tasks)} tasks"
    return f"Round: {words}, {sum(task.minutes for task in tasks)} min"


def _description(tasks: Sequence[Coming]) -> str:
    """A line for each task under its place, in the order given; the last line counts what is left out."""
    shown, lines = tasks[:MOST_LINES], []
    for place, here in groupby(shown, key=lambda task: task.place):
        lines += [f"{place}:", *(f"- {_line(task)}" for task in here)]
    if len(tasks) > len(shown):
        lines.append(f"and {len(tasks) - len(shown)} more")
    return "\n".join(lines)


def _line(task: Coming) -> str:
    number = str(task.number) if task.number is not None else ""
    return " · ".join(filter(None, (task.title, task.name, number)))
