"""Walking past a place: nothing new on this bench."""

import re
import uuid
from collections.abc import Iterable

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect
from django.urls import reverse
from django.views.decorators.http import require_POST

from nursery.links import next_url
from nursery.models import LivingThing, Place, Thing
from nursery.records import registry
from nursery.records.core import NewAct
from nursery.records.errors import AlreadySent, Refused
from nursery.records.watching import walked_past
from nursery.views.guards import may_record

WALKED = ("spike", "section", "seedpot")
"""The kinds of thing that are looked at, and so can be walked past."""


@may_record
@require_POST
def walk(request: HttpRequest, pk: int) -> HttpResponse:
    """Nothing new at this place: one look for each thing that the page listed, and for nothing else."""
    place = get_object_or_404(Place, pk=pk)
    act = NewAct(id=_act_id(request), by=request.user)
    try:
        done = walked_past(act=act, place=place, things=_listed(request.POST.getlist("things")))
    except Refused as refused:
        messages.error(request, refused.sentence)
    except AlreadySent:
        messages.error(request, "This page was answered before, with another list. Look at what is due now.")
    else:
        request.session["undo"] = str(done.pk)
    return redirect(next_url(request, otherwise=reverse("round")))


def _act_id(request: HttpRequest) -> uuid.UUID:
    try:
        return uuid.UUID(request.POST.get("act_id", ""))
    except ValueError:
        return uuid.uuid4()


def _listed(ids: Iterable[str]) -> list[LivingThing]:
    """The open things of these ids that can be walked past; what is no such id, or was closed since, is left out."""
    numbers = {int(text) for text in ids if re.fullmatch(r"\d{1,18}", text, re.ASCII)}
    found: list[LivingThing] = []
    for kind in WALKED:
        things = Thing.objects.filter(pk__in=numbers, kind=kind).values("pk")
        model = registry.thing_kind(kind).model
        found += model.objects.filter(pk__in=things, cancelled=False, closed_on__isnull=True)
    return found
