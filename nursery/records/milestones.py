"""The cached columns of things, worked out from their acts. Nothing else writes these columns."""

from collections import defaultdict
from collections.abc import Iterable
from typing import Any
from uuid import UUID

from django.db.models import Q

from nursery.models import Act, ActLink, LivingThing
from nursery.records import locks, registry
from nursery.seen import Seen

ACT_COLUMNS = ("id", "kind", "thing_id", "day_first", "day_last", "recorded_at")


def rewrite(things: Iterable[LivingThing]) -> None:
    """Work out afresh the columns of these things and of all that follow from them, from the bottom up."""
    for thing in reversed(locks.with_upstream(things)):
        _rewrite_one(thing)


def worked_out(thing: LivingThing) -> dict[str, Any]:
    """The columns as its acts give them, without storing."""
    kind = registry.thing_kind(thing.kind)
    columns = kind.milestones(seen_of(thing))
    for summary in registry.summaries_of(thing.kind):
        columns |= summary.work_out(summary.gather(thing))
    return columns


def _rewrite_one(thing: LivingThing) -> None:
    columns = worked_out(thing)
    changed = [name for name, value in columns.items() if getattr(thing, name) != value]
    if changed:
        for name in changed:
            setattr(thing, name, columns[name])
        thing.save(update_fields=changed)
    settle = registry.thing_kind(thing.kind).settle
    if settle:
        settle(thing)


def counting_acts(thing: LivingThing):
    """The acts on or touching this thing that were not undone, voids left out; a queryset."""
    linked = ActLink.objects.filter(thing_id=thing.pk).values("act_id")
    return Act.objects.filter(Q(thing_id=thing.pk) | Q(pk__in=linked), voided_by__isnull=True).exclude(kind="void")


def seen_of(thing: LivingThing) -> list[Seen]:
    """Its acts as the pure functions take them, oldest first."""
    born_by = thing.thing.born_by_id
    rows = list(counting_acts(thing).values(*ACT_COLUMNS))
    details = _details(rows)
    seen = [
        Seen(
            id=row["id"],
            kind=row["kind"],
            first=row["day_first"],
            last=row["day_last"],
            recorded_at=row["recorded_at"],
            birth=row["id"] == born_by,
            main=row["thing_id"] == thing.pk,
            data=details.get(row["id"], {}),
        )
        for row in rows
    ]
    return sorted(seen, key=lambda one: one.order)


def _details(rows: list[dict[str, Any]]) -> dict[UUID, dict[str, Any]]:
    by_kind = defaultdict(list)
    for row in rows:
        by_kind[row["kind"]].append(row["id"])
    details = {}
    for kind, ids in by_kind.items():
        model = registry.act_kind(kind).detail
        if model:
            details |= {detail["act_id"]: detail for detail in model.objects.filter(pk__in=ids).values()}
    return details
