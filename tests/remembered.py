"""How a nursery begins is made by the record functions twice; then its rows are put there for tests that begin alike.

A quarter of the time of all tests of records and pages goes into what they start from, and most start from the same
few things: a section pollinated fifty days ago, a pot sown today. ``TEPAL_TEST_REMEMBER=no`` makes everything anew.
"""

import os
from collections import Counter
from collections.abc import Callable
from dataclasses import dataclass
from datetime import date, datetime
from functools import cache, wraps
from typing import Any, TypeVar

from django.apps import apps
from django.db import connection, transaction
from django.utils import timezone

from nursery.days import Day
from nursery.models import House, Person, TagSequence, Taxon, Thing
from tests.emptied import OURS, filled
from tests.keeping import fresh

T = TypeVar("T")
Rows = dict[str, list[tuple[Any, ...]]]

WANTED = os.environ.get("TEPAL_TEST_REMEMBER") != "no"
PLAIN = (str, int, float, date, Day, type(None))
ALL_HANGS_ON = (Thing, Taxon, TagSequence, House)
"""While none of these has a row, nothing is recorded, and nothing is set by which an act turns out otherwise."""
OFTEN = 2
"""What is asked for a second time is remembered: looking at every table is not worth it for what one test wants."""


@dataclass(frozen=True)
class Beginning:
    """What a first call made: its rows by table, what the nursery knew afterwards, and the objects it returned."""

    at: datetime
    rows: Rows
    nursery: dict[str, Any]
    returned: Any

    def put_back(self, by: Person) -> None:
        """Store the rows again, as what ``by`` did."""
        with transaction.atomic(), connection.cursor() as cursor:
            for statement, values in _statements(self.rows, by):
                cursor.execute(statement, values)


_asked: Counter[tuple[Any, ...]] = Counter()
_known: dict[tuple[Any, ...], Beginning] = {}


def begins(make: Callable[..., T]) -> Callable[..., T]:
    """Let a nursery's method give back what it made before, where it is the first that a test asks for."""

    @wraps(make)
    def made(nursery: Any, *given: Any, **facts: Any) -> T:
        first, nursery.begun = not nursery.begun, True
        values = (*given, *facts.values())
        if not (first and WANTED and all(isinstance(one, PLAIN) for one in values)) or _anything_there():
            return make(nursery, *given, **facts)
        now = timezone.localtime()
        asked = (make.__name__, given, *sorted(facts.items()), nursery.by.role, now.date(), str(now.tzinfo))
        if asked in _known and _known[asked].at <= now:  # a test may set the clock back
            return _given_again(_known[asked], nursery)
        _asked[asked] += 1
        if _asked[asked] < OFTEN:
            return make(nursery, *given, **facts)
        return _remembered(asked, nursery, lambda: make(nursery, *given, **facts))

    return made


def _given_again(beginning: Beginning, nursery: Any) -> Any:
    beginning.put_back(nursery.by)
    vars(nursery).update(fresh(beginning.nursery))
    return fresh(beginning.returned)


def _remembered(asked: tuple[Any, ...], nursery: Any, make: Callable[[], T]) -> T:
    """Make it, and remember what is new; unless it changed a row that was there, or others had a hand in it."""
    before = _contents(filled())
    returned = make()
    after = _contents(filled())
    rows = {table: some for table, some in after.items() if table not in before}
    people = {row[at] for table, some in rows.items() for row in some for at in _people_in(table)}
    if people <= {nursery.by.pk, None} and before == {table: after.get(table) for table in before}:
        knows = {name: value for name, value in vars(nursery).items() if name != "by"}
        _known[asked] = Beginning(timezone.localtime(), rows, fresh(knows), fresh(returned))
    return returned


def _anything_there() -> bool:
    exist = " OR ".join(f"EXISTS (SELECT 1 FROM {_quoted(one._meta.db_table)})" for one in ALL_HANGS_ON)
    with connection.cursor() as cursor:
        cursor.execute(f"SELECT {exist}")
        return bool(cursor.fetchone()[0])


def _contents(tables: list[str]) -> Rows:
    """All rows of these tables, as the database takes them again."""
    with connection.cursor() as cursor:
        return {table: [tuple(map(_taken, row)) for row in _all_of(cursor, table)] for table in tables}


def _all_of(cursor: Any, table: str) -> list[tuple[Any, ...]]:
    cursor.execute(f"SELECT * FROM {_quoted(table)}")
    return cursor.fetchall()


def _taken(value: Any) -> Any:
    return str(value) if connection.vendor == "sqlite" and isinstance(value, date) else value


def _statements(rows: Rows, by: Person) -> list[tuple[str, list[Any]]]:
    """What stores these rows; PostgreSQL takes it all at once."""
    statements = []
    for table, some in rows.items():
        people, places = _people_in(table), f"({', '.join(['%s'] * len(some[0]))})"
        values = [by.pk if at in people and one is not None else one for row in some for at, one in enumerate(row)]
        statements.append((f"INSERT INTO {_quoted(table)} VALUES {', '.join([places] * len(some))}", values))
    if connection.vendor == "sqlite":
        return statements
    return [("; ".join(sql for sql, _ in statements), [one for _, values in statements for one in values])]


@cache
def _people_in(table: str) -> list[int]:
    """Which columns of a table of ours name a person, counted from the left."""
    models = [one for label in OURS for one in apps.get_app_config(label).get_models(include_auto_created=True)]
    fields = [field for one in models if one._meta.db_table == table for field in one._meta.concrete_fields]
    naming = {field.column for field in fields if field.related_model is Person}
    with connection.cursor() as cursor:
        names = [one.name for one in connection.introspection.get_table_description(cursor, table)]
    return [at for at, name in enumerate(names) if name in naming]


def _quoted(table: str) -> str:
    return connection.ops.quote_name(table)
