"""A table for each kind of thing: its number and name, when it came into the books, and all that is known of it."""

from collections.abc import Iterator
from typing import Any

from breeding.words.names import name_parts
from nursery.records import registry
from nursery.records.registry import ThingKind
from nursery.site import fetch
from nursery.site.export.columns import columns_of, fields_of, value_of
from nursery.site.export.sheet import Column, Sheet
from nursery.site.moving.places import path_words

AT_ONCE = 500
BEFORE = (
    Column("id", "The thing's own number in the database, by which other tables name it.", "a whole number"),
    Column("number", "The number on its tag now, check digit last.", "a whole number; empty for what carries no tag"),
    Column("name", "What it is called.", "words"),
    Column("stands_at", "Where it stands, from the house inwards.", "words"),
    Column("born_first", "The first day on which what made it can have been.", "a day"),
    Column("born_last", "The last such day.", "a day"),
    Column("born_said", "How exactly that day was told.", "exact, week, month, season, year or unknown"),
)


def sheet_of(kind: ThingKind) -> Sheet:
    fields = fields_of(kind.model, besides={"thing"})
    columns = (*BEFORE, *columns_of(fields, behind=BEFORE))
    return Sheet(f"things/{kind.slug}.csv", f"Every {kind.words}", columns, lambda: _rows(kind))


def sheets() -> list[Sheet]:
    return [sheet_of(kind) for kind in registry.thing_kinds().values()]


def _rows(kind: ThingKind) -> Iterator[list[Any]]:
    fields = fields_of(kind.model, besides={"thing"})
    several = [field.name for field in fields if field.many_to_many]
    rows = fetch.things(kind.code).select_related("thing__born_by").prefetch_related(*several).order_by("pk")
    for row in rows.iterator(chunk_size=AT_ONCE):
        birth = row.thing.born_by
        yield [
            row.pk,
            row.number,
            "".join(part.text for part in name_parts(row)),
            path_words(fetch.place_of(row)),
            birth.day_first,
            birth.day_last,
            birth.said,
            *(value_of(row, field) for field in fields),
        ]
