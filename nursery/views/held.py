"""What somebody typed while signed out: carried through the sign-in page, shown again, and never sent by itself."""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from urllib.parse import urlsplit

from django import forms
from django.forms import BoundField, Form
from django.http import Http404, QueryDict
from django.urls import Resolver404, resolve
from django.utils.datastructures import MultiValueDict

from nursery.links import thing_url
from nursery.models import Tag, Thing
from nursery.records import registry

PREFIX = "held-"
MARK = ("held", "yes")
"""Goes along with every held post, so that one without any value is known for a post, too."""
NOT_TYPED = {"csrfmiddlewaretoken", "act_id", "objections_seen", "anyway", "next"}
CHOOSE_AGAIN = " (choose it again)"
MAY_NOT_BE_READ = "(not shown)"

QUICK = {"quick"}
"""Said by the fields that it fills."""

Pairs = list[tuple[str, str]]


@dataclass(frozen=True)
class Row:
    """One value in words, for the person who typed it."""

    label: str
    value: str


@dataclass(frozen=True)
class About:
    """The thing that a held post is about, as far as its address tells."""

    words: str
    number: int | None
    url: str


@dataclass(frozen=True)
class Told:
    """A held post in the words of its own form: what would be recorded, of what (parts of a name), and its values."""

    title: str
    name_parts: tuple
    rows: list[Row]


def told(address: str, pairs: Pairs) -> Told | None:
    """As the view of this address tells it (``tells_held``); None where it does not, or leads nowhere."""
    try:
        found = resolve(urlsplit(address).path)
        tell = getattr(found.func, "tells_held", None)
        return tell(_posted(pairs), **found.kwargs) if tell else None
    except Http404:  # an address without a page is one of them
        return None


def rows_of(form: Form, posted: QueryDict) -> list[Row]:
    """What was typed into a form, by its labels and the words of its choices; what is no field of it, as it came."""
    told = [Row(field.label, _value_words(field)) for field in form.visible_fields() if field.name not in NOT_TYPED]
    beside = [pair for pair in _pairs(posted) if pair[0] not in form.fields and pair[0] not in QUICK]
    return [row for row in told if row.value.strip()] + in_words(beside)


def _posted(pairs: Pairs) -> QueryDict:
    posted = QueryDict(mutable=True)
    for name, value in pairs:
        posted.appendlist(name, value)
    return posted


def _value_words(field: BoundField) -> str:
    value = field.value()
    values = [str(one) for one in (value if isinstance(value, list | tuple) else [value]) if one not in (None, "")]
    if isinstance(field.field, forms.BooleanField):
        return "yes" if value else ""
    if not isinstance(field.field, forms.ChoiceField):
        return ", ".join(_shown(field.name, one) for one in values)
    words = {str(key): str(label) for key, label in _flat(field.field.choices)}
    return ", ".join(words.get(one, one) for one in values)


def _flat(choices: Iterable) -> Iterator[tuple]:
    """Choices may stand in groups."""
    for key, label in choices:
        yield from label if isinstance(label, list | tuple) else [(key, label)]


def about(address: str) -> About | None:
    """None for a post that enters something new, or is no act on a thing."""
    try:
        found = resolve(urlsplit(address).path).kwargs
    except Resolver404:
        return None
    thing = Thing.objects.filter(pk=found["pk"]).first() if {"slug", "pk"} <= found.keys() else None
    if thing is None:
        return None
    kind = registry.thing_kind(thing.kind)
    number = Tag.objects.filter(thing=thing, retired=False).values_list("number", flat=True).first()
    return About(kind.words, number, thing_url(registry.instance_of(thing)))


def to_carry(posted: QueryDict, files: MultiValueDict | None = None) -> Pairs:
    """The pairs of a post, under names of their own so that they cannot be taken for the sign-in's.

    A file of somebody who is not signed in is not kept: its name goes along, so that it can be chosen again.
    """
    typed = [(name, value) for name, value in _pairs(posted) if name != "csrfmiddlewaretoken"]
    sent = [(name + CHOOSE_AGAIN, file.name) for name, some in (files or MultiValueDict()).lists() for file in some]
    return [MARK, *((PREFIX + name, value) for name, value in (*typed, *sent))]


def still_carried(posted: QueryDict) -> Pairs:
    """The carried pairs of a sign-in's post, to be carried once more."""
    return [pair for pair in _pairs(posted) if pair == MARK or pair[0].startswith(PREFIX)]


def unpacked(posted: QueryDict) -> Pairs:
    """The carried pairs under their own names again; the act's id among them, so that nothing counts twice."""
    return [(name.removeprefix(PREFIX), value) for name, value in still_carried(posted) if (name, value) != MARK]


def in_words(pairs: Pairs) -> list[Row]:
    """What to show of them: everything a person can have typed, a password only as a mark."""
    return [Row(_label(name), _shown(name, value)) for name, value in pairs if name not in NOT_TYPED and value.strip()]


def _pairs(posted: QueryDict) -> Pairs:
    return [(name, value) for name, values in posted.lists() for value in values]


def _label(name: str) -> str:
    return name.replace("_", " ").replace("-", " ").strip().capitalize()


def _shown(name: str, value: str) -> str:
    return MAY_NOT_BE_READ if "password" in name else value
