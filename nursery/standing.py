"""Where a thing stood when, from its own moves and from those of the trays and benches under it. Pure.

A day may be vague, so each end of a stay is the first and last day that it can have been (``When``). Everything that
follows from two of these is taken wide: what can have been is kept, what cannot is not.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date
from typing import Any

Order = tuple[Any, ...]
FIRST_OF_ALL: Order = (date.min,)


@dataclass(frozen=True)
class When:
    """One day, known from ``first`` to ``last``; ``date.min`` and ``date.max`` where nothing is known.

    ``order`` says which of two came first where their days do not tell.
    """

    first: date
    last: date
    order: Order = FIRST_OF_ALL

    @property
    def is_exact(self) -> bool:
        return self.first == self.last


EVER = When(date.min, date.min)
"""From before anything was written down."""


@dataclass(frozen=True)
class Move:
    """From some day on it stands in this place; None: nowhere here, because it is gone or nobody said."""

    place: int | None
    when: When


@dataclass(frozen=True)
class Stay:
    """One place with when it came there and when it left, None while it stands there."""

    place: int
    since: When
    until: When | None = None

    def covers(self, first: date, last: date) -> bool:
        """Whether it can have stood there on some day from ``first`` to ``last``."""
        return self.since.first <= last and (self.until is None or self.until.last >= first)

    def surely_covers(self, first: date, last: date) -> bool:
        """Whether it stood there on one of these days however the vague days are read."""
        return self.since.last <= last and (self.until is None or self.until.first >= first)


def stood(moves: Iterable[Move], of_places: Mapping[int, Sequence[Move]]) -> list[Stay]:
    """Every place in which a thing stood, the tray itself as well as the bench and house around it, oldest first.

    ``moves`` are the thing's own, its birth among them; ``of_places`` are those of each place: the first says where it
    was put up, which counts from before anything was written down, because a bench is older than its entry.

    >>> own = [Move(1, When(date(2026, 3, 1), date(2026, 3, 1)))]
    >>> tray = [Move(2, EVER), Move(3, When(date(2026, 4, 1), date(2026, 4, 1)))]
    >>> [(stay.place, stay.since.first.day, stay.until and stay.until.first.month) for stay in stood(own, {1: tray})]
    [(1, 1, None), (2, 1, 4), (3, 1, None)]
    """
    inside = {place: _stays(_from_ever(told)) for place, told in of_places.items()}
    found = [stay for own in _stays(moves) for stay in _with_around(own, inside, frozenset())]
    return sorted(_joined(found), key=lambda stay: (stay.since.first, stay.since.order))


def together(one: Stay, other: Stay) -> Stay | None:
    """The time that two stays in one place have in common, as wide as the vague days allow; None where they have none.

    On one exact day, what was recorded first was first: what had left by then was not there.
    """
    since = _later(one.since, other.since)
    until = _sooner(one.until, other.until)
    if until is not None and not _can_follow(since, until):
        return None
    return Stay(one.place, since, until)


def days_of(stay: Stay, today: date) -> tuple[int, int]:
    """Fewest and most days of a stay up to today, counting from day to day; an unknown beginning gives no fewest.

    >>> days_of(Stay(1, When(date(2026, 3, 1), date(2026, 3, 5)), When(date(2026, 3, 9), date(2026, 3, 9))), date.max)
    (4, 8)
    """
    until = stay.until or When(today, today)
    fewest = (until.first - stay.since.last).days if stay.since.last != date.max else 0
    return max(0, fewest), max(0, (min(until.last, today) - stay.since.first).days)


def _stays(moves: Iterable[Move]) -> list[Stay]:
    """One stay for each move, up to the next; what came before cannot have ended after what came next began."""
    told = _in_turn(moves)
    ends = [*told[1:], None]
    return [
        _narrowed(Stay(move.place, move.when, after.when if after else None))
        for move, after in zip(told, ends, strict=True)
        if move.place is not None
    ]


def _in_turn(moves: Iterable[Move]) -> list[Move]:
    """In their order, none on an earlier day than the one before can have been."""
    told: list[Move] = []
    for move in sorted(moves, key=lambda move: move.when.order):
        first = max(move.when.first, min(told[-1].when.first, move.when.last)) if told else move.when.first
        told.append(replace(move, when=replace(move.when, first=first)))
    return told


def _narrowed(stay: Stay) -> Stay:
    """The order of two moves is known even where their days overlap."""
    if stay.until is None:
        return stay
    since = replace(stay.since, last=min(stay.since.last, max(stay.until.last, stay.since.first)))
    return Stay(stay.place, since, replace(stay.until, first=max(stay.until.first, min(since.first, stay.until.last))))


def _from_ever(told: Sequence[Move]) -> list[Move]:
    first, *rest = sorted(told, key=lambda move: move.when.order)
    return [Move(first.place, EVER), *rest]


def _with_around(own: Stay, inside: Mapping[int, list[Stay]], below: frozenset[int]) -> Iterator[Stay]:
    """A stay, and for as long as it lasted those in the places around it."""
    yield own
    for around in inside.get(own.place, []):
        shared = together(Stay(around.place, own.since, own.until), around)
        if shared is not None and around.place not in below:
            yield from _with_around(shared, inside, below | {own.place})


def _joined(stays: list[Stay]) -> list[Stay]:
    """Stays in one place that follow each other without a day between are one: from tray to tray on one bench."""
    by_place: dict[int, list[Stay]] = {}
    for stay in sorted(stays, key=lambda stay: (stay.since.order, stay.since.first)):
        known = by_place.setdefault(stay.place, [])
        before = known[-1].until if known else None
        if before is not None and before.order == stay.since.order:  # one move: it left and came on it
            known[-1] = replace(known[-1], until=stay.until)
        else:
            known.append(stay)
    return [stay for known in by_place.values() for stay in known]


def _later(one: When, other: When) -> When:
    order = max(one.order, other.order)
    return When(max(one.first, other.first), max(one.last, other.last), order)


def _sooner(one: When | None, other: When | None) -> When | None:
    if one is None or other is None:
        return one or other
    return When(min(one.first, other.first), min(one.last, other.last), min(one.order, other.order))


def _can_follow(since: When, until: When) -> bool:
    if since.is_exact and until.is_exact and since.first == until.first:
        return since.order < until.order
    return since.first <= until.last
