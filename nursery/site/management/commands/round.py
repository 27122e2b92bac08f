"""`manage.py round`: what to look at on a day, and why, as text for a person or as JSON for a machine."""

import json
from argparse import ArgumentParser, ArgumentTypeError
from collections.abc import Iterator
from datetime import date
from typing import Any

from django.utils import timezone

from breeding.rounds import words
from breeding.rounds.order import Group
from breeding.rounds.tasks import Round, Task, round_for
from nursery.closings import open_events, sentence
from nursery.days import EARLIEST, LATEST
from nursery.site.first_start import database_ready
from nursery.site.management.pageless import PagelessCommand


def day(text: str) -> date:
    """A day as typed after --date."""
    try:
        day = date.fromisoformat(text)
    except ValueError as error:
        raise ArgumentTypeError(f"{text} is no day; write it as year-month-day, for example 2026-03-09") from error
    if not EARLIEST <= day <= LATEST:
        raise ArgumentTypeError(f"{text} is no day here; give a year from {EARLIEST.year} to {LATEST.year}")
    return day


class Command(PagelessCommand):
    help = "Say what to look at on a day and why, by place in walking order, cut to the nursery's minutes."

    def add_arguments(self, parser: ArgumentParser) -> None:
        parser.add_argument("--date", type=day, metavar="D", help="year-month-day (default: today)")
        parser.add_argument("--format", choices=("text", "json"), default="text")

    def handle(self, *args: Any, date: date | None, format: str, **options: Any) -> None:
        database_ready()
        found = round_for(date or timezone.localdate())
        text = json.dumps(as_plain(found), indent=2, ensure_ascii=False) if format == "json" else as_text(found)
        self.stdout.write(text)


def as_text(found: Round) -> str:
    """The round to read or to print."""
    return "\n".join(_lines(found))


def as_plain(found: Round) -> dict[str, Any]:
    """The round as numbers, words and lists: days as year-month-day, names as plain text."""
    return {
        "day": found.day.isoformat(),
        "minutes": found.minutes,
        "minutes_needed": found.minutes_needed,
        "going_on": [sentence(event, timezone.now()) for event in open_events()],
        "groups": [_plain_group(group) for group in found.groups],
        "if_there_is_time": [_plain_group(group) for group in found.rest_groups],
    }


def _plain_group(group: Group) -> dict[str, Any]:
    return {
        "place_id": group.place_id,
        "house": group.house,
        "within": group.within,
        "tasks": [_plain_task(task) for task in group.tasks],
    }


def _plain_task(task: Task) -> dict[str, Any]:
    return {
        "kind": task.kind,
        "title": task.title,
        "number": task.number,
        "name": task.name,
        "sub": task.sub,
        "url": task.url,
        "due": task.due.isoformat(),
        "until": task.until and task.until.isoformat(),
        "window": task.due_words,
        "urgency": round(task.urgency, 3),
        "minutes": task.minutes,
        "reason": task.reason,
        "pollen": [{"name": good.name, "how": good.words} for good in task.partners],
        "could_serve": [{"name": good.name, "number": good.number, "how": good.words} for good in task.serves],
        "while_you_are_here": [_plain_task(one) for one in task.beside],
    }


def _lines(found: Round) -> Iterator[str]:
    yield f"{words.WEEKDAYS[found.day.weekday()]} round, {words.long(found.day)}, {found.minutes_needed} min"
    yield from (sentence(event, timezone.now()) for event in open_events())
    if not found.today:
        yield "Nothing is due."
    yield from _of_groups(found.groups)
    if found.rest:
        yield f"\nIf there is time: {found.rest_count} more"
        yield from _of_groups(found.rest_groups)


def _of_groups(groups: list[Group]) -> Iterator[str]:
    for group in groups:
        yield "\n" + ", ".join(part for part in (group.house, group.within) if part)
        for task in group.tasks:
            number = "" if task.number is None else f" {task.number}"
            about = ", ".join(filter(None, (task.name, f"{task.sub}{number}")))
            yield f"  {task.title} ({task.due_words})" + (f": {about}" if about else "")
            yield f"    {task.reason}"
            if task.partners:
                named = words.listed([f"{good.name} ({good.words})" for good in task.partners])
                yield f"    Good {task.when}: {named}."
            if task.serves:
                yield f"    It could serve: {words.listed([f'{good.name} ({good.words})' for good in task.serves])}."
            if task.beside:
                yield f"    {task.beside_words}"
