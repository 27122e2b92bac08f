"""What somebody typed while signed out: carried through the sign-in page, shown again, and never sent by itself."""

from dataclasses import dataclass
from urllib.parse import urlsplit

from django.http import QueryDict
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
