"""Questions that acts and pages ask, each built once: Django takes far longer to build one than it takes to answer."""

from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass
from functools import cache, cached_property
from typing import Any
from uuid import UUID

from django.db import DEFAULT_DB_ALIAS, connections
from django.db.backends.base.base import BaseDatabaseWrapper
from django.db.models import BigIntegerField, Model, QuerySet, UUIDField
from django.db.models.query import get_related_populators

Id = int | UUID | str
_UUID = UUIDField()
_MOST = BigIntegerField.MAX_BIGINT


@dataclass(frozen=True)
class Statement:
    """SQL with its parameters; ``places`` say at which of them each of a number of ids stands, one after the other."""

    sql: str
    parameters: tuple[Any, ...]
    places: tuple[range, ...]
    names: tuple[str, ...]
    compiler: Any
    converters: dict[int, Any]

    def answers(self, database: BaseDatabaseWrapper, ids: Sequence[Any] = ()) -> list[Sequence[Any]]:
        """The rows for these ids, as the database takes them, with each column as its field gives it."""
        parameters = list(self.parameters)
        for place in self.places:
            parameters[place.start : place.stop] = ids
        with database.cursor() as cursor:
            cursor.execute(self.sql, parameters)
            rows = cursor.fetchall()
        return list(self.compiler.apply_converters(rows, self.converters)) if self.converters else rows

    @cached_property
    def own_columns(self) -> tuple[slice, list[str]]:
        """Where in a row the object's own columns stand, and the names of their attributes."""
        fields = self.compiler.klass_info["select_fields"]
        own = slice(fields[0], fields[-1] + 1)
        return own, [column.target.attname for column, *_ in self.compiler.select[own]]

    @cached_property
    def along(self) -> list[Any]:
        """What sets the objects that are selected along."""
        return get_related_populators(self.compiler.klass_info, self.compiler.select, DEFAULT_DB_ALIAS)

    @cached_property
    def beside(self) -> list[tuple[str, int]]:
        """What is annotated, and where in a row it stands."""
        return list(self.compiler.annotation_col_map.items())


class Prepared:
    """A queryset over ids or other keys, as ``build`` makes it; it must use all of them together, each time in one
    ``__in``, and nothing else that changes."""

    def __init__(self, build: Callable[[Sequence[Id]], QuerySet]):
        self._build = build
        self._statements: dict[tuple[str, type, int], Statement] = {}

    def rows(self, ids: Iterable[Id]) -> list[dict[str, Any]]:
        """What a ``values()`` queryset gives for these ids, a dictionary for each row."""
        return [dict(zip(statement.names, row, strict=True)) for statement, row in self._answers(ids)]

    def objects(self, ids: Iterable[Id]) -> list[Any]:
        """What a queryset of objects gives for these ids, with those that it selects along and what it annotates."""
        return [_made(statement, row) for statement, row in self._answers(ids)]

    def first(self, key: Id) -> Any | None:
        """The first object for one id; None where there is none, or the id is one that no row can have."""
        if isinstance(key, int) and abs(key) > _MOST:
            return None
        return next(iter(self.objects([key])), None)

    def _answers(self, ids: Iterable[Id]) -> Iterator[tuple[Statement, Sequence[Any]]]:
        ids = list(dict.fromkeys(ids))
        if not ids:
            return
        database = the_database()
        statement = self._statement(database, type(ids[0]), len(ids))
        for row in statement.answers(database, [_adapted(one, database) for one in ids]):
            yield statement, row

    def _statement(self, database: BaseDatabaseWrapper, of: type, count: int) -> Statement:
        key = (database.vendor, of, count)
        if key not in self._statements:
            stand_ins = [_stand_in(of, number) for number in range(count)]
            self._statements[key] = _built(database, self._build(stand_ins), stand_ins)
        return self._statements[key]


class Asked:
    """A ``values()`` queryset over something that seldom changes, such as the day; built anew when that did."""

    def __init__(self, build: Callable[[Any], QuerySet]):
        self._build = build
        self._statements: dict[str, tuple[Any, Statement]] = {}

    def rows(self, over: Any) -> list[Sequence[Any]]:
        """The rows, each with its columns in the order of the queryset's."""
        database = the_database()
        known, statement = self._statements.get(database.vendor, (None, None))
        if statement is None or known != over:
            statement = _built(database, self._build(over))
            self._statements[database.vendor] = (over, statement)
        return statement.answers(database)


@cache
def by_id(model: type[Model]) -> Prepared:
    """The rows of this model by their keys."""
    return Prepared(lambda ids: model._default_manager.filter(pk__in=ids))


def _built(database: BaseDatabaseWrapper, asked: QuerySet, stand_ins: Sequence[Id] = ()) -> Statement:
    query = asked.query
    compiler = query.get_compiler(connection=database)
    sql, parameters = compiler.as_sql()
    return Statement(
        sql=sql,
        parameters=tuple(parameters),
        places=_places(parameters, [_adapted(one, database) for one in stand_ins]),
        names=tuple(query.selected or query.values_select),
        compiler=compiler,
        converters=compiler.get_converters([column for column, *_ in compiler.select]),
    )


def _places(parameters: Sequence[Any], stand_ins: list[Any]) -> tuple[range, ...]:
    """Where among the parameters all ids stand one after the other."""
    if not stand_ins:
        return ()
    places = [range(at, at + len(stand_ins)) for at, value in enumerate(parameters) if value == stand_ins[0]]
    if not places or any(list(parameters[place.start : place.stop]) != stand_ins for place in places):
        raise ValueError("This queryset does not use all of the ids together.")
    return tuple(places)


def _made(statement: Statement, row: Sequence[Any]) -> Any:
    """An object from its columns, as Django's own ModelIterable makes it."""
    own, names = statement.own_columns
    made = statement.compiler.klass_info["model"].from_db(DEFAULT_DB_ALIAS, names, row[own])
    for along in statement.along:
        along.populate(row, made)
    for name, at in statement.beside:
        setattr(made, name, row[at])
    return made


def _stand_in(of: type, number: int) -> Id:
    """An id that no row and no other parameter has."""
    if of is UUID:
        return UUID(int=number + 1)
    return f"no row's {number}" if of is str else -1_000_000_007 - number


def _adapted(value: Id, database: BaseDatabaseWrapper) -> Any:
    """An id as the database takes it."""
    return _UUID.get_db_prep_value(value, database) if isinstance(value, UUID) else value


def the_database() -> BaseDatabaseWrapper:
    """The connection itself: asked for each of its parts, Django's stand-in for it looks it up each time anew."""
    return connections[DEFAULT_DB_ALIAS]
