"""Tables of what acts and things refer to: taxa, people, tags, contradictions, timings."""

from collections.abc import Iterator
from typing import Any

from django.db.models import Model

from breeding.models import Expectation, LeftOut
from nursery.models import Flag, Person, Tag, Taxon
from nursery.site.export.columns import column_of, fields_of, value_of
from nursery.site.export.sheet import Sheet

PRIVATE = frozenset({"password", "last_login"})
LISTS: tuple[tuple[type[Model], str, str], ...] = (
    (Taxon, "taxa", "Species and named hybrids"),
    (Person, "people", "People, without their passwords"),
    (Tag, "tags", "Tags, blank ones too"),
    (Flag, "flags", "What did not fit the books"),
    (Expectation, "timings", "How long each step takes"),
    (LeftOut, "left_out", "Times left out of what is learned"),
)


def sheets() -> list[Sheet]:
    return [_sheet(model, name, title) for model, name, title in LISTS]


def _sheet(model: type[Model], name: str, title: str) -> Sheet:
    fields = fields_of(model, besides=PRIVATE)

    def rows() -> Iterator[list[Any]]:
        for row in model._default_manager.order_by("pk").iterator(chunk_size=500):
            yield [value_of(row, field) for field in fields]

    return Sheet(f"lists/{name}.csv", title, tuple(column_of(field) for field in fields), rows)
