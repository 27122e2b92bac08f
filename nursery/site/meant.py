"""Tags that somebody may have meant who typed a number with one slip, as rows to choose from."""

from collections import defaultdict
from typing import Any

from django.db.models import Q
from django.urls import reverse
from django.utils import timezone

from nursery.models import Tag
from nursery.records import registry
from nursery.site import fetch
from nursery.site.cards.parts import Row, row_of
from nursery.typed_tags import near_misses


def meant_rows(typed: str, which: Q | None = None) -> list[Row]:
    """These tags with what they are on. Nothing is opened or filled in by itself: a person chooses."""
    tags = near_misses(typed, which)
    things = _things_of(tags)
    return [_row(tag, things.get(tag.thing_id)) for tag in tags]


def _things_of(tags: list[Tag]) -> dict[int, Any]:
    by_kind: dict[str, list[int]] = defaultdict(list)
    for tag in tags:
        if tag.thing is not None:
            by_kind[tag.thing.kind].append(tag.thing_id)
    rows = [row for kind, pks in by_kind.items() for row in fetch.listed(fetch.things(kind).filter(pk__in=pks))]
    return {row.pk: row for row in rows}


def _row(tag: Tag, thing: Any | None) -> Row:
    url = reverse("tag", kwargs={"typed": str(tag.number)})
    if thing is None:
        return Row(url, number=tag.number, text="A blank tag")
    told = row_of(thing, timezone.localdate(), where=True)
    sub = ", ".join(filter(None, (registry.thing_kind(thing.kind).words, told.sub)))
    return Row(url, number=tag.number, name_parts=told.name_parts, text=told.text, sub=sub)
