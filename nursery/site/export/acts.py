"""A table for each kind of act: of what, on which day, by whom, and everything it tells."""

from collections.abc import Iterable, Iterator
from itertools import islice
from typing import Any, TypeVar

from nursery.models import Act, ActLink
from nursery.records import registry
from nursery.records.registry import ActKind
from nursery.site.export.columns import columns_of, fields_of, value_of
from nursery.site.export.sheet import Column, Sheet
from nursery.site.named import Named, named

One = TypeVar("One")
AT_ONCE = 500
BEFORE = (
    Column("id", "The act's own id, made where it was told.", "an id"),
    Column("thing_id", "What it is about.", "id of a thing"),
    Column("thing_kind", "Which kind of thing that is.", "words"),
    Column("number", "The number on that thing's tag now.", "a whole number; empty for what carries no tag"),
    Column("name", "What that thing is called.", "words"),
    Column("day_first", "The first day on which it can have been.", "a day; empty where it is not known"),
    Column("day_last", "The last such day.", "a day; empty where it is not known"),
    Column("day_said", "How exactly the day was told.", "exact, week, month, season, year or unknown"),
    Column("at", "The time of day, where it was told.", "a time of day"),
    Column("by", "Who did it.", "words"),
    Column("note", "A note beside it.", "words"),
    Column("recorded_at", "When it was written down.", "a moment, in UTC"),
    Column("replaces", "The act that this one corrects.", "an id"),
    Column("undone_by", "The act that undid this one; empty while it counts.", "an id"),
    Column("touched", "Other things that it is about.", "ids of things, with an upright line between"),
    Column("made", "Things that it made.", "ids of things, with an upright line between"),
)


def sheet_of(kind: ActKind) -> Sheet:
    before = (*BEFORE, *columns_of(_other_fields(), behind=BEFORE))
    columns = (*before, *columns_of(_details(kind), behind=before))
    return Sheet(f"acts/{kind.code}.csv", f"Acts: {kind.words}", columns, lambda: _rows(kind))


def sheets() -> list[Sheet]:
    return [sheet_of(kind) for kind in registry.act_kinds().values()]


def _other_fields() -> list[Any]:
    """What acts have besides what stands before; the hash of what was sent means nothing outside."""
    told = {"id", "kind", "thing", "day_first", "day_last", "said", "payload_hash"}
    return fields_of(Act, besides=told | {column.name for column in BEFORE})


def _details(kind: ActKind) -> list[Any]:
    return fields_of(kind.detail, besides={"act"}) if kind.detail else []


def _rows(kind: ActKind) -> Iterator[list[Any]]:
    along = [kind.accessor] if kind.accessor else []
    acts = Act.objects.filter(kind=kind.code).select_related("thing", "by", "voided_by", *along)
    acts = acts.prefetch_related("links", "births").order_by("recorded_at", "pk")
    for some in _chunks(acts.iterator(chunk_size=AT_ONCE)):
        names = named(act.thing for act in some)
        yield from (_row(act, names.get(act.thing_id), kind) for act in some)


def _row(act: Act, name: Named | None, kind: ActKind) -> list[Any]:
    voided = getattr(act, "voided_by", None)
    detail = getattr(act, kind.accessor) if kind.accessor else None
    return [
        act.pk,
        act.thing_id,
        act.thing.kind,
        name and name.number,
        "".join(part.text for part in name.parts) if name else "",
        act.day_first,
        act.day_last,
        act.said,
        act.at,
        act.by.name,
        act.note,
        act.recorded_at,
        act.replaces_id,
        voided and voided.pk,
        sorted(link.thing_id for link in act.links.all() if link.role == ActLink.Role.TOUCHED),
        sorted(thing.pk for thing in act.births.all()),
        *(value_of(act, field) for field in _other_fields()),
        *(value_of(detail, field) for field in _details(kind)),
    ]


def _chunks(rows: Iterable[One]) -> Iterator[list[One]]:
    rows = iter(rows)
    while some := list(islice(rows, AT_ONCE)):
        yield some
