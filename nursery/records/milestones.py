"""The cached columns of things, worked out from their acts. Nothing else writes these columns."""

from bisect import insort
from collections import defaultdict
from collections.abc import Collection, Iterable, Iterator, Mapping
from contextlib import contextmanager
from copy import copy
from datetime import datetime
from functools import cache
from typing import Any
from uuid import UUID

from django.db.models import Model, Q
from django.utils import timezone

from nursery.models import Act, ActLink, LivingThing
from nursery.records import locks, registry
from nursery.records.mind import mind
from nursery.records.prepared import Prepared
from nursery.records.rows import save_columns
from nursery.records.storing import values_of
from nursery.seen import Seen

ACT_COLUMNS = ("id", "kind", "thing", "day_first", "day_last", "said", "recorded_at", "replaces")
_COUNTING = Act.objects.filter(voided_by__isnull=True).exclude(kind="void")
_MAIN = Prepared(lambda ids: _COUNTING.filter(thing__in=ids).values(*ACT_COLUMNS, "thing__born_by"))
_LINKED = Prepared(
    lambda ids: _COUNTING.filter(links__thing__in=ids).values(*ACT_COLUMNS, "links__thing", "links__thing__born_by")
)
_VERSIONS = Prepared(lambda ids: Act.objects.filter(pk__in=ids).values("id", "recorded_at", "replaces"))

Told = tuple[dict[str, Any], UUID]
"""The row of an act, and the act that made the thing it is told for."""


@contextmanager
def forgotten_if_it_fails() -> Iterator[None]:
    """Keep nothing in mind of an act that was taken back, by a refusal as well as by the database."""
    try:
        yield
    except Exception:
        if kept := mind():
            kept.forget()
        raise


def rewrite(
    things: Iterable[LivingThing],
    *,
    because: str,
    again: bool = False,
    told: Act | None = None,
    detail: Model | None = None,
) -> None:
    """Work out afresh the columns of these things, then what stands above them, from the bottom up.

    ``because`` is the kind of act that came or went, so that only what it may change is worked out and settled; after
    a birth that was told ``again`` everything is settled, for things may belong to others now. ``told`` is the act
    that came, with its ``detail``, where nothing but its coming has changed what is told of these things.
    """
    things = sorted({thing.pk: thing for thing in things}.values(), key=locks.rank, reverse=True)
    heeding = [thing for thing in things if _heeds(thing, because)]
    seen = _brought_to_mind(heeding, told, detail) if mind() else seen_of(heeding)
    changed: dict[int, set[str]] = defaultdict(set)
    for thing in heeding:
        changed[thing.pk] = _write(thing, registry.thing_kind(thing.kind).milestones(seen[thing.pk]))
    for thing in things:
        kind = registry.thing_kind(thing.kind)
        if kind.settle and (again or because in kind.settled_by):
            kind.settle(thing)
    summarise(thing for thing in things if again or _tells_above(thing, changed[thing.pk]))


def _heeds(thing: LivingThing, act_kind: str) -> bool:
    heeded = registry.thing_kind(thing.kind).heeds
    return heeded is None or act_kind in heeded


def _tells_above(thing: LivingThing, changed: set[str]) -> bool:
    """Whether what changed of a thing may change a summary: its own, or of what stands above it."""
    own = any(summary.own_acts for summary in registry.summaries_of(thing.kind))
    return own or not changed.isdisjoint(registry.thing_kind(thing.kind).counted_by)


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


def without(thing: Any, act: Act | None) -> Any:
    """The thing with the columns that its acts give if this one is left out; nothing is stored."""
    if act is None:
        return thing
    seen = [one for one in seen_of([thing])[thing.pk] if one.id != act.pk]
    as_if = copy(thing)
    for name, value in registry.thing_kind(thing.kind).milestones(seen).items():
        setattr(as_if, name, value)
    return as_if


def _write(thing: LivingThing, columns: Mapping[str, Any]) -> set[str]:
    """Store the columns that differ; their names."""
    changed = {name for name, value in columns.items() if getattr(thing, name) != value}
    if changed:
        for name in changed:
            setattr(thing, name, columns[name])
        save_columns(thing, changed)
    return changed


def counting_acts(thing: LivingThing):
    """The acts on or touching this thing that were not undone, voids left out; a queryset."""
    linked = ActLink.objects.filter(thing_id=thing.pk).values("act_id")
    return Act.objects.filter(Q(thing_id=thing.pk) | Q(pk__in=linked), voided_by__isnull=True).exclude(kind="void")


def seen_of(things: Iterable[LivingThing]) -> dict[int, list[Seen]]:
    """The acts of each thing as the pure functions take them, oldest first, by the thing's id."""
    told: dict[int, list[Told]] = {thing.pk: [] for thing in things}
    for row in _MAIN.rows(told):
        told[row["thing"]].append((row, row["thing__born_by"]))
    for row in _LINKED.rows(told):
        told[row["links__thing"]].append((row, row["links__thing__born_by"]))
    return _as_seen(told)


def seen_before(ids: Collection[int], moment: datetime) -> dict[int, list[Seen]]:
    """As ``seen_of``, by what had been recorded and not been undone before a moment."""
    told: dict[int, list[Told]] = {pk: [] for pk in ids}
    acts = Act.objects.filter(recorded_at__lt=moment).exclude(kind="void")
    acts = acts.exclude(voided_by__act__recorded_at__lt=moment)
    for row in acts.filter(thing__in=ids).values(*ACT_COLUMNS, "thing__born_by"):
        told[row["thing"]].append((row, row["thing__born_by"]))
    for row in acts.filter(links__thing__in=ids).values(*ACT_COLUMNS, "links__thing", "links__thing__born_by"):
        told[row["links__thing"]].append((row, row["links__thing__born_by"]))
    born = _born_before({born_by for rows in told.values() for _, born_by in rows}, moment)
    return _as_seen({pk: [(row, born[born_by]) for row, born_by in rows] for pk, rows in told.items()})


def _born_before(births: Collection[UUID], moment: datetime) -> dict[UUID, UUID]:
    """For acts that made things, the version of each that was known before a moment."""
    versions: dict[UUID, dict[str, Any]] = {}
    missing = set(births)
    while missing:
        rows = {row["id"]: row for row in _VERSIONS.rows(missing)}
        versions |= rows
        missing = {row["replaces"] for row in rows.values() if row["recorded_at"] >= moment} - versions.keys() - {None}
    return {pk: _version_before(pk, versions, moment) for pk in births}


def _version_before(pk: UUID, versions: Mapping[UUID, dict[str, Any]], moment: datetime) -> UUID:
    while versions[pk]["recorded_at"] >= moment and versions[pk]["replaces"]:
        pk = versions[pk]["replaces"]
    return pk


def _as_seen(told: Mapping[int, list[Told]]) -> dict[int, list[Seen]]:
    rows = [row for rows in told.values() for row, _ in rows]
    details, told_first = _details(rows), first_told(rows)
    return {
        pk: sorted((_seen(row, pk, born_by, details, told_first) for row, born_by in rows), key=lambda one: one.order)
        for pk, rows in told.items()
    }


def _brought_to_mind(things: Iterable[LivingThing], told: Act | None, detail: Model | None) -> dict[int, list[Seen]]:
    """As ``seen_of``, reading only what is not in mind."""
    kept = mind()
    if told is None:
        kept.things.clear()
    known = [thing.pk for thing in things if told and thing.pk in kept.seen]
    kept.seen |= seen_of(thing for thing in things if thing.pk not in known)
    if known:
        row = {name: getattr(told, f"{name}_id" if name in {"thing", "replaces"} else name) for name in ACT_COLUMNS}
        details = {told.pk: values_of(detail)} if detail else {}
        for pk in known:
            insort(kept.seen[pk], _seen(row, pk, None, details, {}), key=lambda one: one.order)
    return {thing.pk: kept.seen[thing.pk] for thing in things}


def first_told(rows: Iterable[dict[str, Any]]) -> dict[UUID, datetime]:
    """When each correction among these acts was first told: it keeps the turn of what it corrects among the acts of a
    day. A row has ``id``, ``recorded_at`` and ``replaces``.
    """
    versions = {row["id"]: row for row in rows}
    corrections = [pk for pk, row in versions.items() if row["replaces"]]
    while missing := {row["replaces"] for row in versions.values()} - versions.keys() - {None}:
        versions |= {row["id"]: row for row in _VERSIONS.rows(missing)}
    return {pk: _first_of(pk, versions)["recorded_at"] for pk in corrections}


def _first_of(pk: UUID, versions: Mapping[UUID, dict[str, Any]]) -> dict[str, Any]:
    row = versions[pk]
    while row["replaces"]:
        row = versions[row["replaces"]]
    return row


def _seen(
    row: dict[str, Any],
    thing: int,
    born_by: UUID | None,
    details: Mapping[UUID, dict[str, Any]],
    first_told: Mapping[UUID, datetime],
) -> Seen:
    recorded_at = first_told.get(row["id"], row["recorded_at"])
    return Seen(
        id=row["id"],
        kind=row["kind"],
        first=row["day_first"],
        last=row["day_last"],
        said=row["said"],
        recorded_at=recorded_at,
        recorded_on=timezone.localdate(recorded_at),
        birth=row["id"] == born_by,
        main=row["thing"] == thing,
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
            details |= {detail["act_id"]: detail for detail in _details_in(model).rows(ids)}
    return details


@cache
def _details_in(model: type[Model]) -> Prepared:
    return Prepared(lambda ids: model.objects.filter(pk__in=ids).values())
