"""The round of a day, and the tasks of one thing: both by the same rules."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace
from datetime import date, timedelta
from uuid import UUID

from breeding.answers import Answer
from breeding.rounds import order, words
from breeding.rounds.answers import Asking, Link, answers_for, links_for
from breeding.rounds.answers import next_words as _next_words
from breeding.rounds.books import Books, Next, Told
from breeding.rounds.gather import gather, places
from breeding.rounds.kinds import BY_CODE
from breeding.rounds.naming import Names, names_of
from breeding.rounds.place_order import Walked
from breeding.rounds.rows import PollenRow, PotRow, Row, SectionRow, SeedRow, SpikeRow
from breeding.rounds.rules import nexts_for
from nursery.models import LivingThing
from nursery.names import NamePart
from nursery.records.house import house

SOON = timedelta(days=3)
PRESSING = 5.0
"""From five times the accepted risk on, a task is shown as pressing; what merely waits rolls over without reproach."""


@dataclass(frozen=True)
class Good:
    """Pollen that is good that day: whose, and its age and storage in words."""

    name_parts: tuple[NamePart, ...]
    words: str

    @property
    def name(self) -> str:
        return "".join(part.text for part in self.name_parts)


@dataclass(frozen=True)
class Task:
    """One thing to do for one thing, with its day, its reason and its answers.

    ``due`` is the day it is asked for, whether that has come or not; ``until`` the last day that serves as well, None
    where there is none to name. ``look`` is true where walking past answers it.
    """

    kind: str
    title: str
    thing_id: int
    slug: str
    number: int | None
    name_parts: tuple[NamePart, ...]
    sub: str
    place_id: int | None
    due: date
    until: date | None
    due_words: str
    tone: str
    urgency: float
    minutes: int
    reason: str
    icon: str
    look: bool
    partners: tuple[Good, ...] = ()
    act_id: UUID | None = None
    answers: tuple[Answer, ...] = ()
    extra_links: tuple[Link, ...] = ()

    @property
    def url(self) -> str:
        return f"/{self.slug}/{self.thing_id}/"

    @property
    def name(self) -> str:
        return "".join(part.text for part in self.name_parts)


@dataclass(frozen=True)
class Round:
    """A day's tasks: ``today`` fits the minutes there are, ``rest`` rolls over if there is no time."""

    day: date
    minutes: int
    today: tuple[Task, ...]
    rest: tuple[Task, ...]
    places: dict[int, Walked]

    @property
    def groups(self) -> list[order.Group]:
        return order.grouped(self.today, self.places)

    @property
    def rest_groups(self) -> list[order.Group]:
        return order.grouped(self.rest, self.places)

    def only(self, kind: str) -> Round:
        """The same round with the tasks of one kind only; what fits is not decided anew."""
        today = tuple(task for task in self.today if task.kind == kind)
        return replace(self, today=today, rest=tuple(task for task in self.rest if task.kind == kind))

    @property
    def minutes_needed(self) -> int:
        return sum(task.minutes for task in self.today)


@dataclass(frozen=True)
class Outlook:
    """The next tasks of one thing, the first due first; ``why_not`` says in words why nothing, or later, is asked."""

    tasks: tuple[Task, ...]
    why_not: str = ""

    def due(self, day: date) -> tuple[Task, ...]:
        return tuple(task for task in self.tasks if task.due <= day)


def round_for(day: date, *, minutes: int | None = None) -> Round:
    """All that is due by ``day`` as the books stand, cut to ``minutes`` (the house's own if none are given)."""
    books = gather()
    due = [(row, found) for row in books.rows for found in nexts_for(row, books, day) if found.due <= day]
    told = [(row, found, found.tell(day)) for row, found in due]
    names = names_of({row for row, _, _ in told} | _partners(told))
    tasks = [_task(row, found, told, books, names, day) for row, found, told in told]
    minutes = house().minutes_a_day if minutes is None else minutes
    today, rest = order.cut(tasks, minutes)
    return Round(day, minutes, tuple(today), tuple(rest), places())


def tasks_for(thing: LivingThing, day: date) -> Outlook:
    """What the round asks or will ask for this thing; for a plant, for its open spikes."""
    books = gather(only=thing)
    why_not = _why_not(thing, day)
    if not thing.is_open or not books.rows:
        return Outlook((), why_not)
    told = [(row, found, found.tell(day)) for row in books.rows for found in nexts_for(row, books, day)]
    names = names_of({row for row, _, _ in told} | _partners(told))
    tasks = [_task(row, found, told, books, names, day) for row, found, told in told]
    return Outlook(tuple(sorted(tasks, key=lambda task: (task.due, -task.urgency))), why_not)


def next_words(thing: LivingThing, day: date) -> str:
    """What comes next for a thing, in a few words, for the line that says that an answer was recorded."""
    books = gather(only=thing)
    if not thing.is_open or not books.rows:
        return _why_not(thing, day)
    return _next_words(books.rows[0], books, day)


def _task(row: Row, found: Next, told: Told, books: Books, names: Names, day: date) -> Task:
    kind = BY_CODE[found.kind]
    asking = Asking(found.kind, row, told, books, names, day)
    due_words, tone = _window(found, told, day)
    return Task(
        kind=found.kind,
        title=told.title or kind.title,
        thing_id=row.pk,
        slug=row.slug,
        number=names.numbers.get(row.pk),
        name_parts=names.parts(row),
        sub=_sub(row),
        place_id=row.place_id,
        due=found.due,
        until=told.until,
        due_words=due_words,
        tone=tone,
        urgency=told.urgency,
        minutes=told.minutes or kind.minutes,
        reason=told.reason,
        icon=kind.icon,
        look=kind.look,
        partners=tuple(Good(names.parts(partner.source), partner.words) for partner in told.partners),
        answers=answers_for(asking),
        extra_links=links_for(asking),
    )


def _partners(told: Iterable[tuple[Row, Next, Told]]) -> set[Row]:
    return {partner.source for _, _, one in told for partner in one.partners}


def _window(found: Next, told: Told, day: date) -> tuple[str, str]:
    """The words of the pill and its tone: late, today, soon, or plain for what is still to come."""
    if found.due > day:
        return words.short(found.due, day), "plain"
    presses = told.urgency >= PRESSING
    if told.until and day <= told.until:
        tone = "today" if presses or told.until - day <= SOON else "soon"
        return told.window or f"by {words.short(told.until, day)}", tone
    if found.due == day:
        return "today", "today"
    return f"since {words.short(found.due, day)}", "late" if presses else "soon"


def _sub(row: Row) -> str:
    """What tells this thing from others of its name."""
    match row:
        case SpikeRow():
            return f"spike, {row.position}" if row.position else "spike"
        case SectionRow():
            tie = f"{row.tie} tie" if row.tie and " " not in row.tie else row.tie
            return f"section {row.order}, {tie}" if tie else f"section {row.order}"
        case PollenRow():
            return "pollen"
        case SeedRow():
            return f"seed, {row.words}" if row.words else "seed"
        case PotRow():
            return "seed pot"


_NO_TASKS = {
    "plant": "Nothing is asked of a plant without an open spike.",
    "clone": "Nothing is asked of a clone; its plants' spikes are looked at.",
    "place": "Nothing is asked of a place; what stands there is in the round.",
    "cross": "Nothing is asked of a cross; its sections, seed and pots are looked at.",
}
_CLOSED = {
    "stopped": "It is not watched any more",
    "over": "It is over",
    "aborted": "It was aborted",
    "harvested": "All of it was harvested",
    "lost": "Its pods were lost",
    "finished": "It is finished",
    "sown": "All of it is sown",
    "died": "It died",
    "sold": "It was sold",
    "given": "It was given away",
    "thrown": "It was thrown away",
}


def _why_not(thing: LivingThing, day: date) -> str:
    if thing.cancelled:
        return "It was entered by mistake, and that was undone."
    if thing.closed_on is not None:
        return f"{_CLOSED.get(thing.closed_why, 'It is closed')}, since {words.short(thing.closed_on, day)}."
    if thing.later_until is not None and thing.later_until > day:
        return f"It was put off until {words.short(thing.later_until, day)}."
    return _NO_TASKS.get(thing.kind, "")
