"""One act as the pure functions see it: no database, no clock."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date, datetime
from typing import Any
from uuid import UUID


@dataclass(frozen=True)
class Seen:
    """An act that still counts, as told for one thing.

    ``first`` and ``last`` are None when the day is not known; ``recorded_on`` is the nursery's own day of
    ``recorded_at``. ``birth`` is true when this act made the thing; ``main`` is false when the act is about another
    thing and only touched this one.
    ``data`` holds the columns of the act's details by name, foreign keys as ids.
    """

    id: UUID
    kind: str
    first: date | None
    last: date | None
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
