"""What a stocktake found out: what was seen, what was missed, what stood there that should not, and what came of it."""

import uuid
from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date
from typing import Any

from django.urls import reverse

from breeding.standing import STAND, places_within
from nursery.links import act_url
from nursery.models import Act, ActLink, LivingThing, Place
from nursery.records.telling import tell
from nursery.site import fetch
from nursery.site.cards.parts import Link, Row, row_of

INSTEAD = (("gone", "It is gone"), ("move", "It is elsewhere"))
SETTLES = ("not_found", "moved", "plant_gone", "pot_gone", "stopped", "stocktake")


@dataclass(frozen=True)
class Button:
    """One tap that settles a difference: posts ``place`` to ``url``."""

    label: str
    url: str
    place: int
    act_id: uuid.UUID


@dataclass(frozen=True)
class Difference:
    """One thing that is not where the books have it; ``settled`` says what was recorded of it since."""

    row: Row
    settled: str = ""
    buttons: tuple[Button, ...] = ()
    links: tuple[Link, ...] = ()


@dataclass(frozen=True)
class Found:
    """The differences of one stocktake."""

    place: Place
    seen: int
    missed: tuple[Difference, ...]
    strangers: tuple[Difference, ...]


def found(act: Act, today: date, *, may_record: bool) -> Found:
    """In a number of queries that does not grow with what was seen."""
    place = act.thing.place
    seen = _things(act.links.values_list("thing_id", flat=True))
    missed = _things(act.stocktake.missed.values_list("pk", flat=True))
    within = places_within(place)
    since, moved = _said_since(act, missed), _moved_since(act, seen)
    return Found(
        place=place,
        seen=act.stocktake.seen,
        missed=tuple(_missed(one, act, since.get(one.pk), today, may_record) for one in missed),
        strangers=tuple(
            _stranger(one, place, today, may_record)
            for one in seen
            if one.place_id not in within and one.pk not in moved
        ),
    )


def _moved_since(act: Act, seen: list[LivingThing]) -> set[int]:
    """Where these stand now says nothing of where the books had them then."""
    moves = Act.objects.filter(thing__in=[one.pk for one in seen], kind="moved", voided_by__isnull=True)
    return set(moves.filter(recorded_at__gte=act.recorded_at).values_list("thing_id", flat=True))


def _things(ids: Iterable[int]) -> list[Any]:
    ids = list(ids)
    return [thing for code in STAND for thing in fetch.listed(fetch.things(code).filter(pk__in=ids))]


def _said_since(act: Act, missed: list[LivingThing]) -> dict[int, Act]:
    """By thing: the last act since then that says where it is, or that it is nowhere."""
    pks = [one.pk for one in missed]
    later = {"recorded_at__gte": act.recorded_at, "voided_by__isnull": True, "kind__in": SETTLES}
    details = ("notfound__place", "moved__place", "plantgone", "potgone", "stocktake")
    own = Act.objects.filter(thing__in=pks, **later).select_related(*details).order_by("recorded_at")
    told = {one.thing_id: one for one in own}
    links = ActLink.objects.filter(thing__in=pks, act__kind="stocktake", act__voided_by__isnull=True)
    links = links.filter(act__recorded_at__gt=act.recorded_at).select_related("act__stocktake")
    return told | {link.thing_id: link.act for link in links}


def _missed(one: Any, of: Act, since: Act | None, today: date, may_record: bool) -> Difference:
    row = row_of(one, today, where=True)
    if since is not None:
        return Difference(row, tell(since))
    if not may_record:
        return Difference(row)
    here = reverse("stocktake", args=[of.pk])
    links = [Link(label, f"{act_url(one, slug)}?next={here}") for slug, label in INSTEAD]
    button = Button("Not found", act_url(one, "missing"), one.place_id or of.thing_id, uuid.uuid4())
    return Difference(row, buttons=(button,), links=tuple(links))


def _stranger(one: Any, place: Place, today: date, may_record: bool) -> Difference:
    row = row_of(one, today, where=True)
    move = Button("Move it here", act_url(one, "move"), place.pk, uuid.uuid4())
    return Difference(row, buttons=(move,) if may_record else ())
