"""Tags: scanned, typed, wrong, unknown, or still blank and waiting to be put on something."""

import uuid
from typing import Any

from django.db.models import Count
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils import timezone
from django.views.decorators.http import require_safe

from nursery.damm import read_number
from nursery.models import Tag
from nursery.site import binding, fetch
from nursery.site.cards.parts import Listing
from nursery.site.meant import meant_rows
from nursery.site.views import thing
from nursery.typed_tags import what_is_wrong
from nursery.views.guards import signed_in
from nursery.views.hands import hands
from nursery.where import place_words


@signed_in
@require_safe
def tag_page(request: HttpRequest, typed: str) -> HttpResponse:
    """What a tag is on. A number that leads nowhere is told so, and stays in the box."""
    number = read_number(typed)
    tags = Tag.objects.select_related("thing").annotate(beside=Count("thing__tags") - 1)
    tag = tags.filter(number=number).first() if number else None
    if tag is None:
        return _nowhere(request, typed, status=404)
    if tag.thing is None:
        return _blank(request, tag)
    return thing.show(request, fetch.thing_or_404(tag.thing.kind, tag.thing_id), scanned=tag)


@signed_in
@require_safe
def tag_typed(request: HttpRequest) -> HttpResponse:
    """The box for a typed number: on to its page, or back with what is wrong."""
    typed = request.GET.get("number", "").strip()
    number = read_number(typed)
    if number and Tag.objects.filter(number=number).exists():
        return redirect("tag", typed=str(number))
    return _nowhere(request, typed) if typed else render(request, "tags/find.html", {"section": "more"})


def did_you_mean(typed: str) -> Listing | None:
    """Tags whose number is one slip away from what was typed, to choose from; none is opened by itself."""
    rows = meant_rows(typed)
    return Listing("Did you mean", tuple(rows)) if rows else None


def _nowhere(request: HttpRequest, typed: str, *, status: int = 200) -> HttpResponse:
    context = {"section": "more", "typed": typed[:40], "wrong": what_is_wrong(typed), "meant": did_you_mean(typed)}
    return render(request, "tags/find.html", context, status=status)


def _blank(request: HttpRequest, tag: Tag) -> HttpResponse:
    """What it may be put on; with ``?on=``, on to the form of what grows on the thing of that number."""
    form = binding.GrowsOnForm(request.GET if "on" in request.GET else None)
    if request.user.may_record and form.is_valid():
        return redirect(f"{form.url}?tag={tag.number}")
    return render(request, "tags/blank.html", _blank_context(request, tag) | {"form": form})


def _blank_context(request: HttpRequest, tag: Tag) -> dict[str, Any]:
    q = request.GET.get("q", "").strip()
    today = timezone.localdate()
    here = binding.bench_at_hand(hands(request)) if request.user.may_record and not q else None
    found = binding.choices(q, today, here=here) if request.user.may_record else []
    return {
        "section": "more",
        "number": tag.number,
        "q": q,
        "here": place_words(here),
        "choices": [(choice, uuid.uuid4()) for choice in found],
        "new_links": binding.new_links(tag.number) if request.user.may_record else [],
    }
