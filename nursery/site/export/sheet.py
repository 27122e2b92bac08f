"""A table on its way out, and how it is written: UTF-8 with a mark, formulas neutralised, numbers as numbers."""

import csv
import io
from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass
from datetime import date, datetime, time
from typing import Any

from nursery.site.moving.tables.cells import neutral

MARK = "\ufeff"
"""By which spreadsheets know UTF-8."""


@dataclass(frozen=True)
class Column:
    """One column: its heading, what it means, what its cells hold."""

    name: str
    meaning: str
    holds: str


@dataclass(frozen=True)
class Sheet:
    """One file: its path in the archive, what it lists, its columns, and its rows, fetched when they are asked for."""

    path: str
    title: str
    columns: tuple[Column, ...]
    rows: Callable[[], Iterable[Sequence[Any]]]

    @property
    def name(self) -> str:
        """The path as one word, for an address."""
        return self.path.replace("/", "-").removesuffix(".csv")


def written(sheet: Sheet) -> Iterator[str]:
    """The lines of a sheet as text, headings first."""
    yield MARK + line([column.name for column in sheet.columns])
    for row in sheet.rows():
        yield line(row)


def line(values: Iterable[Any]) -> str:
    out = io.StringIO()
    csv.writer(out).writerow([cell(value) for value in values])
    return out.getvalue()


def cell(value: Any) -> Any:
    """One value as it stands in a table; what a person wrote can be no formula.

    >>> cell(-3), cell("-3"), cell(None), cell(True), cell([4, 7])
    (-3, "'-3", '', 'yes', '4|7')
    """
    match value:
        case None:
            return ""
        case bool():
            return "yes" if value else "no"
        case int() | float():
            return value
        case datetime() | date() | time():
            return value.isoformat()
        case list() | tuple():
            return neutral("|".join(str(one) for one in value))
        case _:
            return neutral(str(value))
