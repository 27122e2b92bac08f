"""Walking past a place: nothing new on this bench."""

import re
import uuid
from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.urls import reverse
from django.utils import timezone
from django.views.decorators.http import require_POST
from django_htmx.http import HttpResponseClientRedirect

from breeding.views.round import bench_now
from nursery.links import next_url, undo_url
from nursery.models import Act, LivingThing, Place, Thing
from nursery.records import registry
from nursery.records.core import NewAct
from nursery.records.errors import AlreadySent, Refused
from nursery.records.telling import tell
from nursery.records.watching import walked_past, walked_words
from nursery.views.guards import may_record
from nursery.views.hands import signed
from nursery.views.sent import act_id_sent

WALKED = ("spike", "section", "seedpot")
"""The kinds of thing that are looked at, and so can be walked past."""
ANSWERED_SINCE = "All that was listed here was answered or closed since, so there is nothing to record."


@dataclass(frozen=True)
class Emptied:
    """A bench on which nothing is due any more."""

    anchor: str
    house: str
    place: str


@may_record
@require_POST
def walk(request: HttpRequest, pk: int) -> HttpResponse:
    """Nothing new at this place: one look for each thing that the page listed, and for nothing else."""
    place = get_object_or_404(Place, pk=pk)
    numbers = listed_ids(request.POST.getlist("things"))
    done = _done(request, place, numbers)
    if done and request.htmx:
        return _in_place(request, place, done)
    if done:
        request.session["undo"] = str(done.pk)
    where = next_url(request, otherwise=reverse("round"))
    return HttpResponseClientRedirect(where) if request.htmx else redirect(where)


def _done(request: HttpRequest, place: Place, numbers: set[int]) -> Act | None:
    """The walk, now or when it was sent before; None where there is none, and why not is said."""
    listed, today = walkable(numbers), timezone.localdate()
    act = NewAct(id=act_id_sent(request), **signed(request))
    try:
        return walked_past(act=act, place=place, things=[one for one in listed if _waits(one, today)])
    except Refused as refused:
        messages.error(request, ANSWERED_SINCE if listed else refused.sentence)
    except AlreadySent as error:
        if _is_this_walk(error.act, place, numbers):
            return error.act
        messages.error(request, "This page was answered before, with another list. Look at what is due now.")
    return None


def _waits(thing: LivingThing, today: date) -> bool:
    """Whether nobody has said anything of it today. A page may be old: what was closed or answered since, by whomever,
    stood on it, and its answer is not to be walked over."""
    put_off = thing.later_until is not None and thing.later_until > today
    return thing.is_open and thing.last_look != today and not put_off


def _in_place(request: HttpRequest, place: Place, act: Act) -> HttpResponse:
    """What is left on the bench, where it stood on the page, under a line on what was walked past."""
    where = next_url(request, otherwise=reverse("round"))
    address, _, anchor = where.partition("#")
    house = place.inside.name if place.inside else ""
    group = bench_now(request.user, address, anchor) or Emptied(anchor or f"place-{place.pk}", house, place.name)
    walked = {
        "words": tell(act),
        "about": walked_words(act),
        "undo_url": undo_url(act),
        "act_id": uuid.uuid4(),
        "next": where,
    }
    return render(request, "round/_group.html", {"group": group, "walked": walked})


def _is_this_walk(act: Act, place: Place, numbers: set[int]) -> bool:
    """Whether an act is this page's, sent again after something on it was closed: then it is the same walk."""
    looked_at = set(act.links.values_list("thing_id", flat=True))
    return act.kind == "walked_past" and act.thing_id == place.pk and looked_at <= numbers


def listed_ids(ids: Iterable[str]) -> set[int]:
    """The ids among what was posted."""
    return {int(text) for text in ids if re.fullmatch(r"\d{1,18}", text, re.ASCII)}


def walkable(numbers: set[int]) -> list[LivingThing]:
    """The things of these ids that can be walked past, closed ones too; what is no such id is left out."""
    found: list[LivingThing] = []
    for kind in WALKED:
        things = Thing.objects.filter(pk__in=numbers, kind=kind).values("pk")
        found += registry.thing_kind(kind).model.objects.filter(pk__in=things, cancelled=False)
    return found
