"""The order in which places are walked: into each place and all that is in it, before the next beside it."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator
from typing import NamedTuple


class PlaceRow(NamedTuple):
    """A place as stored: what it is inside of, and its turn there."""

    pk: int
    name: str
    inside_id: int | None
    order: int


class Walked(NamedTuple):
    """A place with its turn in the whole walk, its house, and its own name within that house ("" for the house)."""

    pk: int
    turn: int
    house: str
    within: str


def walking_order(places: Iterable[PlaceRow]) -> dict[int, Walked]:
    """Every place with its turn, depth first, by order and then by name.

    >>> rows = [PlaceRow(1, "Warm", None, 2), PlaceRow(2, "Cool", None, 1), PlaceRow(3, "Bench 2", 2, 0)]
    >>> [walked.house + " " + walked.within for walked in walking_order(rows).values()]
    ['Cool ', 'Cool Bench 2', 'Warm ']
    """
    rows = list(places)
    known = {row.pk for row in rows}
    inside: dict[int | None, list[PlaceRow]] = defaultdict(list)
    for row in rows:
        inside[row.inside_id if row.inside_id in known else None].append(row)
    walk = list(_walk(inside, None, ()))
    return {row.pk: Walked(row.pk, turn, names[0], ", ".join(names[1:])) for turn, (row, names) in enumerate(walk)}


def _walk(
    inside: dict[int | None, list[PlaceRow]], of: int | None, names: tuple[str, ...]
) -> Iterator[tuple[PlaceRow, tuple[str, ...]]]:
    for row in sorted(inside[of], key=lambda row: (row.order, row.name, row.pk)):
        yield row, (*names, row.name)
        yield from _walk(inside, row.pk, (*names, row.name))
