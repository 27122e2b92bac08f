"""A tag that is gone or cannot be read: a few things narrowed down, one chosen, or the doubt kept as a doubt."""

import uuid
from dataclasses import dataclass
from typing import Any

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils import timezone
from django.views.decorators.http import require_http_methods

from nursery.forms.lost import LostForm
from nursery.links import act_url, thing_url
from nursery.models import LivingThing, Tag, Thing
from nursery.records import registry
from nursery.records.core import NewAct
from nursery.records.errors import AlreadySent, Refused
from nursery.records.remarks import remarked
from nursery.site.cards.parts import Row, row_of
from nursery.site.lost import MOST, candidates
from nursery.site.views import answered
from nursery.templatetags.tepal import plate
from nursery.views.guards import may_record
from nursery.views.hands import signed
from nursery.views.sent import act_id_sent

LONGEST_WORDS = 1000


@dataclass(frozen=True)
class Candidate:
    """One thing that it may be; ``tag_url`` is where a new tag is put on it."""

    pk: int
    row: Row
    kind_words: str
    tag_url: str


@may_record
@require_http_methods(["GET", "HEAD", "POST"])
def tag_lost(request: HttpRequest) -> HttpResponse:
    """A GET narrows down; a post keeps that it is one of the ticked ones, and guesses nothing."""
    if request.method == "POST":
        return _keep_doubt(request)
    return _page(request, LostForm(request.GET) if request.GET else LostForm())


def _page(request: HttpRequest, form: LostForm, *, status: int = 200) -> HttpResponse:
    found: list[Any] = []
    asked = form.is_bound and form.is_valid() and any(form.cleaned_data.values())
    if asked:
        found = candidates(form.codes(), form.cleaned_data["place"], form.cleaned_data["q"])
    context = {
        "section": "more",
        "form": form,
        "asked": asked,
        "candidates": [_candidate(one) for one in found[:MOST]],
        "more": len(found) > MOST,
        "most": MOST,
        "act_id": uuid.uuid4(),
        "here": request.get_full_path(),
    }
    return render(request, "tags/lost.html", context, status=422 if form.errors else status)


def _candidate(thing: Any) -> Candidate:
    row = row_of(thing, timezone.localdate(), where=True)
    return Candidate(thing.pk, row, registry.thing_kind(thing.kind).words, act_url(thing, "tag"))


def _keep_doubt(request: HttpRequest) -> HttpResponse:
    things = _ticked(request.POST.getlist("thing"))
    if len(things) < 2:
        messages.error(request, "Tick at least two. If you know which one it is, put a new tag on that one.")
        return redirect(_back(request))
    first, *others = things
    words = _words(things, request.POST.get("words", ""))
    try:
        act = remarked(act=NewAct(id=act_id_sent(request), **signed(request)), thing=first, words=words, also=others)
    except (Refused, AlreadySent) as error:
        messages.error(request, str(error))
        return redirect(_back(request))
    answered.remember(request, act)
    return redirect(thing_url(first))


def _back(request: HttpRequest) -> str:
    """The page again with what was narrowed down."""
    narrowed = request.META.get("QUERY_STRING", "")
    return f"{request.path}?{narrowed}" if narrowed else request.path


def _ticked(sent: list[str]) -> list[LivingThing]:
    ids = {int(text) for text in sent[: 2 * MOST] if text.isascii() and text.isdigit() and len(text) < 19}
    kinds = [kind.code for kind in registry.thing_kinds().values() if kind.tagged]
    return [registry.instance_of(thing) for thing in Thing.objects.filter(pk__in=ids, kind__in=kinds).order_by("pk")]


def _words(things: list[LivingThing], said: str) -> str:
    """The numbers that it may have had, and what the person said of it."""
    tags = Tag.objects.filter(thing__in=[thing.pk for thing in things], retired=False).order_by("number")
    numbers = ", ".join(plate(number) for number in tags.values_list("number", flat=True))
    said = said.replace("\0", "").strip()[:LONGEST_WORDS]
    return f"Found without its tag; it is one of these: {numbers}." + (f" {said}" if said else "")
