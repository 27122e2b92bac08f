"""How long pollen keeps, by how it is stored. Each storage uses up its share of one life.

The days are rules of thumb and the sources disagree, most of all on the freezer; a nursery's own takes beat them.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date, timedelta


@dataclass(frozen=True)
class Keeping:
    """One way to store pollen: days that it keeps well, where that comes from, and how strong it is.

    Strength as in ``shipped``: H one grower's page, M from memory, C common practice without a source.
    """

    storage: str
    words: str
    days: int
    source: str
    strength: str


STORAGES = (
    Keeping(
        "bench",
        "open bench",
        4,
        "Two to four days on a humid bench; from memory. Another grower's memory says up to two weeks.",
        "M",
    ),
    Keeping("dry_bench", "dry, at room temperature", 7, "A week on a dry bench; from memory.", "M"),
    Keeping(
        "refrigerator",
        "refrigerator",
        70,
        "Six to ten weeks with desiccant; from memory. One grower's page says up to six months.",
        "M",
    ),
    Keeping(
        "freezer",
        "freezer",
        365,
        "A year when dried first; from memory. Sources disagree on the freezer, and each thaw costs something.",
        "M",
    ),
    Keeping(
        "unknown",
        "not known",
        4,
        "Taken as the open bench, the shortest, so that it is asked about early; common practice, no source.",
        "C",
    ),
)

_BY_STORAGE = {keeping.storage: keeping for keeping in STORAGES}


def keeping(storage: str) -> Keeping:
    """The row of one storage.

    Raises:
        ValueError: no such storage; the message lists them.
    """
    if storage not in _BY_STORAGE:
        raise ValueError(f"Pollen is stored in one of {', '.join(_BY_STORAGE)}; got “{storage}”.")
    return _BY_STORAGE[storage]


def best_before(collected: date, storage: str, changes: Iterable[tuple[date, str]] = ()) -> date:
    """The last day on which the pollen should still be good.

    A day in a storage that keeps n days uses 1/n of the pollen's life, and the shares add up; the answer is the last
    whole day before more than all of it is used. This adding up is our own approximation; no source. What a thaw
    costs is left out, since nobody has put a number to it.

    Args:
        collected: day of collection, or the first day that it can have been.
        storage: where it was put that day.
        changes: (day, storage) of each later move, in any order; a move before ``collected`` counts from that day.

    Raises:
        ValueError: no such storage.

    >>> best_before(date(2026, 3, 1), "refrigerator")
    datetime.date(2026, 5, 10)
    >>> best_before(date(2026, 3, 1), "bench", [(date(2026, 3, 3), "refrigerator")])
    datetime.date(2026, 4, 7)
    """
    stays = _stays(collected, storage, changes)
    used = 0.0
    for (start, kept_in), (end, _) in zip(stays, stays[1:], strict=False):
        share = (end - start).days / keeping(kept_in).days
        if used + share >= 1:
            return _used_up(start, used, kept_in)
        used += share
    start, kept_in = stays[-1]
    return _used_up(start, used, kept_in)


def _stays(collected: date, storage: str, changes: Iterable[tuple[date, str]]) -> list[tuple[date, str]]:
    """Start and storage of each stay, in order; of two moves on one day the later in ``changes`` holds."""
    moves = sorted(((max(day, collected), moved_to) for day, moved_to in changes), key=lambda move: move[0])
    return [(collected, storage), *moves]


def _used_up(start: date, used: float, storage: str) -> date:
    # Rounding: 0.7 of 10 days left is 7 days, not 6.999...
    return start + timedelta(days=int((1 - used) * keeping(storage).days + 1e-9))
