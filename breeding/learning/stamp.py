"""What the records up to last midnight are known by, asked along with the timings at no further query."""

from __future__ import annotations

from datetime import date, datetime, time
from typing import Any, NamedTuple
from uuid import UUID

from django.db.models import Subquery
from django.utils import timezone

from breeding.models import LeftOut
from nursery.models import Act, House

NAMES = ("stamp_last", "stamp_epoch", "stamp_left_out")


class Stamp(NamedTuple):
    """The day, the last act recorded before it, the epoch of these records, and when a time was last left out.

    Acts are never changed and never deleted, so that while these are the same, the records up to midnight are.
    """

    day: date
    last: UUID | None = None
    epoch: UUID | None = None
    left_out: datetime | None = None

    @property
    def midnight(self) -> datetime:
        return midnight(self.day)


def midnight(day: date) -> datetime:
    """The moment at which a day begins in the nursery's zone."""
    return timezone.make_aware(datetime.combine(day, time.min))


def columns(day: date) -> dict[str, Any]:
    """What to ask of any table, in the order of the stamp's fields behind its day."""
    before = Act.objects.filter(recorded_at__lt=midnight(day)).order_by("-recorded_at", "pk")
    last = Subquery(before.values("pk")[:1])
    epoch = Subquery(House.objects.filter(pk=1).values("epoch")[:1])
    left_out = Subquery(LeftOut.objects.order_by("-changed_at").values("changed_at")[:1])
    return dict(zip(NAMES, (last, epoch, left_out), strict=True))
