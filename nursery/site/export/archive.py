"""Everything as one zip: each table, and a table that describes every column of them all."""

import io
import tempfile
import zipfile
from collections.abc import Iterator
from contextlib import contextmanager
from typing import IO

from django.db import connection, transaction

from nursery.site.export import acts, lists, things
from nursery.site.export.moving import tables as moving_tables
from nursery.site.export.sheet import Column, Sheet, written

DESCRIPTION = "columns.csv"
IN_MEMORY = 5_000_000


def sheets() -> list[Sheet]:
    """Every table there is, in the order of the archive."""
    found = [*things.sheets(), *acts.sheets(), *lists.sheets(), *moving_tables()]
    return [*found, description(found)]


def sheet_named(name: str) -> Sheet | None:
    return next((sheet for sheet in sheets() if sheet.name == name), None)


def description(found: list[Sheet]) -> Sheet:
    """What every column of every table means and holds."""
    columns = (
        Column("file", "The table.", "the path of a file"),
        Column("column", "The heading.", "words"),
        Column("meaning", "What it means.", "words"),
        Column("holds", "What its cells hold.", "words"),
    )
    own = [(DESCRIPTION, column.name, column.meaning, column.holds) for column in columns]
    rows = [(one.path, column.name, column.meaning, column.holds) for one in found for column in one.columns]
    return Sheet(DESCRIPTION, "What every column means", columns, lambda: [*rows, *own])


def everything() -> IO[bytes]:
    """All tables as a zip, at its beginning and ready to be read; as they stood at one moment."""
    file = tempfile.SpooledTemporaryFile(max_size=IN_MEMORY)  # noqa: SIM115 - whoever sends it closes it
    with one_moment(), zipfile.ZipFile(file, "w", zipfile.ZIP_DEFLATED) as archive:
        for sheet in sheets():
            with archive.open(sheet.path, "w") as member, io.TextIOWrapper(member, "utf-8", newline="") as text:
                text.writelines(written(sheet))
    file.seek(0)
    return file


@contextmanager
def one_moment() -> Iterator[None]:
    """Everything read inside is as it stood when the reading began, while others go on writing."""
    if connection.in_atomic_block:
        yield
    elif connection.vendor == "sqlite":
        with connection.cursor() as cursor:
            cursor.execute("BEGIN DEFERRED")  # our transactions are immediate, and would keep writers waiting
            try:
                yield
            finally:
                cursor.execute("ROLLBACK")
    else:
        with transaction.atomic(), connection.cursor() as cursor:
            cursor.execute("SET TRANSACTION ISOLATION LEVEL REPEATABLE READ, READ ONLY")
            yield
