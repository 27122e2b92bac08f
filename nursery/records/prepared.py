"""Questions that every act asks, each built once: Django takes far longer to build one than the database to answer."""

from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass
from functools import cache
from typing import Any
from uuid import UUID

from django.db import DatabaseError, connection
from django.db.models import Field, Model, QuerySet, UUIDField
from django.db.models.query import get_related_populators

Id = int | UUID
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


class Prepared:
    """A queryset over ids, as ``build`` makes it; it must use the ids once, in one ``__in``."""

    def __init__(self, build: Callable[[Sequence[Id]], QuerySet]):
        self._build = build
        self._statements: dict[tuple[str, type, int], Statement] = {}

    def rows(self, ids: Iterable[Id]) -> list[dict[str, Any]]:
        """What a ``values()`` queryset gives for these ids, a dictionary for each row."""
        return [dict(zip(statement.names, row, strict=True)) for statement, row in self._answers(ids)]

    def objects(self, ids: Iterable[Id]) -> list[Any]:
        """What a queryset of objects gives for these ids, with those that it selects along."""
        return [_made(statement.compiler, row) for statement, row in self._answers(ids)]

    def _answers(self, ids: Iterable[Id]) -> Iterator[tuple[Statement, Sequence[Any]]]:
        ids = list(dict.fromkeys(ids))
        if not ids:
            return
        statement = self._statement(type(ids[0]), len(ids))
        with connection.cursor() as cursor:
            cursor.execute(statement.sql, [*statement.before, *map(_adapted, ids), *statement.after])
            rows = cursor.fetchall()
        if statement.converters:
            rows = statement.compiler.apply_converters(rows, statement.converters)
        for row in rows:
            yield statement, row

    def _statement(self, of: type, count: int) -> Statement:
        key = (connection.vendor, of, count)
        if key not in self._statements:
            self._statements[key] = _built(self._build, [_stand_in(of, number) for number in range(count)])
        return self._statements[key]


def insert(row: Model) -> None:
    """Store a new row whose key is known, as Django's own save does; no signals are sent, for nothing here listens."""
    sql, columns = _insert_into(connection.vendor, type(row))
    with connection.cursor() as cursor:
        cursor.execute(sql, [one.get_db_prep_save(one.pre_save(row, True), connection) for one in columns])
    row._state.adding, row._state.db = False, connection.alias


def update(row: Model, names: Iterable[str]) -> None:
    """Store some columns of a stored row, as Django's own save does.

    Raises:
        DatabaseError: the row is not there any more.
    """
    sql, columns = _update_of(connection.vendor, type(row), tuple(sorted(names)))
    values = [one.get_db_prep_save(one.pre_save(row, False), connection) for one in columns]
    with connection.cursor() as cursor:
        cursor.execute(sql, values)
        if cursor.rowcount != 1:
            raise DatabaseError(f"{row._meta.label} {row.pk} could not be changed, for it is not stored.")


@cache
def _update_of(vendor: str, model: type[Model], names: tuple[str, ...]) -> tuple[str, list[Field]]:
    quote, by_name = connection.ops.quote_name, {}
    for one in model._meta.concrete_fields:
        by_name |= {one.name: one, one.attname: one}
    columns = [by_name[name] for name in names]
    changes, key = ", ".join(f"{quote(one.column)} = %s" for one in columns), model._meta.pk
    sql = f"UPDATE {quote(model._meta.db_table)} SET {changes} WHERE {quote(key.column)} = %s"
    return sql, [*columns, key]


@cache
def _insert_into(vendor: str, model: type[Model]) -> tuple[str, list[Field]]:
    quote, columns = connection.ops.quote_name, model._meta.concrete_fields
    names, places = ", ".join(quote(one.column) for one in columns), ", ".join(["%s"] * len(columns))
    return f"INSERT INTO {quote(model._meta.db_table)} ({names}) VALUES ({places})", columns


def _built(build: Callable[[Sequence[Id]], QuerySet], stand_ins: list[Id]) -> Statement:
    query = build(stand_ins).query
    compiler = query.get_compiler(connection=connection)
    sql, params = compiler.as_sql()
    start = params.index(_adapted(stand_ins[0]))
    return Statement(
        sql=sql,
        before=tuple(params[:start]),
        after=tuple(params[start + len(stand_ins) :]),
        names=tuple(query.selected or query.values_select),
        compiler=compiler,
        converters=compiler.get_converters([column for column, *_ in compiler.select]),
    )


def _made(compiler: Any, row: Sequence[Any]) -> Any:
    """An object from its columns, as Django's own ModelIterable makes it."""
    info = compiler.klass_info
    first, last = info["select_fields"][0], info["select_fields"][-1] + 1
    names = [column.target.attname for column, *_ in compiler.select[first:last]]
    made = info["model"].from_db(connection.alias, names, row[first:last])
    for along in get_related_populators(info, compiler.select, connection.alias):
        along.populate(row, made)
    return made


def _stand_in(of: type, number: int) -> Id:
    """An id that no row and no other parameter has."""
    return UUID(int=number + 1) if of is UUID else -1_000_000_007 - number


def _adapted(value: Id) -> Any:
    """An id as the database takes it."""
    return _UUID.get_db_prep_value(value, connection) if isinstance(value, UUID) else value
