"""The pieces that cards and lists of things are put together from. Templates only write them out."""

from collections import Counter
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from datetime import date
from typing import Any

from django.urls import reverse

from breeding.answers import Answer, Asked
from breeding.words.facts import Fact
from breeding.words.names import name_parts
from breeding.words.stages import stage_words
from nursery.links import act_url, thing_url
from nursery.models import LivingThing
from nursery.names import NamePart
from nursery.records import registry
from nursery.site.fetch import place_of
from nursery.where import place_words

MOST_ROWS = 30
"""Rows of what belongs to a thing; the rest is one tap away."""


@dataclass(frozen=True)
class Link:
    label: str
    url: str


@dataclass(frozen=True)
class Row:
    """One thing in a list of things; ``links`` stand below it, for those who record."""

    url: str
    number: int | None = None
    name_parts: tuple[NamePart, ...] = ()
    text: str = ""
    sub: str = ""
    links: tuple[Link, ...] = ()

    def without_links(self) -> "Row":
        return replace(self, links=())


@dataclass(frozen=True)
class Listing:
    """What belongs to a thing, with words for none of it and a way to more."""

    title: str
    rows: tuple[Row, ...] = ()
    empty: str = ""
    url: str = ""
    label: str = ""

    def without_links(self) -> "Listing":
        return replace(self, url="", label="", rows=tuple(row.without_links() for row in self.rows))


@dataclass(frozen=True)
class Detail:
    label: str
    value: str = ""
    url: str = ""
    name_parts: tuple[NamePart, ...] = ()


@dataclass(frozen=True)
class Card:
    """Everything on the page of a thing but its story. ``section`` is the part of the menu it belongs to.

    ``ancestors`` (see cards/descent.py) and ``history`` of flowering (see cards/blooming.py) are for clones and plants.
    """

    section: str
    facts: Sequence[Fact] = ()
    asked: Asked = Asked()
    acts: Sequence[Link] = ()
    details: Sequence[Detail] = ()
    lists: Sequence[Listing] = ()
    ancestors: Sequence[Any] = ()
    history: Any = None

    def without_acts(self) -> "Card":
        return replace(self, asked=Asked(), acts=(), lists=[one.without_links() for one in self.lists])


def acts_of(thing: LivingThing, *own: tuple[str, str]) -> list[Link]:
    """Links to the forms of a thing: its own (label, act), then what can be said of everything, then its label."""
    watched = [("Watch again", "resume")] if thing.closed_why == "stopped" else []
    stops = "Stop it" if thing.kind == "routine" else "Stop watching"
    stop = [(stops, "stop")] if thing.is_open and thing.kind in WATCHED else []
    everything = [("Take a photo", "photo"), ("Remark", "remark"), *watched, *stop]
    tag = (
        [("Put another tag on", "tag"), ("Its tag was swapped", "swapped")]
        if registry.thing_kind(thing.kind).tagged
        else []
    )
    printing = [Link("Print its tag", reverse("labels:print", args=[thing.number]))] if tag and thing.number else []
    return [*(Link(label, act_url(thing, act)) for label, act in [*own, *everything, *tag]), *printing]


WATCHED = frozenset({"spike", "section", "pollenlot", "seedlot", "seedpot", "sowingsession", "routine"})


def details(*pairs: tuple[str, Any]) -> list[Detail]:
    """Labels with their values; what nobody told is left away."""
    return [value if isinstance(value, Detail) else Detail(label, str(value)) for label, value in pairs if value]


def named(label: str, thing: LivingThing | None) -> Detail | None:
    """A detail that names another thing and leads to it."""
    return Detail(label, url=thing_url(thing), name_parts=tuple(name_parts(thing))) if thing is not None else None


def row_of(thing: Any, today: date, *, text: str = "", sub: str = "", where: bool = False) -> Row:
    """A thing fetched by ``nursery.site.fetch.things``, by its name or ``text``, with its stage, perhaps its place."""
    place = place_words(place_of(thing)) if where else ""
    told = ", ".join(one for one in (sub or stage_words(thing, today), place) if one)
    parts = () if text else tuple(name_parts(thing))
    return Row(thing_url(thing), number=thing.number, name_parts=parts, text=text, sub=told)


def listing(title: str, rows: Iterable[Row], *, empty: str = "", url: str = "", label: str = "") -> Listing:
    """The first rows with a count of those left away; ``url`` and ``label`` lead on."""
    rows = tuple(rows)
    more = f" (the first {MOST_ROWS})" if len(rows) > MOST_ROWS else ""
    return Listing(title + more, rows[:MOST_ROWS], empty, url, label)


def pots_of_acts(pots: Iterable[Any]) -> list[Link]:
    """To the open pots of each sowing or split that has more than one: one answer for all of them."""
    open_pots = Counter(pot.thing.born_by_id for pot in pots if pot.is_open)
    acts = [act for act, count in open_pots.items() if count > 1]
    words = "Answer several pots at once" if len(acts) == 1 else "Several pots at once, group {}"
    return [Link(words.format(turn), reverse("several-of-sowing", args=[act])) for turn, act in enumerate(acts, 1)]


def printing(pots: Sequence[Any]) -> list[Link]:
    """Where a sowing or a split goes on: to the labels of seed pots that wait to be printed."""
    return [Link("Print tags of seed pots", f"{reverse('labels:waiting')}?show=Seed+pot")] if pots else []


__all__ = [
    "MOST_ROWS",
    "Answer",
    "Asked",
    "Card",
    "Detail",
    "Fact",
    "Link",
    "Listing",
    "Row",
    "acts_of",
    "details",
    "listing",
    "named",
    "pots_of_acts",
    "printing",
    "row_of",
]
