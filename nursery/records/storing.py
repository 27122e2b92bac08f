"""Rows stored by statements that are each built once, as the questions of ``prepared`` are."""

from collections.abc import Iterable
from functools import cache
from typing import Any

from django.db import DatabaseError
from django.db.models import Field, Model

from nursery.records.mind import written
from nursery.records.prepared import the_database


def insert(row: Model) -> None:
    """Store a new row whose key is known, as Django's own save does; no signals are sent, for nothing here listens."""
    database = the_database()
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
    database = the_database()
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
    quote, by_name = the_database().ops.quote_name, {}
    for one in model._meta.concrete_fields:
        by_name |= {one.name: one, one.attname: one}
    columns = [by_name[name] for name in names]
    changes, key = ", ".join(f"{quote(one.column)} = %s" for one in columns), model._meta.pk
    sql = f"UPDATE {quote(model._meta.db_table)} SET {changes} WHERE {quote(key.column)} = %s"
    return sql, [*columns, key]


@cache
def _insert_into(vendor: str, model: type[Model]) -> tuple[str, list[Field]]:
    quote, columns = the_database().ops.quote_name, model._meta.concrete_fields
    names, places = ", ".join(quote(one.column) for one in columns), ", ".join(["%s"] * len(columns))
    return f"INSERT INTO {quote(model._meta.db_table)} ({names}) VALUES ({places})", columns
