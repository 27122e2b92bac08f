"""A wait as the records tell it: since when, until when it surely had not come, by when it had. Pure."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from datetime import date, timedelta
from typing import NamedTuple

import numpy as np

from breeding.science.phenology import Waits

NOT_KNOWN = -1
ONE_DAY = timedelta(days=1)
_DAYS = ("start_first", "start_last", "not_yet", "seen_by")
LEVELS = ("taxon", "clone", "spike")
"""What waits may have in common, the widest first."""


class Wait(NamedTuple):
    """One step of one thing. It began from ``start_first`` to ``start_last``, had surely not come on ``not_yet``, and
    had come by ``seen_by``; None: nobody has seen it, so that it is known only until ``not_yet``.

    ``taxon``, ``clone`` and ``spike`` are what it may have in common with others; ``stands`` is the plant or pot that
    stands on the bench.
    """

    thing: int
    start_first: date
    start_last: date
    not_yet: date
    seen_by: date | None
    taxon: int = NOT_KNOWN
    clone: int = NOT_KNOWN
    spike: int = NOT_KNOWN
    stands: int = NOT_KNOWN


def told(
    thing: int, start: tuple[date | None, date | None], came: tuple[date | None, date | None], **groups: int | None
) -> Wait | None:
    """The wait of a thing, from the days (first, last) of its start and (after, by) of what was awaited.

    None where its start is not known, or where nothing was learned: nobody looked since it began, or it is told to
    have come before it can have begun.

    >>> d = lambda day: date(2026, 3, day)
    >>> told(7, (d(1), d(3)), (None, d(9)))[3:5] == (d(1), d(9)), told(7, (d(1), d(1)), (None, d(1)))
    (True, None)
    """
    first, last = start
    after, by = came
    if first is None or last is None:
        return None
    not_yet = max(after or first, first)
    known = {name: NOT_KNOWN if group is None else group for name, group in groups.items()}
    return _if_it_tells(Wait(thing, first, max(last, first), not_yet, by, **known))


def cut_short(wait: Wait, first: date, last: date) -> Wait | None:
    """What a wait still tells if the days from ``first`` to ``last`` are left out of what is learned.

    What was over before, or began after, tells all it did. What ran into those days counts up to the day before them,
    as something still waited for: leaving it out altogether would leave out the long waits and keep the short ones.
    What may have begun in them tells nothing.

    >>> d = lambda day: date(2026, 3, day)
    >>> cut_short(Wait(7, d(1), d(1), d(9), d(20)), d(12), d(14))[3:5] == (d(9), None)
    True
    """
    if (wait.seen_by or wait.not_yet) < first or wait.start_first > last:
        return wait
    if wait.start_last >= first:
        return None
    return _if_it_tells(wait._replace(not_yet=min(wait.not_yet, first - ONE_DAY), seen_by=None))


def known_by(wait: Wait, day: date) -> Wait | None:
    """The wait as it was known at the end of a day; None where it had not begun or nobody had looked."""
    if wait.start_last > day:
        return None
    seen_by = wait.seen_by if wait.seen_by and wait.seen_by <= day else None
    return _if_it_tells(wait._replace(not_yet=min(wait.not_yet, day), seen_by=seen_by))


def _if_it_tells(wait: Wait) -> Wait | None:
    """The wait, if any length of it is ruled out."""
    if wait.seen_by is None:
        return wait if wait.not_yet > wait.start_last else None
    return wait if wait.seen_by > wait.start_first else None


def arranged(waits: Sequence[Wait]) -> Waits:
    """As arrays, days as day numbers."""
    days = {name: np.array([_number(getattr(wait, name)) for wait in waits], dtype=float) for name in _DAYS}
    groups = {name: np.array([getattr(wait, name) for wait in waits], dtype=np.int64) for name in LEVELS}
    return Waits(**days, **groups)


def written(waits: Iterable[Wait]) -> bytes:
    """The waits as bytes that are the same for the same waits, whatever their order."""
    rows = sorted(wait[1:8] for wait in waits)
    return "\n".join(" ".join(str(one) for one in row) for row in rows).encode()


def _number(day: date | None) -> float:
    return math.nan if day is None else float(day.toordinal())
