"""Rows read fast: the database hands days and times over as text, and each day is made into a date once.

A nursery's things share a few hundred days, and Django would read each of them anew for every thing.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from datetime import date
from functools import lru_cache
from types import MappingProxyType
from typing import Any, NamedTuple, get_args, get_type_hints
from uuid import UUID

from django.db.models import Field, IntegerField, QuerySet, TextField
from django.db.models.functions import Cast

from breeding.models import SeedLot
from breeding.rounds.rows import POTS_LOT, PotRow, Row, Written, columns


class _Way(NamedTuple):
    """How a column is asked for, and how a value of it is read, if not taken as it comes."""

    asked_as: type[Field] | None = None
    read: Callable[[Any], object] | None = None


Column = tuple[str, _Way]
"""A path, and how it is read."""
AS_IT_COMES = _Way()

_WAYS: dict[object, _Way] = {
    Written: _Way(TextField),
    date: _Way(TextField, date.fromisoformat),
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
    left, rows = tuple(kind._field_defaults.values()), read(things, columns_of(kind))
    return [kind._make(row + left) for row in rows] if left else [kind._make(row) for row in rows]


def _pots(pots: QuerySet) -> Iterator[tuple]:
    """Pots with the columns of their lots behind them; joined here, as few lots have many pots."""
    own, of_lot = (list(part.values()) for part in pot_columns())
    lots = read(SeedLot.objects.filter(pk__in=pots.values(POTS_LOT)), [("pk", AS_IT_COMES), *of_lot])
    known = {pk: told for pk, *told in lots}
    return ((*row, *known[lot]) for *row, lot in read(pots, [*own, (POTS_LOT, AS_IT_COMES)]))


@lru_cache
def pot_columns() -> tuple[dict[str, Column], dict[str, Column]]:
    """By the names of a pot's fields: what to ask for of the pot, and what of its lot."""
    own, of_lot = {}, {}
    for name, (path, way) in zip(PotRow._fields, columns_of(PotRow), strict=True):
        within = path.removeprefix(f"{POTS_LOT}__")
        (own if within == path else of_lot)[name] = (within, way)
    return own, of_lot


_NOTHING: Mapping[str, Any] = MappingProxyType({})


def read(things: QuerySet, wanted: Sequence[Column], of_alike: Mapping[str, Any] = _NOTHING) -> Iterator[tuple]:
    """These columns of the things, in one query, and read column by column; with ``of_alike``, each once for all
    things that have the same, and these totals of them."""
    rows = things.values_list(*(Cast(path, way.asked_as()) if way.asked_as else path for path, way in wanted))
    ways = [*(way for _, way in wanted), *(AS_IT_COMES for _ in of_alike)]
    told = zip(zip(*rows.annotate(**of_alike), strict=True), ways, strict=False)  # without rows, no columns either
    return zip(*(_read_column(column, way) for column, way in told), strict=True)


def _read_column(column: Iterable, way: _Way) -> Iterable:
    return map(_Read(way.read).__getitem__, column) if way.read else column


@lru_cache
def columns_of(kind: type[Row]) -> tuple[Column, ...]:
    """What to ask for of a kind: paths, each with its way by what the field says that it holds."""
    hints = get_type_hints(kind)
    stored = [name for name in kind._fields if name not in kind._field_defaults]
    return tuple(zip(columns(kind), (_way(hints[name]) for name in stored), strict=True))


def _way(hint: Any) -> _Way:
    return next((_WAYS[held] for held in get_args(hint) or (hint,) if held in _WAYS), AS_IT_COMES)
