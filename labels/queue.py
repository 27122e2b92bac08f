"""What waits to be printed: narrowed by kind, place, sowing or what made it, as the bench is walked."""

from collections import Counter
from collections.abc import Collection, Iterable, Sequence
from dataclasses import dataclass
from datetime import date
from itertools import groupby
from uuid import UUID

from django.db.models import Count, Q
from django.http import QueryDict

from breeding.models import SowingSession
from breeding.rounds.place_order import PlaceRow, Walked, walking_order
from labels import contents
from labels.contents import BLANK, Tagged
from nursery.models import Place, Tag

NOWHERE = "In packets, or nowhere"
LONGEST_ID = 18
"""Digits; longer ones are no id of any database."""


@dataclass(frozen=True)
class Wanted:
    """Which of the waiting tags: of one ``kind``, in one ``place`` and all inside it, of one ``sowing`` session, or
    of what one act made (``made``). What is None or empty narrows nothing.
    """

    kind: str = ""
    place: int | None = None
    sowing: int | None = None
    made: UUID | None = None


@dataclass(frozen=True)
class Standing:
    """Tags of what stands in one place, in words from the house inwards."""

    title: str
    tags: tuple[Tagged, ...]


@dataclass(frozen=True)
class Choice:
    """One place or sowing to choose by its id."""

    pk: int
    words: str


def wanted(asked: QueryDict) -> Wanted:
    """What an address asks for; nonsense in it narrows nothing."""
    by_words = {contents.kind_words(kind): kind for kind in contents.kinds()} | {BLANK: BLANK}
    return Wanted(
        kind=by_words.get(asked.get("show", ""), ""),
        place=_id(asked.get("place", "")),
        sowing=_id(asked.get("sowing", "")),
        made=uuid_in(asked.get("made", "")),
    )


def waiting(which: Wanted, walk: dict[int, Walked]) -> list[Tagged]:
    """The waiting tags of those that are wanted, as the bench is walked."""
    return walked(contents.waiting(only=_q(which)), walk)


def fading(which: Wanted, walk: dict[int, Walked], today: date) -> list[Tagged]:
    """Those of the tags near the end of their print that are wanted, as the bench is walked."""
    return walked(contents.worn(today, only=_q(which)), walk)


def kinds_waiting(which: Wanted) -> Counter[str]:
    """How many tags of each kind wait, whatever kind is wanted."""
    tags = contents.unprinted().filter(_but_kind(which))
    counts = tags.order_by().values_list("thing__kind").annotate(count=Count("number", distinct=True))
    found = {kind or BLANK: count for kind, count in counts}
    return Counter({kind: found[kind] for kind in contents.kinds() if kind in found})


def places() -> dict[int, Walked]:
    """Every place in walking order."""
    return walking_order(PlaceRow(*row) for row in Place.objects.values_list("pk", "name", "inside_id", "order"))


def place_choices(walk: dict[int, Walked]) -> list[Choice]:
    return [Choice(one.pk, place_words(one)) for one in walk.values()]


def sowing_choices() -> list[Choice]:
    """Sowing sessions of which a tag still waits, the next first."""
    waiting_pots = contents.unprinted().filter(thing__seedpot__session__isnull=False)
    sessions = SowingSession.objects.filter(pk__in=waiting_pots.values("thing__seedpot__session"))
    return [Choice(one.pk, f"Sowing of {one.planned_for:%-d %b %Y}") for one in sessions.order_by("planned_for", "pk")]


def sowing_of(numbers: Collection[int]) -> SowingSession | None:
    """The sowing session that is still under way and that all these tags are for; None for any others."""
    sessions = set(Tag.objects.filter(number__in=numbers).values_list("thing__seedpot__session", flat=True))
    if len(sessions) != 1:
        return None
    return SowingSession.objects.filter(pk__in=sessions - {None}, cancelled=False, closed_on=None).first()


def place_words(one: Walked) -> str:
    return ", ".join(filter(None, (one.house, one.within)))


def walked(tags: Iterable[Tagged], walk: dict[int, Walked]) -> list[Tagged]:
    """By place in walking order, within a place by kind and then as they came; packets after, blank tags last."""
    order = {kind: turn for turn, kind in enumerate(contents.kinds())}

    def turn(tag: Tagged) -> tuple[bool, int, int]:
        place = walk.get(tag.place)
        return tag.kind == BLANK, place.turn if place else len(walk), order[tag.kind]

    return sorted(tags, key=turn)


def by_place(tags: Sequence[Tagged], walk: dict[int, Walked]) -> list[Standing]:
    """Neighbours that stand in the same place, together."""
    groups = groupby(tags, key=lambda tag: _title(tag, walk))
    return [Standing(title, tuple(some)) for title, some in groups]


def _title(tag: Tagged, walk: dict[int, Walked]) -> str:
    if tag.kind == BLANK:
        return "Blank"
    return place_words(walk[tag.place]) if tag.place in walk else NOWHERE


def _q(which: Wanted) -> Q:
    if not which.kind:
        return _but_kind(which)
    of_kind = Q(thing=None) if which.kind == BLANK else Q(thing__kind=which.kind)
    return _but_kind(which) & of_kind


def _but_kind(which: Wanted) -> Q:
    narrowed = Q()
    if which.place is not None:
        narrowed &= contents.standing_in(_inside(which.place))
    if which.sowing is not None:
        narrowed &= Q(thing__seedpot__session=which.sowing)
    if which.made is not None:
        narrowed &= Q(thing__born_by=which.made)
    return narrowed


def _inside(place: int) -> set[int]:
    """The ids of a place and of all that stands in it, however deep."""
    inside_of = dict(Place.objects.values_list("pk", "inside_id"))
    found = {place}
    while more := {pk for pk, inside in inside_of.items() if inside in found} - found:
        found |= more
    return found


def _id(text: str) -> int | None:
    return int(text) if text.isascii() and text.isdigit() and len(text) <= LONGEST_ID else None


def uuid_in(text: str) -> UUID | None:
    try:
        return UUID(text)
    except ValueError:
        return None
