"""What falls due in the days to come, as the books stand: for a calendar, where a day is one line."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, timedelta

from breeding.rounds.gather import gather, places
from breeding.rounds.kinds import BY_CODE
from breeding.rounds.naming import names_of
from breeding.rounds.order import NO_PLACE, PACKETS
from breeding.rounds.place_order import Walked
from breeding.rounds.rows import FadingRow, PollenRow, Row, SeedRow, SowingRow
from breeding.rounds.rules import nexts_for


@dataclass(frozen=True)
class Coming:
    """One task of a day to come; ``turn`` puts it where the walk passes it."""

    day: date
    turn: int
    place: str
    title: str
    name: str
    number: int | None
    minutes: int


def coming(today: date, *, days: int) -> list[Coming]:
    """The next task of each kind for everything open that falls due within so many days, by day and in walking order.

    What is overdue counts for today. Each kind is there once a thing: when it comes again depends on what is seen.
    """
    books, last = gather(), today + timedelta(days=days)
    due = [(max(found.due, today), row, found.kind) for row in books.rows for found in nexts_for(row, books, today)]
    due = [one for one in due if one[0] <= last]
    names, walk = names_of({row for _, row, _ in due}), places()
    told = [_coming(day, row, kind, names, walk) for day, row, kind in due]
    return sorted(told, key=lambda one: (one.day, one.turn, one.place, one.title, one.number or 0))


def _coming(day: date, row: Row, kind: str, names, walk: dict[int, Walked]) -> Coming:
    known = BY_CODE[kind]
    turn, place = _where(row, walk)
    title = row.words if kind == "routine" else known.title
    return Coming(day, turn, place, title, names.text(row), names.numbers.get(row.pk), known.minutes)


def _where(row: Row, walk: dict[int, Walked]) -> tuple[int, str]:
    if found := walk.get(row.place_id):
        return found.turn, ", ".join(filter(None, (found.house, found.within)))
    return len(walk), PACKETS if isinstance(row, PollenRow | SeedRow | SowingRow | FadingRow) else NO_PLACE
