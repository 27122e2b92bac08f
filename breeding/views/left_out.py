"""Times in the logs of the houses that are left out of what is learned: everybody reads, owners choose."""

from __future__ import annotations

import uuid
from typing import Any

from django.contrib import messages
from django.db.models import QuerySet
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.utils import timezone
from django.views.decorators.http import require_POST, require_safe

from breeding.learning.odd import days_of, log, marked_events
from breeding.records.expectations import time_left_out
from breeding.words.ages import day_words
from nursery.models import HouseEvent
from nursery.views.guards import owners, signed_in
from nursery.where import place_words
from nursery.words import happened


@signed_in
@require_safe
def left_out(request: HttpRequest) -> HttpResponse:
    marked = marked_events()
    rows = [_row(event, event.pk in marked) for event in _log()]
    shown = {"section": "office", "title": "Times left out", "rows": rows}
    return render(request, "office/left_out.html", shown)


@owners
@require_POST
def leave_out(request: HttpRequest, pk: uuid.UUID) -> HttpResponse:
    """With ``out`` that is not empty, leave it out; else let it count again."""
    event = get_object_or_404(_log(), pk=pk)
    row = time_left_out(by=request.user, event=event, left_out=bool(request.POST.get("out")))
    told = "Left out of what is learned" if row.left_out else "It counts again in what is learned"
    messages.success(request, f"{told}: {_words(event)}.")
    return redirect("left-out")


def left_out_now() -> list[str]:
    """What is left out, in words, the latest first."""
    marked = marked_events()
    return [_words(event) for event in _log() if event.pk in marked] if marked else []


def _log() -> QuerySet[HouseEvent]:
    events = log().filter(act__voided_by__isnull=True)
    return events.select_related("act__thing__place__inside__inside").order_by("-act__day_last", "-act__recorded_at")


def _words(event: HouseEvent) -> str:
    return f"{happened(event.act)}, {place_words(event.act.thing.place)}"


def _row(event: HouseEvent, is_out: bool) -> dict[str, Any]:
    today = timezone.localdate()
    days = days_of(event, today)
    goes_on = not (event.over or event.ended)
    until = "it goes on" if goes_on else f"until {day_words(days.last, today)}"
    return {"pk": event.pk, "words": _words(event), "until": until, "is_out": is_out}
