"""Questions that every act asks, each built once: Django takes far longer to build one than the database to answer."""

from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass
from functools import cache, cached_property
from typing import Any
from uuid import UUID

from django.db import DEFAULT_DB_ALIAS, DatabaseError, connections
from django.db.backends.base.base import BaseDatabaseWrapper
from django.db.models import Field, Model, QuerySet, UUIDField
from django.db.models.query import get_related_populators

from nursery.records.mind import written

Id = int | UUID | str
_UUID = UUIDField()


@dataclass(frozen=True)
class Statement:
    """SQL with places for a number of ids, between the parameters that stand before and after them."""

    sql: str
    before: tuple[Any, ...]
    after: tuple[Any, ...]
    names: tuple[str, ...]
    compiler: Any
    converters: dict[int, Any]

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


class Prepared:
    """A queryset over ids or other keys, as ``build`` makes it; it must use the ids once, in one ``__in``."""

    def __init__(self, build: Callable[[Sequence[Id]], QuerySet]):
        self._build = build
        self._statements: dict[tuple[str, type, int], Statement] = {}

    def rows(self, ids: Iterable[Id]) -> list[dict[str, Any]]:
        """What a ``values()`` queryset gives for these ids, a dictionary for each row."""
        return [dict(zip(statement.names, row, strict=True)) for statement, row in self._answers(ids)]

    def objects(self, ids: Iterable[Id]) -> list[Any]:
        """What a queryset of objects gives for these ids, with those that it selects along."""
        return [_made(statement, row) for statement, row in self._answers(ids)]

    def _answers(self, ids: Iterable[Id]) -> Iterator[tuple[Statement, Sequence[Any]]]:
        ids = list(dict.fromkeys(ids))
        if not ids:
            return
        database = _database()
        statement = self._statement(database, type(ids[0]), len(ids))
        with database.cursor() as cursor:
            wanted = [_adapted(one, database) for one in ids]
            cursor.execute(statement.sql, [*statement.before, *wanted, *statement.after])
            rows = cursor.fetchall()
        if statement.converters:
            rows = statement.compiler.apply_converters(rows, statement.converters)
        for row in rows:
            yield statement, row

    def _statement(self, database: BaseDatabaseWrapper, of: type, count: int) -> Statement:
        key = (database.vendor, of, count)
        if key not in self._statements:
            stand_ins = [_stand_in(of, number) for number in range(count)]
            self._statements[key] = _built(database, self._build, stand_ins)
        return self._statements[key]


def insert(row: Model) -> None:
    """Store a new row whose key is known, as Django's own save does; no signals are sent, for nothing here listens."""
    database = _database()
    sql, columns = _insert_into(database.vendor, type(row))
    with database.cursor() as cursor:
        cursor.execute(sql, [one.get_db_prep_save(one.pre_save(row, True), database) for one in columns])
    row._state.adding, row._state.db = False, database.alias
    written(row)


def update(row: Model, names: Iterable[str]) -> None:
    """Store some columns of a stored row, as Django's own save does.

    Raises:
        DatabaseError: the row is not there any more.
    """
    database = _database()
    sql, columns = _update_of(database.vendor, type(row), tuple(sorted(names)))
    values = [one.get_db_prep_save(one.pre_save(row, False), database) for one in columns]
    with database.cursor() as cursor:
        cursor.execute(sql, values)
        if cursor.rowcount != 1:
            raise DatabaseError(f"{row._meta.label} {row.pk} could not be changed, for it is not stored.")
    written(row)


def values_of(row: Model) -> dict[str, Any]:
    """The columns of a row that was just stored, as ``values()`` gives them."""
    return {one.attname: getattr(row, one.attname) for one in row._meta.concrete_fields}


@cache
def _update_of(vendor: str, model: type[Model], names: tuple[str, ...]) -> tuple[str, list[Field]]:
    quote, by_name = _database().ops.quote_name, {}
    for one in model._meta.concrete_fields:
        by_name |= {one.name: one, one.attname: one}
    columns = [by_name[name] for name in names]
    changes, key = ", ".join(f"{quote(one.column)} = %s" for one in columns), model._meta.pk
    sql = f"UPDATE {quote(model._meta.db_table)} SET {changes} WHERE {quote(key.column)} = %s"
    return sql, [*columns, key]


@cache
def _insert_into(vendor: str, model: type[Model]) -> tuple[str, list[Field]]:
    quote, columns = _database().ops.quote_name, model._meta.concrete_fields
    names, places = ", ".join(quote(one.column) for one in columns), ", ".join(["%s"] * len(columns))
    return f"INSERT INTO {quote(model._meta.db_table)} ({names}) VALUES ({places})", columns


def _built(database: BaseDatabaseWrapper, build: Callable[[Sequence[Id]], QuerySet], stand_ins: list[Id]) -> Statement:
    query = build(stand_ins).query
    compiler = query.get_compiler(connection=database)
    sql, params = compiler.as_sql()
    start = params.index(_adapted(stand_ins[0], database))
    return Statement(
        sql=sql,
        before=tuple(params[:start]),
        after=tuple(params[start + len(stand_ins) :]),
        names=tuple(query.selected or query.values_select),
        compiler=compiler,
        converters=compiler.get_converters([column for column, *_ in compiler.select]),
    )


def _made(statement: Statement, row: Sequence[Any]) -> Any:
    """An object from its columns, as Django's own ModelIterable makes it."""
    own, names = statement.own_columns
    made = statement.compiler.klass_info["model"].from_db(DEFAULT_DB_ALIAS, names, row[own])
    for along in statement.along:
        along.populate(row, made)
    return made


def _stand_in(of: type, number: int) -> Id:
    """An id that no row and no other parameter has."""
    if of is UUID:
        return UUID(int=number + 1)
    return f"no row's {number}" if of is str else -1_000_000_007 - number


def _adapted(value: Id, database: BaseDatabaseWrapper) -> Any:
    """An id as the database takes it."""
    return _UUID.get_db_prep_value(value, database) if isinstance(value, UUID) else value


def _database() -> BaseDatabaseWrapper:
    """The connection itself: asked for each of its parts, Django's stand-in for it looks it up each time anew."""
    return connections[DEFAULT_DB_ALIAS]
