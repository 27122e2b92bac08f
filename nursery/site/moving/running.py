"""A whole table brought into the books, once to see what it would make, and once for good: the same way both times."""

from collections import Counter
from collections.abc import Collection
from contextlib import nullcontext
from dataclasses import dataclass, field
from datetime import date
from typing import Any

from django.db import connection, transaction
from django.utils import timezone

from nursery.days import EARLIEST, Day
from nursery.models import Flag, Person, Thing
from nursery.records import registry
from nursery.records.errors import AlreadySent, Refused
from nursery.records.mind import keeping_in_mind
from nursery.site.models import Import
from nursery.site.moving.before import Before, Earlier, brought_before
from nursery.site.moving.kinds import KINDS
from nursery.site.moving.making import Making
from nursery.site.moving.rows import BRING
from nursery.site.moving.rows.books import Books
from nursery.site.moving.tables.columns import Kind, Problem, Told, told
from nursery.site.moving.tables.days import Reading
from nursery.site.moving.tables.order import parents_first
from nursery.site.moving.tables.parse import Table, parsed

MOST_PASSES = 6
CHANGED = "This row of the same table was brought in before, and differs. Undo that import first."
_COLUMN_OF = {"designation": "word", "name": "place", "position": "spike", "number": "tag", "pods_left": "pods"}
"""Columns of a table for the arguments of record functions that bear other names."""


@dataclass
class Outcome:
    """What a run made, by the words for its kinds and in words by row, and why other rows cannot be brought in.

    ``before`` are rows that an earlier table brought in, which stay out unless the owner wants them once more.
    ``refused`` are the rows of which part may have been made before a record function refused.
    """

    making: Making
    made: Counter[str] = field(default_factory=Counter)
    rows: dict[int, str] = field(default_factory=dict)
    problems: list[Problem] = field(default_factory=list)
    flags: list[tuple[int, str]] = field(default_factory=list)
    before: dict[int, Earlier] = field(default_factory=dict)
    refused: set[int] = field(default_factory=set)

    def told(self) -> dict[str, Any]:
        """As it is kept with the import."""
        return {
            "rows": sorted(self.rows.items()),
            "problems": [[one.row, one.heading, one.sentence] for one in self.problems],
            "before": [[row, f"the same as {one.words}"] for row, one in sorted(self.before.items())],
            "notes": sorted([*self.making.notes, *self.flags]),
            "made": dict(self.made),
            "places": self.making.new_places,
            "taxa": self.making.new_taxa,
            "acts": len(self.making.acts),
        }


class _TakenBack(Exception):
    """Ends the transaction of a preview."""


def looked_over(moving: Import, *, by: Person) -> Outcome:
    """What bringing the table in would make and what stands in the way; nothing is kept.

    Rows that were refused are left out and the rest is tried again, so that what is told of the rest holds without
    them.
    """
    outcome = _tried(moving, by=by, without=())
    problems: list[Problem] = list(outcome.problems)
    for _ in range(MOST_PASSES):
        if not outcome.refused:
            break
        outcome = _tried(moving, by=by, without={one.row for one in problems})
        problems += outcome.problems
    outcome.problems = sorted(problems, key=lambda one: one.row)
    return outcome


def _tried(moving: Import, *, by: Person, without: Collection[int]) -> Outcome:
    outcome = None
    try:
        with transaction.atomic():
            outcome = run(moving, by=by, without=without)
            raise _TakenBack
    except _TakenBack:
        return outcome


def run(moving: Import, *, by: Person, without: Collection[int], until_refused: bool = False) -> Outcome:
    """Bring in every row but those ``without``; the caller's transaction decides whether it stays.

    With ``until_refused`` it ends at the first problem, for then nothing may stay.

    On SQLite the transaction keeps all other writers out, so what was read can be kept in mind, and they wait less.
    """
    with nullcontext() if connection.features.has_select_for_update else keeping_in_mind(all_or_nothing=until_refused):
        return _run(moving, by=by, without=without, until_refused=until_refused)


def _run(moving: Import, *, by: Person, without: Collection[int], until_refused: bool) -> Outcome:
    kind, table = KINDS[moving.kind], parsed(moving.table)
    before = brought_before(moving, table)
    outcome = Outcome(Making(moving, by, grown_from=frozenset(before.tables)), before=before.rows)
    without = {*without, *_stays_out(moving, before)}
    outcome.making.notes += before.notes(kind, without)
    books = Books.of(outcome.making)
    today = timezone.localdate()
    for row in parents_first(list(_readable(outcome, moving, kind, table, without))):
        if until_refused and outcome.problems:
            break
        outcome.making.row = row.number
        try:
            outcome.rows[row.number] = BRING[kind.code](books, row)
        except Refused as refusal:
            outcome.refused.add(row.number)
            outcome.problems.append(_problem(refusal, row, moving, kind, table, today))
        except AlreadySent:
            outcome.refused.add(row.number)
            outcome.problems.append(Problem(row.number, "", CHANGED))
    if until_refused and outcome.problems:
        return outcome
    outcome.made, outcome.flags = _made(outcome.making), _flags(outcome.making)
    return outcome


def _stays_out(moving: Import, before: Before) -> Collection[int]:
    return () if moving.again else before.rows


def _readable(outcome: Outcome, moving: Import, kind: Kind, table: Table, without: Collection[int]):
    how = reading(moving)
    for row in table.rows:
        if row.number in without:
            continue
        read = told(row, table, moving.columns, kind, how)
        if read.problems:
            outcome.problems += read.problems
        else:
            if moving.as_of and "looked" not in moving.columns:
                read.values["looked"] = Day.on(moving.as_of)
            yield read


def reading(moving: Import) -> Reading:
    return Reading(today=timezone.localdate(), order=moving.day_order, spring=moving.spring)


def _problem(refusal: Refused, row: Told, moving: Import, kind: Kind, table: Table, today: date) -> Problem:
    column = _day_column(row, kind, today) if refusal.field == "day" else _COLUMN_OF.get(refusal.field, refusal.field)
    heading = next((table.headings[at] for at, name in enumerate(moving.columns) if column and name == column), "")
    return Problem(row.number, heading, " ".join([refusal.sentence, *refusal.reasons]))


def _day_column(row: Told, kind: Kind, today: date) -> str:
    """Which of the days of a row cannot be."""
    days = [column.name for column in kind.columns if column.reads == "day"]
    cannot_be = [name for name in days if (first := row.day(name).first) and not EARLIEST <= first <= today]
    return cannot_be[0] if cannot_be else ""


def _made(making: Making) -> Counter[str]:
    """How many things of each kind."""
    born = Thing.objects.filter(born_by__in=[act.pk for _, act in making.acts]).exclude(kind="cross").order_by("pk")
    return Counter(registry.thing_kind(kind).words for kind in born.values_list("kind", flat=True))


def _flags(making: Making) -> list[tuple[int, str]]:
    """What will stand under "To sort out", by row."""
    row_of = {act.pk: row for row, act in making.acts}
    flags = Flag.objects.filter(act__in=list(row_of)).order_by("pk")
    return [(row_of[flag.act_id], f"{flag.sentence} It will stand under “To sort out”.") for flag in flags]
