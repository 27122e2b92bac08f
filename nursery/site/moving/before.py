"""Rows that an earlier table brought in already: a table that grew, pasted again whole, must not come in twice."""

from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field
from uuid import UUID

from django.db.models import F
from django.utils import timezone

from nursery.site.models import Import
from nursery.site.moving.tables.columns import LEAVE_OUT, Kind
from nursery.site.moving.tables.parse import Row, Table, parsed

Cells = frozenset[tuple[str, str]]
"""What a row tells, whatever the order of its columns: the name of each column with what stands in it."""


@dataclass(frozen=True)
class Earlier:
    """A row of a table that was brought in and still counts."""

    moving: Import
    row: int
    cells: Cells

    @property
    def words(self) -> str:
        at = timezone.localtime(self.moving.brought_at)
        return f"row {self.row} of {self.moving.name}, brought in on {at.day} {at:%b %Y, %H:%M}"


@dataclass
class Before:
    """Of a table's rows, those that were brought in before, and those that differ from such a row in one cell only."""

    rows: dict[int, Earlier] = field(default_factory=dict)
    changed: dict[int, tuple[Earlier, str]] = field(default_factory=dict)

    @property
    def tables(self) -> set[UUID]:
        return {one.moving.pk for one in self.rows.values()}

    def notes(self, kind: Kind, without: Iterable[int]) -> Iterator[tuple[int, str]]:
        """What to know of the rows that come in all the same."""
        for row in sorted(self.changed.keys() - set(without)):
            earlier, name = self.changed[row]
            label = next((column.label for column in kind.columns if column.name == name), name)
            yield row, f"Only “{label}” differs from {earlier.words}. It comes in as something new beside that."


def brought_before(moving: Import, table: Table) -> Before:
    """Each row of an earlier table stands for one row of this one: what stands there three times was three things."""
    known = list(_earlier_rows(moving))
    free: dict[Cells, list[Earlier]] = defaultdict(list)
    for one in known:
        free[one.cells].append(one)
    found, others = Before(), {}
    for row in table.rows:
        cells = cells_of(row, moving.columns)
        if cells and free[cells]:
            found.rows[row.number] = free[cells].pop(0)
        else:
            others[row.number] = cells
    left = [one for rows in free.values() for one in rows]
    if found.rows:  # else it is another table, and likeness is chance
        found.changed = _changed(others, left)
    return found


def cells_of(row: Row, names: list[str]) -> Cells:
    told = zip(names, row.cells, strict=False)
    return frozenset((name, " ".join(cell.casefold().split())) for name, cell in told if cell and name != LEAVE_OUT)


def _earlier_rows(moving: Import) -> Iterator[Earlier]:
    earlier = Import.objects.filter(kind=moving.kind, state=Import.State.BROUGHT).exclude(pk=moving.pk)
    for one in earlier.order_by("brought_at"):
        came = {row for row, _ in one.preview["rows"]} - _taken_back(one)
        for row in parsed(one.table).rows:
            if row.number in came:
                yield Earlier(one, row.number, cells_of(row, one.columns))


def _taken_back(moving: Import) -> set[int]:
    """Rows of which something was undone since, and not only corrected."""
    undone = moving.acts.filter(act__voided_by__isnull=False).annotate(again=F("act__replaced_by"))
    return set(undone.filter(again=None).values_list("row", flat=True))


def _changed(others: Mapping[int, Cells], left: list[Earlier]) -> dict[int, tuple[Earlier, str]]:
    found = {}
    for number, cells in others.items():
        for one in left:
            names = {name for name, _ in cells ^ one.cells}
            if len(names) == 1 and cells & one.cells:
                found[number] = one, names.pop()
                break
    return found
