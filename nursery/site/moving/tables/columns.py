"""What a table's columns may be, which heading means which, and the cells of a row read by their columns."""

import re
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, field
from typing import Any

from nursery.days import Day
from nursery.site.moving.tables.days import Reading, day_told
from nursery.site.moving.tables.errors import CellWrong
from nursery.site.moving.tables.parse import MOST_LETTERS, Row, Table, must_be_takeable
from nursery.site.moving.tables.values import Option, choice, whole_number, yes_no

LEAVE_OUT = "leave_out"
REMARK = "remark"
OURS = frozenset({"number in tepal", "problem"})
"""Headings that our own tables have and that are brought in by nobody."""


@dataclass(frozen=True)
class Column:
    """Something that a row may tell: its name in code, its words, other headings for it, and how its cells are read.

    ``reads`` is words, day, number, yes_no or choice; a choice has ``options``.
    """

    name: str
    label: str
    headings: tuple[str, ...] = ()
    reads: str = "words"
    options: tuple[Option, ...] = ()
    help: str = ""


@dataclass(frozen=True)
class Kind:
    """What the rows of a table are. ``about`` says it in a sentence."""

    code: str
    title: str
    about: str
    columns: tuple[Column, ...]

    def column(self, name: str) -> Column:
        return next(column for column in self.columns if column.name == name)

    def headings(self) -> list[str]:
        return [column.label for column in self.columns]


@dataclass(frozen=True)
class Problem:
    """Why a row cannot be brought in: its number, the heading of the cell if it is one cell, a sentence."""

    row: int
    heading: str
    sentence: str


@dataclass
class Told:
    """One row with its cells read: a value by column name, and what is kept as a remark."""

    number: int
    values: dict[str, Any] = field(default_factory=dict)
    remark: str = ""
    problems: list[Problem] = field(default_factory=list)

    def words(self, name: str) -> str:
        return self.values.get(name, "")

    def day(self, name: str) -> Day:
        return self.values.get(name) or Day.unknown()

    def value(self, name: str) -> Any:
        """A number, True or False, or None where nothing is told."""
        return self.values.get(name)


def guessed(headings: Sequence[str], kind: Kind) -> list[str]:
    """For each heading the name of its column; what fits none is kept as a remark, so that nothing is lost.

    A column's own words come first: beside "Species", "Name" is no species.
    """
    taken: set[str] = set()
    names = [""] * len(headings)
    for fits in (_is_its_own, _is_same, _has_words_of):
        for at, heading in enumerate(headings):
            name = "" if names[at] or not heading else _best(heading, kind, fits, taken)
            if name:
                names[at] = name
                taken |= {name} - {REMARK}
    return [name or _otherwise(heading) for name, heading in zip(names, headings, strict=True)]


def told(row: Row, table: Table, names: Sequence[str], kind: Kind, how: Reading) -> Told:
    """The cells of a row, read by the columns that their headings are taken for; with every cell's own problem."""
    found = Told(row.number)
    remarks: list[str] = []
    for at, cell in enumerate(row.cells):
        heading = table.headings[at] if at < len(table.headings) else ""
        try:
            must_be_takeable(cell)
            if at >= len(names):
                raise CellWrong("There are more cells than headings. Give this cell a heading, or empty it.")
            if names[at] == REMARK:
                remarks += _remark(heading, cell, kind)
            elif names[at] != LEAVE_OUT:
                found.values[names[at]] = _READERS[kind.column(names[at]).reads](cell, kind.column(names[at]), how)
        except CellWrong as wrong:
            found.problems.append(Problem(row.number, heading, str(wrong)))
    found.remark = "\n".join(remarks)
    if len(found.remark) > MOST_LETTERS:
        found.problems.append(Problem(row.number, "", f"What is kept as a remark has over {MOST_LETTERS:,} letters."))
    return found


def _remark(heading: str, cell: str, kind: Kind) -> list[str]:
    """With its heading before it, unless that only says that it is a remark."""
    if not cell:
        return []
    plain = not heading or _bare(heading) in _ways(kind.column(REMARK))
    return [cell if plain else f"{heading}: {cell}"]


def _otherwise(heading: str) -> str:
    return LEAVE_OUT if _bare(heading) in OURS else REMARK


def _best(heading: str, kind: Kind, fits: Callable[[str, str, Column], bool], taken: set[str]) -> str:
    """The free column whose longest way of saying it fits this heading."""
    if _bare(heading) in OURS:
        return ""
    ways = [
        (len(way), column.name)
        for column in kind.columns
        if column.name not in taken
        for way in _ways(column)
        if fits(_bare(heading), way, column)
    ]
    return max(ways, default=(0, ""), key=lambda pair: pair[0])[1]


def _is_its_own(heading: str, way: str, column: Column) -> bool:
    return heading == way and way in _own_ways(column)


def _is_same(heading: str, way: str, column: Column) -> bool:
    return heading == way


def _has_words_of(heading: str, way: str, column: Column) -> bool:
    """All words of a way of more than three letters, in any order: "date sown (approx.)" is "sown"."""
    return len(way) > 3 and set(way.split()) <= set(heading.split())


def _ways(column: Column) -> set[str]:
    return _own_ways(column) | {_bare(one) for one in column.headings}


def _own_ways(column: Column) -> set[str]:
    return {_bare(one) for one in (column.label, column.name.replace("_", " "))}


def _bare(heading: str) -> str:
    return " ".join(re.sub(r"[^\w]+", " ", heading.casefold()).split())


def _words(cell: str, column: Column, how: Reading) -> str:
    return " ".join(cell.split())


_READERS: dict[str, Callable[[str, Column, Reading], Any]] = {
    "words": _words,
    "day": lambda cell, column, how: day_told(cell, how),
    "number": lambda cell, column, how: whole_number(cell),
    "yes_no": lambda cell, column, how: yes_no(cell),
    "choice": lambda cell, column, how: choice(cell, column.options),
}


def day_cells(table: Table, names: Sequence[str], kind: Kind) -> Iterable[list[str]]:
    """The cells of each column that is read as days."""
    days = {column.name for column in kind.columns if column.reads == "day"}
    return [table.column(at) for at, name in enumerate(names) if name in days]
