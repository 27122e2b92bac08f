"""Tags: scanned, typed, wrong, unknown, or still blank and waiting to be put on something."""

import uuid
from typing import Any

from django.db.models import Count
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse
from django.utils import timezone
from django.views.decorators.http import require_safe

from nursery.damm import number_is_valid, read_number
from nursery.models import Tag
from nursery.records import registry
from nursery.site import binding, fetch, search
from nursery.site.cards.parts import Listing, Row, row_of
from nursery.site.views import thing
from nursery.templatetags.tepal import plate
from nursery.views.guards import signed_in
from nursery.views.hands import hands


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


def what_is_wrong(typed: str) -> str:
    """Why a typed number leads nowhere, and what to do."""
    number = read_number(typed)
    if number is None:
        return "A tag number has digits only. Type the digits on the tag, the last one too."
    if not number_is_valid(number):
        return f"{plate(number)} does not fit its last digit, so one digit is wrong or missing. Look at the tag again."
    return f"No tag {plate(number)} was ever made here. Look at the tag again."


def did_you_mean(typed: str) -> Listing | None:
    """Tags whose number is one slip away from what was typed, to choose from; none is opened by itself."""
    number = read_number(typed)
    rows = [_meant_row(one) for one in search.meant(number)] if number else []
    return Listing("Did you mean", tuple(rows)) if rows else None


def _meant_row(one: search.Meant) -> Row:
    url = reverse("tag", kwargs={"typed": str(one.number)})
    if one.thing is None:
        return Row(url, number=one.number, text="A blank tag")
    told = row_of(one.thing, timezone.localdate(), where=True)
    kind = registry.thing_kind(one.thing.kind).words
    sub = ", ".join(filter(None, (kind, told.sub)))
    return Row(url, number=one.number, name_parts=told.name_parts, text=told.text, sub=sub)


def _nowhere(request: HttpRequest, typed: str, *, status: int = 200) -> HttpResponse:
    context = {"section": "more", "typed": typed[:40], "wrong": what_is_wrong(typed), "meant": did_you_mean(typed)}
    return render(request, "tags/find.html", context, status=status)


def _blank(request: HttpRequest, tag: Tag) -> HttpResponse:
    return render(request, "tags/blank.html", _blank_context(request, tag))


def _blank_context(request: HttpRequest, tag: Tag) -> dict[str, Any]:
    q = request.GET.get("q", "").strip()
    today = timezone.localdate()
    here = binding.bench_at_hand(hands(request)) if request.user.may_record and not q else None
    found = binding.choices(q, today, here=here) if request.user.may_record else []
    return {
        "section": "more",
        "number": tag.number,
        "q": q,
        "here": fetch.place_words(here),
        "choices": [(choice, uuid.uuid4()) for choice in found],
        "new_links": binding.new_links(tag.number) if request.user.may_record else [],
    }
