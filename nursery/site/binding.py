"""What a blank tag may be put on: what was entered lately and has no tag in hand yet, or what is searched for."""

from collections import defaultdict
from dataclasses import dataclass
from datetime import date, timedelta
from typing import Any

from django.core.exceptions import ValidationError
from django.db.models import Exists, OuterRef, Q
from django.urls import reverse
from django.utils import timezone

from nursery.forms.base import TagNumberField
from nursery.forms.worded import Form
from nursery.links import act_url
from nursery.models import Act, Person, Place, Tag, Thing
from nursery.records import registry
from nursery.site import fetch
from nursery.site.cards.parts import Link, Row, row_of
from nursery.site.search import by_words
from nursery.typed_tags import what_is_wrong

LATELY = timedelta(days=14)
A_WALK = timedelta(hours=12)
MOST_CHOICES = 20
ENTER_NEW = (("A new plant", "plants"), ("Pollen from elsewhere", "pollen"), ("Seed from elsewhere", "seed"))


GROWS_ON = {"plant": "spike", "spike": "pollinate"}
"""By what carries a number, the act that makes something new there: a spike on a plant, a section of a spike."""


class GrowsOnForm(Form):
    """On what it grows that the tag is for; ``url`` is the form that makes it."""

    on = TagNumberField(
        label="Number of the plant, or of the spike",
        help_text="On a plant it is a new spike, on a spike a new section.",
        required=True,
        which=Q(thing__kind__in=GROWS_ON),
        error_messages={"required": "Type the number of the plant or of the spike."},
    )

    def clean_on(self) -> int:
        number = self.cleaned_data["on"]
        tag = Tag.objects.select_related("thing").filter(number=number).first()
        if tag is None:
            raise ValidationError(what_is_wrong(str(number)))
        if tag.thing is None:
            raise ValidationError("This tag is blank, too. Type the number of the plant or of the spike.")
        if tag.thing.kind not in GROWS_ON:
            words = registry.thing_kind(tag.thing.kind).words
            raise ValidationError(f"This is the tag of a {words}. Type the number of the plant or of the spike.")
        self.url = act_url(tag.thing, GROWS_ON[tag.thing.kind])
        return number


@dataclass(frozen=True)
class Choice:
    """A thing that the tag may be put on, and the address to post its number to."""

    row: Row
    kind_words: str
    url: str


def choices(q: str, today: date, *, here: Place | None = None) -> list[Choice]:
    """Things in the order in which they are likely meant; first those that stand ``here`` without a tag in hand."""
    things = _searched(q) if q else _first_of(_waiting(here), _lately())
    return [Choice(row_of(one, today, where=True), registry.thing_kind(one.kind).words, _url(one)) for one in things]


def bench_at_hand(person: Person) -> Place | None:
    """Where the thing stands that this person put a tag on last, if that was today: they are walking along there."""
    bound = Act.objects.filter(kind="tag_bound", by_id=person.pk, voided_by__isnull=True)
    last = bound.filter(recorded_at__gte=timezone.now() - A_WALK).order_by("-recorded_at").first()
    return fetch.place_of(registry.instance_of(last.thing)) if last else None


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


def _waiting(here: Place | None) -> list[Any]:
    """Plants and pots that stand in this very place, of which nobody has printed or bound a tag."""
    if here is None:
        return []
    rows = [fetch.open_things(code).filter(place=here).exclude(_in_hand("pk")) for code in ("plant", "seedpot")]
    return [row for some in rows for row in some.order_by("pk")[:MOST_CHOICES]]


def _in_hand(pk: str) -> Exists:
    return Exists(Tag.objects.filter(thing_id=OuterRef(pk), printed_at__isnull=False))


def _first_of(*lists: list[Any]) -> list[Any]:
    return list({row.pk: row for some in lists for row in some}.values())[:MOST_CHOICES]


def _lately() -> list[Any]:
    """Born in the last days, those without a tag in hand first: nobody printed theirs or bound one."""
    born = Thing.objects.filter(kind__in=_tagged_kinds(), made_at__gte=timezone.now() - LATELY)
    pks = list(born.order_by(_in_hand("pk"), "-made_at", "-pk").values_list("kind", "pk")[: 2 * MOST_CHOICES])
    by_kind = defaultdict(list)
    for code, pk in pks:
        by_kind[code].append(pk)
    rows = {row.pk: row for code, some in by_kind.items() for row in fetch.open_things(code).filter(pk__in=some)}
    return [rows[pk] for _, pk in pks if pk in rows][:MOST_CHOICES]
