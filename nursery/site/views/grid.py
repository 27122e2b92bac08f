"""The page at the desk on which a printed round is typed in."""

import re
from typing import Any

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.utils import timezone
from django.views.decorators.http import require_http_methods, require_safe

from breeding.rounds import words
from breeding.typed_answers import WORDS
from breeding.views.round import day_of_address
from nursery.models import Act
from nursery.records import registry
from nursery.site import grid as rows
from nursery.site.views import answered
from nursery.views.guards import may_record
from nursery.views.hands import signed

SHOWN = 12
"""Of what was recorded on this page, so much is listed; the rest is counted."""


@may_record
@require_http_methods(["GET", "HEAD", "POST"])
def grid(request: HttpRequest, day: str) -> HttpResponse:
    """Rows to type; a POST records those that are right and gives back those that are not."""
    suggested = min(day_of_address(day), timezone.localdate())
    typed = rows.Typed()
    if request.method == "POST":
        typed = rows.record(rows.rows_of(request.POST), **signed(request))
    done = [*(str(act.pk) for act in reversed(typed.acts)), *_done_before(request)]
    context = {
        "section": "round",
        "day": day,
        "day_words": words.long(suggested),
        "rows": rows.with_empty(typed.rows, suggested),
        "wrong": len(typed.rows),
        "done_ids": done,
        "done": _done(request, done[:SHOWN]),
        "legend": [(registry.thing_kind(kind).words, found) for kind, found in WORDS.items()],
    }
    template = "round/_grid.html" if request.htmx else "round/grid.html"
    return render(request, template, context, status=422 if typed.rows else 200)


@may_record
@require_safe
def what(request: HttpRequest, day: str) -> HttpResponse:
    """What the number of one row belongs to, as soon as it is typed."""
    [(id, number)] = [*_numbers(request)][:1] or [("", "")]
    found = rows.what_is(number) if number.strip() else None
    return render(request, "round/_grid_what.html", {"id": id, "what": found})


def _numbers(request: HttpRequest) -> Any:
    for name, value in request.GET.items():
        if found := re.fullmatch(r"number-([0-9a-f-]{36})", name):
            yield found[1], value[:60]


def _done_before(request: HttpRequest) -> list[str]:
    """The ids of what this page recorded before, the newest first."""
    return [id for id in request.POST.getlist("done")[:200] if re.fullmatch(r"[0-9a-f-]{36}", id)]


def _done(request: HttpRequest, ids: list[str]) -> list[answered.Done]:
    acts = {str(act.pk): act for act in Act.objects.filter(pk__in=ids, voided_by__isnull=True)}
    return [answered.done(acts[id], page=request.path) for id in ids if id in acts]
