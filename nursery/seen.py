"""One act as the pure functions see it: no database, no clock."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from datetime import date, datetime
from typing import Any
from uuid import UUID

from nursery.days import Said


@dataclass(frozen=True)
class Seen:
    """An act that still counts, as told for one thing.

    ``first`` and ``last`` are None when the day is not known; ``said`` is how it was told. ``recorded_at`` is when it
    was first told, whatever was corrected since; ``recorded_on`` is the nursery's own day of that.
    ``birth`` is true when this act made the thing; ``main`` is false when the act is about another thing and only
    touched this one.
    ``data`` holds the columns of the act's details by name, foreign keys as ids.
    """

    id: UUID
    kind: str
    first: date | None
    last: date | None
    said: Said
    recorded_at: datetime
    recorded_on: date
    birth: bool = False
    main: bool = True
    data: Mapping[str, Any] = field(default_factory=dict)

    @property
    def order(self) -> tuple[date, datetime, UUID]:
        """Sort key: the middle of the day as told (unknown days first), then when it was recorded."""
        middle = self.first + (self.last - self.first) / 2 if self.first and self.last else date.min
        return (middle, self.recorded_at, self.id)

    @property
    def latest(self) -> date:
        """The last day on which it can have been; a day that nobody knows was no later than it was recorded."""
        return self.last or self.recorded_on

    @property
    def late_order(self) -> tuple[date, datetime, UUID]:
        """Sort key for what holds now: what was surely later comes later, and no vague day makes an act too old."""
        return (self.latest, self.recorded_at, self.id)

    def surely_after(self, other: "Seen") -> bool:
        """Whether even its earliest day is later than the latest of the other."""
        return self.first is not None and self.first > other.latest


def last_told(acts: Iterable[Seen]) -> Seen | None:
    """Of acts that each replace what was before (moves, estimates, a new name), the one that holds now."""
    return max(acts, key=lambda one: one.late_order, default=None)


def ending(ends: Iterable[Seen], contrary: Iterable[Seen]) -> Seen | None:
    """The ending that holds: the last, unless something contrary was surely later. None where none holds.

    A vague or unknown day never undoes an ending, since people tell what ended when they see that it is gone.
    """
    end = last_told(ends)
    return end if end and not any(one.surely_after(end) for one in contrary) else None
