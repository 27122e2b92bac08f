"""Rows read fast: the database hands days and times over as text, and each day is made into a date once.

A nursery's things share a few hundred days, and Django would read each of them anew for every thing.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from datetime import UTC, date, datetime
from functools import lru_cache
from typing import Any, NamedTuple, get_args, get_type_hints
from uuid import UUID

from django.db.models import Field, IntegerField, QuerySet, TextField
from django.db.models.functions import Cast

from breeding.models import SeedLot
from breeding.rounds.rows import POTS_LOT, PotRow, Row, columns


def moment(text: str) -> datetime:
    """A time as the database writes it; one without a zone is in UTC, as SQLite keeps them.

    >>> moment("2026-03-01 06:30:00").isoformat(), moment("2026-03-01 06:30:00.5+00").isoformat()
    ('2026-03-01T06:30:00+00:00', '2026-03-01T06:30:00.500000+00:00')
    """
    told = datetime.fromisoformat(text)
    return told if told.tzinfo else told.replace(tzinfo=UTC)


class _Way(NamedTuple):
    """How a column is asked for, and how a value of it is read."""

    asked_as: type[Field]
    read: Callable[[Any], object]


_Column = tuple[str, _Way | None]
"""A path, and how it is read; None where the value is taken as it comes."""

_WAYS: dict[type, _Way] = {
    date: _Way(TextField, date.fromisoformat),
    datetime: _Way(TextField, moment),
    UUID: _Way(TextField, UUID),
    bool: _Way(IntegerField, bool),
}


class _Read(dict):
    """What was read of each value; nothing is read of nothing."""

    def __init__(self, read: Callable[[Any], object]):
        super().__init__({None: None})
        self._read = read

    def __missing__(self, value: object) -> object:
        found = self[value] = self._read(value)
        return found


def read_rows(kind: type[Row], things: QuerySet) -> list[Row]:
    """The rows of these things, in a query or two; what other tables have to say of them is left out."""
    if kind is PotRow:
        return [kind._make(row) for row in _pots(things)]
    left, rows = tuple(kind._field_defaults.values()), _asked(things, _columns(kind))
    return [kind._make(row + left) for row in rows] if left else [kind._make(row) for row in rows]


def _pots(pots: QuerySet) -> Iterator[tuple]:
    """Pots with the columns of their lots behind them; joined here, as few lots have many pots."""
    own, of_lot = [], []
    for path, way in _columns(PotRow):
        within = path.removeprefix(f"{POTS_LOT}__")
        (own if within == path else of_lot).append((within, way))
    lots = _asked(SeedLot.objects.filter(pk__in=pots.values(POTS_LOT)), [("pk", None), *of_lot])
    known = {pk: told for pk, *told in lots}
    return ((*row, *known[lot]) for *row, lot in _asked(pots, [*own, (POTS_LOT, None)]))


def _asked(things: QuerySet, wanted: Sequence[_Column]) -> Iterator[tuple]:
    """These columns of the things, read column by column."""
    rows = things.values_list(*(Cast(path, way.asked_as()) if way else path for path, way in wanted))
    told = zip(zip(*rows, strict=True), wanted, strict=False)  # without rows, there are no columns either
    return zip(*(map(_Read(way.read).__getitem__, column) if way else column for column, (_, way) in told), strict=True)


@lru_cache
def _columns(kind: type[Row]) -> tuple[_Column, ...]:
    """What to ask for of a kind: paths, each with its way by what the field says that it holds."""
    hints = get_type_hints(kind)
    stored = [name for name in kind._fields if name not in kind._field_defaults]
    ways = (next((_WAYS[held] for held in _held(hints[name]) if held in _WAYS), None) for name in stored)
    return tuple(zip(columns(kind), ways, strict=True))


def _held(hint: Any) -> tuple[Any, ...]:
    return get_args(hint) or (hint,)
