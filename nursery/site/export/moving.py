"""The tables that moving in takes, filled from the books: what a nursery would type to move in again."""

import unicodedata
from collections.abc import Iterable, Iterator
from typing import Any

from breeding.models import PollenLot, SeedLot, SeedPot
from nursery.models import Clone
from nursery.site.export.moving_rows import Told, clone_rows, pollen_row, pot_row, section_rows, seed_row
from nursery.site.export.naming import Names
from nursery.site.export.sheet import Column, Sheet
from nursery.site.moving.kinds import KINDS
from nursery.site.moving.tables import columns as takes

NUMBER = Column("Number in Tepal", "The number on its tag here; moving in leaves it out.", "a whole number")
HOLDS = {
    "words": "words",
    "day": "a day, as vague as it was told: 2026-03-09, about 2026-03-09, 2026-03, 2025-12 to 2026-02, 2026 or unknown",
    "number": "a whole number",
    "yes_no": "yes or no; empty where it was not told",
}


def tables() -> list[Sheet]:
    """One for each kind of table, in the order in which they are to be brought in."""
    return [
        _sheet("plants", lambda: clone_rows(_clones())),
        _sheet("pots", lambda: _each(pot_row, _open(SeedPot).filter(unsown=False))),
        _sheet("seed", lambda: _each(seed_row, _open(SeedLot))),
        _sheet("pollen", lambda: _each(pollen_row, _open(PollenLot))),
        _sheet("sections", lambda: section_rows(Names(_clones()))),
    ]


def _sheet(code: str, told: Any) -> Sheet:
    kind = KINDS[code]
    columns = (*(_column(column) for column in kind.columns), NUMBER)

    def rows() -> Iterator[list[Any]]:
        for one in told():
            yield [*(_tidy(one.values.get(column.name, ""), column) for column in kind.columns), one.number]

    return Sheet(f"moving-in/{code}.csv", f"To move in with: {kind.title.lower()}", columns, rows)


def _tidy(value: Any, column: takes.Column) -> Any:
    """Words without what no table takes, and on one line where moving in reads one line."""
    if not isinstance(value, str):
        return value
    plain = "".join(sign if sign in "\n\t" or unicodedata.category(sign) != "Cc" else " " for sign in value)
    return plain.replace("\xa0", " ").strip(" \n") if column.name == takes.REMARK else " ".join(plain.split())


def _column(column: takes.Column) -> Column:
    options = "one of: " + "; ".join(option[1] for option in column.options)
    meaning = column.help or f"{column.label}."
    return Column(column.label, meaning if meaning.endswith(".") else f"{meaning}.", HOLDS.get(column.reads, options))


def _clones() -> list[Clone]:
    return list(Clone.objects.filter(cancelled=False).select_related("taxon", "thing").order_by("pk"))


def _open(model: Any) -> Any:
    return model.objects.filter(cancelled=False, closed_on__isnull=True).order_by("pk")


def _each(row: Any, things: Iterable[Any]) -> Iterator[Told]:
    names = Names(_clones())
    for thing in things:
        yield row(thing, names)
