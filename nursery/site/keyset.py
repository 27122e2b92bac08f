"""Pages of the journal by where the last one ended, so that the hundredth page costs what the first does."""

import uuid
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta

from django.db.models import Q, QuerySet

from nursery.models import Act

EPOCH = datetime(1970, 1, 1, tzinfo=UTC)
MICROSECOND = timedelta(microseconds=1)


@dataclass(frozen=True)
class Cursor:
    """The last act shown: everything after it in the order of newest first comes next."""

    recorded_at: datetime
    pk: uuid.UUID

    def __str__(self) -> str:
        return f"{(self.recorded_at - EPOCH) // MICROSECOND}.{self.pk.hex}"

    @classmethod
    def read(cls, text: str) -> "Cursor | None":
        """None for anything that is no cursor; then the newest page is shown."""
        moment, _, pk = text.partition(".")
        try:
            return cls(EPOCH + int(moment) * MICROSECOND, uuid.UUID(pk))
        except (ValueError, OverflowError):
            return None


def page_of(acts: QuerySet[Act], *, after: Cursor | None, size: int) -> tuple[list[Act], Cursor | None]:
    """The next acts, newest first, and the cursor of the page behind them; None when these are the last."""
    if after is not None:
        acts = acts.filter(Q(recorded_at__lt=after.recorded_at) | Q(recorded_at=after.recorded_at, pk__lt=after.pk))
    found = list(acts.order_by("-recorded_at", "-pk")[: size + 1])
    last = found[size - 1] if len(found) > size else None
    return found[:size], Cursor(last.recorded_at, last.pk) if last else None
