"""The round of a day, and the tasks of one thing: both by the same rules."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date, timedelta
from types import MappingProxyType
from typing import NamedTuple

from django.utils import timezone

from breeding.milestones.spikes import OPEN
from breeding.rounds import order, words
from breeding.rounds.answers import Asking, answers_for, links_for
from breeding.rounds.answers import next_words as _next_words
from breeding.rounds.beside import beside
from breeding.rounds.books import Books, Next, Partner, Told
from breeding.rounds.gather import gather, places
from breeding.rounds.kinds import BY_CODE
from breeding.rounds.morning import as_the_day_began
from breeding.rounds.naming import Names, known_of, names_of, sub_words
from breeding.rounds.place_order import Walked
from breeding.rounds.remarks import Said, newest_remarks
from breeding.rounds.rows import Row, SpikeRow
from breeding.rounds.rules import left_out, nexts_for
from breeding.rounds.task import Good, Task
from breeding.rounds.why_not import switched_off, why_not, why_nothing
from nursery.models import LivingThing
from nursery.records.house import house

__all__ = ["Good", "Outlook", "Round", "Task", "asked_now", "next_words", "round_for", "tasks_for", "tasks_now"]

NO_REMARKS: Mapping[int, Said] = MappingProxyType({})
SOON = timedelta(days=3)
PRESSING = 5.0
"""From five times the accepted risk on, a task is shown as pressing; what merely waits rolls over without reproach."""


@dataclass(frozen=True)
class Round:
    """A day's tasks: ``today`` fits the minutes there are, ``rest`` rolls over if there is no time.

    ``rest_count`` and ``rest_minutes`` are of all that rolls over, of which ``rest`` may hold the most urgent only;
    ``counts`` says how many of each kind there are today, whichever kinds are shown. ``answered`` is how many of the
    minutes went into what was answered today, told where something rolls over for it.
    """

    day: date
    minutes: int
    today: tuple[Task, ...]
    rest: tuple[Task, ...]
    rest_count: int
    rest_minutes: int
    counts: dict[str, int]
    places: dict[int, Walked]
    answered: int = 0

    @property
    def groups(self) -> list[order.Group]:
        return order.grouped(self.today, self.places)

    @property
    def rest_groups(self) -> list[order.Group]:
        return order.grouped(self.rest, self.places)

    @property
    def minutes_needed(self) -> int:
        return sum(task.minutes for task in self.today)


@dataclass(frozen=True)
class Outlook:
    """The next tasks of one thing, the first due first; ``why_not`` says in words why nothing, or later, is asked.

    ``off`` says which questions are left out because their kind is switched off.
    """

    tasks: tuple[Task, ...]
    why_not: str = ""
    off: str = ""

    def due(self, day: date) -> tuple[Task, ...]:
        return tuple(task for task in self.tasks if task.due <= day)


class Due(NamedTuple):
    """A task before it is written out: what ordering needs, and what writing it needs."""

    row: Row
    found: Next
    urgency: float

    @property
    def kind(self) -> str:
        return self.found.kind

    @property
    def thing_id(self) -> int:
        return self.row.pk

    @property
    def due(self) -> date:
        return self.found.due

    @property
    def minutes(self) -> int:
        return self.found.minutes or BY_CODE[self.kind].minutes


def round_for(day: date, *, minutes: int | None = None, kind: str = "", most_rest: int | None = None) -> Round:
    """All that is due by ``day`` as the books stand, cut to ``minutes`` (the house's own if none are given); of today,
    what was answered since the day began counts against them (see ``breeding.rounds.order.cut``).

    With ``kind``, only tasks of that kind are shown; the cut is that of the whole day. ``most_rest`` is how many of
    those that roll over are written out, None for all.
    """
    books = gather()
    minutes = house().minutes_a_day if minutes is None else minutes
    found = _due(books.rows, books, day)
    began = _began_with(found, books, day)
    today, rest = order.cut(found, minutes, began_with=began)
    answered = order.answered(found, minutes, began_with=began) if rest and began is not None else 0
    counts = Counter(one.kind for one in today)
    if kind:
        today, rest = ([one for one in part if one.kind == kind] for part in (today, rest))
    offered = _beside(today, books, day, kind)
    shown = [*today, *rest[:most_rest], *(one for _, one in offered)]
    written = _written(shown, books, day, remarks=newest_remarks(day))
    cut = len(written) - len(offered)
    for (host, _), task in zip(offered, written[cut:], strict=True):
        written[host] = replace(written[host], beside=(*written[host].beside, task))
    return Round(
        day=day,
        minutes=minutes,
        today=tuple(written[: len(today)]),
        rest=tuple(written[len(today) : cut]),
        rest_count=len(rest),
        rest_minutes=sum(one.minutes for one in rest),
        counts=dict(counts),
        places=places(),
        answered=answered,
    )


def _due(rows: Iterable[Row], books: Books, day: date) -> list[Due]:
    found = ((row, one) for row in rows for one in nexts_for(row, books, day) if one.due <= day)
    return [Due(row, one, one.weigh(day)) for row, one in found]


def _began_with(found: list[Due], books: Books, day: date) -> list[Due] | None:
    """What was asked when the day began; None where nothing was recorded since.

    Most rows are as they were, and so is what they ask, but for spikes in flower where pollen came or went since.
    """
    before = as_the_day_began(books, day)
    if before is None:
        return None
    same_pollen = (before.pollen, before.males) == (books.pollen, books.males)
    as_now = {id(row) for row in before.rows} & {id(row) for row in books.rows if same_pollen or not _flowers(row)}
    others = [row for row in before.rows if id(row) not in as_now]
    return [*(one for one in found if id(one.row) in as_now), *_due(others, before, day)]


def _flowers(row: Row) -> bool:
    return isinstance(row, SpikeRow) and row.stage in OPEN


def _beside(today: list[Due], books: Books, day: date, kind: str) -> list[tuple[int, Due]]:
    """What the visits of today's list may cover as well, each with the place of its task in the list."""

    def nexts(row: Row) -> list[Next]:
        return [one for one in nexts_for(row, books, day) if kind in {"", one.kind}]

    offered = beside([one.row for one in today], books.rows, nexts, day)
    return [(one.host, Due(one.row, one.found, one.found.weigh(day))) for one in offered]


def tasks_for(thing: LivingThing, day: date) -> Outlook:
    """What the round asks or will ask for this thing; for a plant, for its open spikes."""
    books = gather(only=thing)
    if not thing.is_open or not books.rows:
        return Outlook((), why_nothing(thing, day))
    found = [Due(row, one, one.weigh(day)) for row in books.rows for one in nexts_for(row, books, day)]
    tasks = _written(found, books, day, known=known_of(thing, books.rows))
    off = switched_off(kind for row in books.rows for kind in left_out(row, books, day))
    return Outlook(tuple(sorted(tasks, key=lambda task: (task.due, -task.urgency))), why_not(thing, day), off)


def tasks_now(things: Sequence[LivingThing], day: date) -> list[Task]:
    """What the round asks by a day of these things of one kind, as its rows."""
    open_ones = [thing for thing in things if thing.is_open]
    if not open_ones:
        return []
    books = gather(only=open_ones[0] if len(open_ones) == 1 else open_ones)
    return _written(order.by_urgency(_due(books.rows, books, day)), books, day, remarks=newest_remarks(day))


def asked_now(things: Sequence[LivingThing], day: date) -> set[int]:
    """Of these things of one kind, those of which the round asks something by a day."""
    books = gather(only=things)
    return {one.thing_id for one in _due(books.rows, books, day)}


def next_words(thing: LivingThing, day: date) -> str:
    """What comes next for a thing, in a few words, for the line that says that an answer was recorded."""
    books = gather(only=thing)
    if not thing.is_open or not books.rows:
        return why_nothing(thing, day)
    return _next_words(books.rows[0], books, day)


def _written(
    found: list[Due], books: Books, day: date, *, known: Names | None = None, remarks: Mapping[int, Said] = NO_REMARKS
) -> list[Task]:
    told = [one.found.tell(day) for one in found]
    partners = {partner.source for one in told for partner in (*one.partners, *one.serves)}
    names = names_of({one.row for one in found} | partners, known=known)
    when = "today" if day == timezone.localdate() else "that day"
    written = (_task(one, said, books, names, day, when) for one, said in zip(found, told, strict=True))
    return [replace(task, remark=remarks[task.thing_id]) if task.thing_id in remarks else task for task in written]


def _task(one: Due, told: Told, books: Books, names: Names, day: date, when: str) -> Task:
    row, kind = one.row, BY_CODE[one.kind]
    asking = Asking(one.kind, row, told, books, names, day, now=one.due <= day)
    due_words, tone = _window(one, told, day, when)
    return Task(
        kind=one.kind,
        title=told.title or kind.title,
        thing_id=row.pk,
        slug=row.slug,
        number=names.numbers.get(row.pk),
        name_parts=names.parts(row),
        sub=sub_words(row),
        place_id=row.place_id,
        due=one.due,
        until=told.until,
        due_words=due_words,
        tone=tone,
        urgency=one.urgency,
        minutes=one.minutes,
        reason=told.reason,
        icon=kind.icon,
        look=kind.look,
        partners=tuple(_good(partner, names) for partner in told.partners),
        serves=tuple(_good(partner, names) for partner in told.serves),
        answers=answers_for(asking),
        extra_links=links_for(asking),
        sowing=getattr(row, "sowing", None),
        cautions=told.cautions or kind.cautions,
        when=when,
    )


def _good(partner: Partner, names: Names) -> Good:
    source = partner.source
    url = f"/{source.slug}/{source.pk}/"
    return Good(names.parts(source), partner.words, url, names.numbers.get(source.pk))


def _window(found: Due, told: Told, day: date, when: str) -> tuple[str, str]:
    """The words of the pill and its tone: late, today, soon, or plain for what is still to come."""
    if found.due > day:
        return words.short(found.due, day), "plain"
    presses = found.urgency >= PRESSING
    if told.until and day <= told.until:
        tone = "today" if presses or told.until - day <= SOON else "soon"
        return told.window or f"by {words.short(told.until, day)}", tone
    if found.due == day:
        return when if when == "today" else words.short(day, day), "today"
    return f"since {words.short(found.due, day)}", "late" if presses else "soon"
