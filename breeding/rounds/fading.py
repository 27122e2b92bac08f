"""Tags in use whose print fades, by place: from the nursery's own record of tags, whatever printed them."""

from __future__ import annotations

from collections import defaultdict
from datetime import date, timedelta

from django.db.models import Count, F, IntegerField, OuterRef, Q, QuerySet, Subquery
from django.db.models.functions import Coalesce
from django.utils import timezone

from breeding.rounds.rows import FadingRow
from nursery.models import LivingThing, Place, Tag

STANDS = {
    "plant": "place_id",
    "spike": "plant__place_id",
    "section": "spike__plant__place_id",
    "seedpot": "place_id",
    "place": "pk",
}
"""Where each kind of thing stands; packets stand nowhere."""
PACKETS = ("pollenlot", "seedlot")
AHEAD = timedelta(days=400)
"""Print that lasts longer is not looked up: most of it lasts for years. A round of a later day leaves it out."""


def fading_rows(*, at: LivingThing | None = None) -> list[FadingRow]:
    """One row for each place, and one for what has no place; with ``at``, only for this one. One query."""
    counted = _in_use().filter(lasts_until__lte=timezone.localdate() + AHEAD).order_by()
    if at is not None:
        counted = counted.filter(where=at.pk)
    prints: dict[tuple[int | None, date | None], list[tuple[date, int]]] = defaultdict(list)
    for where, later, until, count in counted.values_list("where", "later", "lasts_until").annotate(Count("number")):
        prints[where, later].append((until, count))
    return [FadingRow(where or 0, where, later, tuple(sorted(some))) for (where, later), some in prints.items()]


def _in_use() -> QuerySet[Tag]:
    """Tags of things that are still watched, each with the place where it hangs and until when that is postponed."""
    kinds = (*STANDS, *PACKETS)
    watched = Q(*map(_watched, kinds), _connector=Q.OR)
    where = Coalesce(*(F(f"thing__{kind}__{path}") for kind, path in STANDS.items()), output_field=IntegerField())
    later = Place.objects.filter(pk=OuterRef("where")).values("later_until")
    return Tag.objects.filter(watched, retired=False).annotate(where=where).annotate(later=Subquery(later))


def _watched(kind: str) -> Q:
    return Q(**{f"thing__{kind}__cancelled": False, f"thing__{kind}__closed_on": None})
