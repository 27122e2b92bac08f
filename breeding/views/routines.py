"""What is done again and again: listed with how often, when last and when next."""

from datetime import date

from django.db.models import F
from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.urls import reverse
from django.utils import timezone
from django.views.decorators.http import require_safe

from breeding.models import Routine
from breeding.rounds import words
from breeding.science.recurrence import next_day
from breeding.words.routines import rule_words
from nursery.links import thing_url
from nursery.views.guards import signed_in
from nursery.views.office.pages import cell
from nursery.where import place_words

COLUMNS = ({"label": "What"}, {"label": "Where"}, {"label": "How often"}, {"label": "Done last"}, {"label": "Next"})


@signed_in
@require_safe
def routines(request: HttpRequest) -> HttpResponse:
    """Those that go on first, then the stopped ones."""
    rows = Routine.objects.filter(cancelled=False).select_related("place__inside__inside")
    add = {"url": reverse("new", kwargs={"slug": "routines"}), "label": "Add a routine"}
    today = timezone.localdate()
    return render(
        request,
        "office/labelled.html",
        {
            "section": "office",
            "title": "Routines",
            "lead": "What is done again and again. Each stands in the round on its day, and stays there until it is "
            "done or falls due anew.",
            "add": add if request.user.may_record else None,
            "columns": COLUMNS,
            "rows": [_row(row, today) for row in rows.order_by(F("closed_on").desc(nulls_first=True), "words", "pk")],
            "empty": {
                "icon": "clock",
                "words": "Misting, feeding, sticky cards, trays: what has its days will stand here.",
            },
        },
    )


def _row(row: Routine, today: date) -> dict[str, object]:
    what, where, often, done, coming = COLUMNS
    cells = [
        cell(what, row.words, pill="" if row.is_open else "stopped", tone="plain"),
        cell(where, place_words(row.place)),
        cell(often, rule_words(row.rule)),
        cell(done, words.short(row.done_on, today) if row.done_on else "not yet"),
        cell(coming, _next_words(row, today)),
    ]
    return {"url": thing_url(row), "cells": cells}


def _next_words(row: Routine, today: date) -> str:
    if not row.is_open:
        return ""
    coming = next_day(row.rule, row.starts, today)
    return words.short(coming, today) if coming else "its rule has ended"
