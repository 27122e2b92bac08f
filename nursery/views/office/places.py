"""Places as they are walked. They are added and renamed by acts of their own; here they change turns."""

import uuid
from collections import defaultdict
from collections.abc import Iterator
from dataclasses import dataclass

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.urls import reverse
from django.views.decorators.http import require_POST, require_safe

from nursery.models import Place, Tag
from nursery.records.core import NewAct
from nursery.records.errors import AlreadySent
from nursery.records.walk import turn_changed, walking_key
from nursery.views.guards import owners, signed_in
from nursery.views.sent import act_id_sent


@dataclass(frozen=True)
class Row:
    """One place in the tree, with whether a neighbour stands before and behind it, and ids for the two arrows."""

    place: Place
    depth: int
    number: int | None
    has_earlier: bool
    has_later: bool
    earlier_id: uuid.UUID
    later_id: uuid.UUID


@signed_in
@require_safe
def places(request: HttpRequest) -> HttpResponse:
    return render(request, "office/places.html", {"section": "office", "rows": walked()})


def walked() -> list[Row]:
    """Every place that stands, in the order in which a person walks: houses, the benches of each, what is on them."""
    numbers = dict(Tag.objects.filter(thing__kind="place", retired=False).values_list("thing_id", "number"))
    inside: dict[int | None, list[Place]] = defaultdict(list)
    for place in Place.objects.filter(cancelled=False):
        inside[place.inside_id].append(place)
    return list(_rows(inside, numbers, None, 0))


def _rows(
    inside: dict[int | None, list[Place]], numbers: dict[int, int], above: int | None, depth: int
) -> Iterator[Row]:
    here = sorted(inside[above], key=walking_key)
    for turn, place in enumerate(here):
        yield Row(place, depth, numbers.get(place.pk), turn > 0, turn < len(here) - 1, uuid.uuid4(), uuid.uuid4())
        yield from _rows(inside, numbers, place.pk, depth + 1)


@owners
@require_POST
def place_earlier(request: HttpRequest, pk: int) -> HttpResponse:
    return _turn(request, pk, earlier=True)


@owners
@require_POST
def place_later(request: HttpRequest, pk: int) -> HttpResponse:
    return _turn(request, pk, earlier=False)


def _turn(request: HttpRequest, pk: int, *, earlier: bool) -> HttpResponse:
    place = get_object_or_404(Place, pk=pk, cancelled=False)
    try:
        changed = turn_changed(act=NewAct(id=act_id_sent(request), by=request.user), place=place, earlier=earlier)
    except AlreadySent:
        changed = []  # the same tap, arriving while the first was under way
    if changed:
        messages.success(request, f"{place.name} is walked {'earlier' if earlier else 'later'} now.")
    return redirect(f"{reverse('office-places')}#place-{place.pk}")
