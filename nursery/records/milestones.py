"""The cached columns of things, worked out from their acts. Nothing else writes these columns."""

from collections import defaultdict
from collections.abc import Iterable, Mapping
from typing import Any
from uuid import UUID

from django.db.models import Q
from django.utils import timezone

from nursery.models import Act, ActLink, LivingThing, Thing
from nursery.records import locks, registry
from nursery.seen import Seen

ACT_COLUMNS = ("id", "kind", "thing_id", "day_first", "day_last", "recorded_at")


def rewrite(things: Iterable[LivingThing], *, because: str | None = None) -> None:
    """Work out afresh the columns of these things, then what stands above them, from the bottom up.

    ``because`` is the kind of act that came or went, so that only what it may change is settled; None settles all.
    """
    things = sorted({thing.pk: thing for thing in things}.values(), key=locks.rank, reverse=True)
    seen = seen_of(things)
    for thing in things:
        _write(thing, registry.thing_kind(thing.kind).milestones(seen[thing.pk]))
    for thing in things:
        kind = registry.thing_kind(thing.kind)
        if kind.settle and because in (None, *kind.settled_by):
            kind.settle(thing)
    summarise(things)


def summarise(things: Iterable[LivingThing]) -> None:
    """Rewrite what things and those above them say of what is below them; their own acts are not read."""
    for thing in reversed(locks.with_upstream(things)):
        for summary in registry.summaries_of(thing.kind):
            _write(thing, summary.work_out(summary.gather(thing)))


def worked_out(thing: LivingThing) -> dict[str, Any]:
    """The columns as its acts and what is below it give them, without storing."""
    columns = registry.thing_kind(thing.kind).milestones(seen_of([thing])[thing.pk])
    for summary in registry.summaries_of(thing.kind):
        columns |= summary.work_out(summary.gather(thing))
    return columns


def _write(thing: LivingThing, columns: Mapping[str, Any]) -> None:
    changed = [name for name, value in columns.items() if getattr(thing, name) != value]
    if changed:
        for name in changed:
            setattr(thing, name, columns[name])
        thing.save(update_fields=changed)


def counting_acts(thing: LivingThing):
    """The acts on or touching this thing that were not undone, voids left out; a queryset."""
    linked = ActLink.objects.filter(thing_id=thing.pk).values("act_id")
    return Act.objects.filter(Q(thing_id=thing.pk) | Q(pk__in=linked), voided_by__isnull=True).exclude(kind="void")


def seen_of(things: Iterable[LivingThing]) -> dict[int, list[Seen]]:
    """The acts of each thing as the pure functions take them, oldest first, by the thing's id."""
    births = dict(Thing.objects.filter(pk__in=[thing.pk for thing in things]).values_list("pk", "born_by_id"))
    told = _acts_by_thing(births)
    acts = {row["id"]: row for rows in told.values() for row in rows}
    details = _details(acts.values())
    return {
        pk: sorted((_seen(row, pk, born_by, details) for row in told[pk]), key=lambda one: one.order)
        for pk, born_by in births.items()
    }


def _acts_by_thing(things: Iterable[int]) -> dict[int, list[dict[str, Any]]]:
    counting = Act.objects.filter(voided_by__isnull=True).exclude(kind="void")
    told = defaultdict(list)
    for row in counting.filter(thing__in=things).values(*ACT_COLUMNS):
        told[row["thing_id"]].append(row)
    for row in counting.filter(links__thing__in=things).values(*ACT_COLUMNS, "links__thing"):
        told[row["links__thing"]].append(row)
    return told


def _seen(row: dict[str, Any], thing: int, born_by: UUID, details: Mapping[UUID, dict[str, Any]]) -> Seen:
    return Seen(
        id=row["id"],
        kind=row["kind"],
        first=row["day_first"],
        last=row["day_last"],
        recorded_at=row["recorded_at"],
        recorded_on=timezone.localdate(row["recorded_at"]),
        birth=row["id"] == born_by,
        main=row["thing_id"] == thing,
        data=details.get(row["id"], {}),
    )


def _details(rows: Iterable[dict[str, Any]]) -> dict[UUID, dict[str, Any]]:
    by_kind = defaultdict(list)
    for row in rows:
        by_kind[row["kind"]].append(row["id"])
    details = {}
    for kind, ids in by_kind.items():
        model = registry.act_kind(kind).detail
        if model:
            details |= {detail["act_id"]: detail for detail in model.objects.filter(pk__in=ids).values()}
    return details
