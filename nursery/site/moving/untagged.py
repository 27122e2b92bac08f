"""What an import brought in and nobody has a tag for yet, in the order in which one walks."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from typing import Any

from django.db.models import Exists, F, OuterRef, Q, QuerySet

from nursery.models import Tag, Thing
from nursery.records import registry
from nursery.site import fetch
from nursery.site.cards.parts import Row, row_of
from nursery.site.models import Import
from nursery.site.moving.places import path_words

MOST_SHOWN = 40


@dataclass(frozen=True)
class ToTag:
    """How many things of an import carry a tag and how many do not, and the first of these as rows of a list."""

    all: int
    without: int
    rows: Sequence[Row]


def to_tag(moving: Import, today: date) -> ToTag:
    """A tag is in hand when it was printed, bound, or was a blank that the table named."""
    things = _tagged(moving)
    without = list(things.filter(~_in_hand()).values_list("kind", "pk"))
    return ToTag(things.count(), len(without), [row_of(one, today, where=True) for one in _walked(without)])


def _tagged(moving: Import) -> QuerySet[Thing]:
    """Places have numbers, too, but one walks to plants, pots and packets."""
    kinds = [
        kind.code for kind in registry.thing_kinds().values() if kind.tagged and kind.code not in {"place", "spike"}
    ]
    return Thing.objects.filter(born_by__imported__moving=moving, kind__in=kinds)


def _in_hand() -> Exists:
    named = Q(printed_at__isnull=False) | Q(made_at__lt=F("thing__made_at"))
    return Exists(Tag.objects.filter(named, thing_id=OuterRef("pk"), retired=False))


def _walked(pks: list[tuple[str, int]]) -> list[Any]:
    """Those still open, by place and then as they came."""
    found = []
    for code in dict.fromkeys(code for code, _ in pks):
        found += fetch.listed(fetch.open_things(code).filter(pk__in=[pk for one, pk in pks if one == code]))
    return sorted(found, key=lambda one: (path_words(fetch.place_of(one)), one.pk))[:MOST_SHOWN]
