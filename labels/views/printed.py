"""What was printed, when, on what and by whom; and which tags are due for another label."""

import uuid
from typing import Any

from django.db.models import Count
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import render
from django.urls import reverse
from django.utils import timezone
from django.views.decorators.http import require_safe

from labels import contents
from labels.history import day_and_time, printed_words
from labels.misprinted import misprinted
from labels.models import Printing
from labels.queue import fading, places, walked, wanted
from labels.views.addresses import address_of
from labels.views.choosing import Link, Standing, Tick, page
from labels.wear import by_material, worn_words
from nursery.views.guards import may_record, signed_in

MOST = 200
COLUMNS = (
    {"label": "When"},
    {"label": "Tags", "numeric": True},
    {"label": "On"},
    {"label": "By"},
    {"label": "Address"},
)
WORN_LEAD = (
    "By what these were printed on, their print fades about now. Where it can still be read well, leave it; "
    "print the others anew. The old number stays."
)

MISPRINTED_LEAD = (
    "Something was corrected after these were printed, so each says what is no longer so. Print them anew, and take "
    "the old ones off. The numbers stay."
)

ELSEWHERE_LEAD = (
    "The codes of these open an address that was set before. While that one answers or leads on, they are good; "
    "print them anew as you come by. The numbers stay."
)


@signed_in
@require_safe
def printings(request: HttpRequest) -> HttpResponse:
    """The prints, the last first."""
    found = Printing.objects.select_related("by", "stock", "printer").annotate(count=Count("tags"))
    context = {
        "section": "labels",
        "title": "What was printed",
        "lead": "Each print that somebody looked at and found right.",
        "columns": COLUMNS,
        "rows": [_row(printing) for printing in found[:MOST]],
        "empty": {"icon": "print", "words": "Every print that came out right will stand here."},
    }
    return render(request, "things/list.html", context)


@may_record
@require_safe
def printing(request: HttpRequest, pk: uuid.UUID) -> HttpResponse:
    """One print, with its tags to choose again."""
    found = Printing.objects.select_related("by", "stock", "printer").filter(pk=pk).first()
    if found is None:
        raise Http404("There was no such print here.")
    tags = contents.tagged(list(found.tags.order_by("pk").values_list("tag_id", flat=True)))
    ticks = [Tick(tag, False) for tag in tags]
    initial = {"copies": found.copies, "buried": found.buried} | ({"stock": found.stock_id} if found.stock_id else {})
    return page(request, ticks, initial=initial, title="A print", lead=f"{printed_words(found)}.")


@may_record
@require_safe
def worn(request: HttpRequest) -> HttpResponse:
    """Tags whose print is near its end, as the bench is walked; with ``place``, those there, all ticked.

    ``turn=age`` puts together what was printed on the same, the oldest print first.
    """
    which, walk = wanted(request.GET), places()
    ticked, by_age = which.place is not None, request.GET.get("turn") == "age"
    told = worn_words(fading(which, walk, timezone.localdate()))
    ticks = [Tick(one.tag, ticked, one.words) for one in told]
    more: dict[str, Any] = {"other_turn": _other_turn(request, by_age)} if len(ticks) > 1 else {}
    if by_age:
        note = {tick.tag.number: tick for tick in ticks}
        groups = by_material(told).items()
        more["standing"] = [Standing(on, tuple(note[one.tag.number] for one in some)) for on, some in groups]
    lead = WORN_LEAD if ticks else "No tag in use is near the end of its print, as far as is known."
    return page(request, ticks, title="Fading labels", lead=lead, walk=walk, **more)


@may_record
@require_safe
def elsewhere(request: HttpRequest) -> HttpResponse:
    """Tags whose print leads to another address than new ones do."""
    walk, address = places(), address_of(request)
    ticks = [Tick(tag, False) for tag in walked(contents.carrying_another(address), walk)]
    lead = ELSEWHERE_LEAD if ticks else "No tag in use carries another address, as far as its print is known."
    return page(request, ticks, title="With another address", lead=lead, walk=walk)


@may_record
@require_safe
def said_otherwise(request: HttpRequest) -> HttpResponse:
    """Tags whose print says something else than the books do by now, each with what it says."""
    walk, found = places(), misprinted()
    said = {one.tag.number: f"printed as: {one.said}" for one in found}
    ticks = [Tick(tag, True, said[tag.number]) for tag in walked([one.tag for one in found], walk)]
    lead = MISPRINTED_LEAD if ticks else "Every tag in use says what the books say, as far as its print is known."
    return page(request, ticks, title="Printed with other words", lead=lead, walk=walk)


def _other_turn(request: HttpRequest, by_age: bool) -> Link:
    """The same tags in the other order."""
    asked = request.GET.copy()
    asked["turn"] = "walk" if by_age else "age"
    words = "As the bench is walked" if by_age else "By what they are printed on, oldest first"
    return Link(words, f"?{asked.urlencode()}")


def _row(printing: Printing) -> dict[str, object]:
    when, tags, on, by, address = COLUMNS
    cells = [
        when | {"text": day_and_time(printing.at)},
        tags | {"text": str(printing.count)},
        on | {"text": _on(printing)},
        by | {"text": printing.by.name},
        address | {"text": printing.address},
    ]
    return {"url": reverse("labels:printing", args=[printing.pk]), "cells": cells}


def _on(printing: Printing) -> str:
    """What it was printed on, and with."""
    return ", ".join(filter(None, (str(printing.stock or ""), str(printing.printer or ""))))
