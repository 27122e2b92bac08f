"""While you are here: what may be looked at on the visit that something due asks for anyway.

One visit covers a spike with its sections, and the pots of a sowing that stand together. None of it is due: it is
offered, and counts neither as a task nor into the minutes.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from datetime import date
from typing import NamedTuple

from breeding.rounds.books import Next
from breeding.rounds.kinds import BY_CODE
from breeding.rounds.rows import PotRow, Row, SectionRow, SpikeRow, made_on
from breeding.rounds.rules import LOOKS

SHARE_OF_WAIT = 4
MOST_AHEAD = 5
"""Looked at early by no more than a quarter of the wait since the last look, and by no more than five days: early
enough to save the next visit, late enough to see something new. Our choice; no source."""
MOST_OFFERED = 12
"""With one visit; more would bury what is due."""

Visit = tuple[object, ...]


class Offered(NamedTuple):
    """A look that is offered beside the task at this place in the list."""

    host: int
    row: Row
    found: Next


def beside(
    hosts: Sequence[Row], rows: Iterable[Row], nexts: Callable[[Row], Iterable[Next]], day: date
) -> list[Offered]:
    """The looks to offer beside tasks for ``hosts``, for each visit those due soonest; ``nexts`` gives a row's tasks.

    Beside the first task of each visit, and never of what is in the list itself. What is due already and rolls over
    for want of minutes is offered too.
    """
    first: dict[Visit, int] = {}
    for place, host in enumerate(hosts):
        if visit := _visit(host):
            first.setdefault(visit, place)
    listed = {host.pk for host in hosts}
    others = (row for row in _near(first, rows) if row.pk not in listed)
    found = _offered(first, others, nexts, day)
    return list(_soonest(sorted(found, key=lambda one: (one.host, one.found.due, one.row.pk))))


def serves_now(due: date, looked: date, day: date) -> bool:
    """Whether a look on ``day`` serves as well as one on the day it is due, by the wait since the last one.

    >>> due, looked = date(2026, 3, 29), date(2026, 3, 1)
    >>> [serves_now(due, looked, date(2026, 3, day)) for day in (23, 24, 29)]
    [False, True, True]
    >>> serves_now(date(2026, 3, 5), looked, date(2026, 3, 4)), serves_now(date(2026, 3, 4), looked, date(2026, 3, 3))
    (True, False)
    """
    return (due - day).days <= min((due - looked).days // SHARE_OF_WAIT, MOST_AHEAD)


def _visit(row: Row) -> Visit | None:
    """What is seen on one visit: the same for all that hangs on one spike, and for pots of a sowing at one place."""
    match row:
        case PotRow() if row.sowing is not None and row.place_id is not None:
            return ("sowing", row.sowing, row.place_id)
        case SectionRow():
            return ("spike", row.spike_id)
        case SpikeRow():
            return ("spike", row.pk)
    return None


def _offered(
    first: dict[Visit, int], rows: Iterable[Row], nexts: Callable[[Row], Iterable[Next]], day: date
) -> Iterator[Offered]:
    for row in rows:
        host = first.get(_visit(row))
        if host is None or (row.later_until and row.later_until > day):
            continue
        looks = [one for one in nexts(row) if _may_be_offered(one, row, day)]
        if looks:
            yield Offered(host, row, min(looks, key=lambda one: one.due))


def _near(visits: Iterable[Visit], rows: Iterable[Row]) -> list[Row]:
    """All that may be seen on these visits and little else: every row there is passes here, by one look into a set."""
    spikes = {visit[1] for visit in visits if visit[0] == "spike"}
    places = {visit[2] for visit in visits if visit[0] == "sowing"}
    return [
        row
        for row in rows
        if ((kind := type(row)) is PotRow and row.place_id in places)
        or (kind is SectionRow and row.spike_id in spikes)
        or (kind is SpikeRow and row.pk in spikes)
    ]


def _may_be_offered(one: Next, row: Row, day: date) -> bool:
    """Looks only: jobs are done when they are due, and the reading of take not before its time."""
    if one.due <= day:
        return BY_CODE[one.kind].look
    return one.kind in LOOKS and serves_now(one.due, row.last_look or made_on(row), day)


def _soonest(offered: Iterable[Offered]) -> Iterator[Offered]:
    """So many beside each, of what is sorted by host and day."""
    count: dict[int, int] = {}
    for one in offered:
        count[one.host] = count.get(one.host, 0) + 1
        if count[one.host] <= MOST_OFFERED:
            yield one
