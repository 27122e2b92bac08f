"""What a blank tag may be put on: what was entered lately and has no tag in hand yet, or what is searched for."""

from collections import defaultdict
from dataclasses import dataclass
from datetime import date, timedelta
from typing import Any

from django.db.models import Exists, OuterRef
from django.urls import reverse
from django.utils import timezone

from nursery.links import act_url
from nursery.models import Tag, Thing
from nursery.records import registry
from nursery.site import fetch
from nursery.site.cards.parts import Link, Row, row_of
from nursery.site.search import by_words

LATELY = timedelta(days=14)
MOST_CHOICES = 20
ENTER_NEW = (("A new plant", "plants"), ("Pollen from elsewhere", "pollen"), ("Seed from elsewhere", "seed"))


@dataclass(frozen=True)
class Choice:
    """A thing that the tag may be put on, and the address to post its number to."""

    row: Row
    kind_words: str
    url: str


def choices(q: str, today: date) -> list[Choice]:
    """Things in the order in which they are likely meant."""
    things = _searched(q) if q else _lately()
    return [Choice(row_of(one, today, where=True), registry.thing_kind(one.kind).words, _url(one)) for one in things]


def new_links(number: int) -> list[Link]:
    """The forms that enter something new under this number."""
    return [Link(label, f"{reverse('new', kwargs={'slug': slug})}?tag={number}") for label, slug in ENTER_NEW]


def _url(thing: Any) -> str:
    return act_url(thing, "tag")


def _tagged_kinds() -> list[str]:
    return [kind.code for kind in registry.thing_kinds().values() if kind.tagged]


def _searched(q: str) -> list[Any]:
    found = [one for group in by_words(q, _tagged_kinds()) for one in group.things]
    return found[:MOST_CHOICES]


def _lately() -> list[Any]:
    """Born in the last days, those without a tag in hand first: nobody printed theirs or bound one."""
    in_hand = Exists(Tag.objects.filter(thing_id=OuterRef("pk"), printed_at__isnull=False))
    born = Thing.objects.filter(kind__in=_tagged_kinds(), made_at__gte=timezone.now() - LATELY)
    pks = list(born.order_by(in_hand, "-made_at", "-pk").values_list("kind", "pk")[: 2 * MOST_CHOICES])
    by_kind = defaultdict(list)
    for code, pk in pks:
        by_kind[code].append(pk)
    rows = {row.pk: row for code, some in by_kind.items() for row in fetch.open_things(code).filter(pk__in=some)}
    return [rows[pk] for _, pk in pks if pk in rows][:MOST_CHOICES]
