"""Choosing which tags to print: those never printed, or one by its number."""

import uuid
from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import render
from django.urls import reverse
from django.utils import timezone
from django.views.decorators.http import require_safe

from labels import contents
from labels.contents import Tagged
from labels.forms import PrintForm
from labels.history import prints_of
from labels.models import Stock
from labels.views.addresses import cautions
from nursery.damm import read_number
from nursery.views.guards import may_record, signed_in

BLANK = "blank"
SAME_NUMBER = "However often it is printed, its number and its code stay the same."


@dataclass(frozen=True)
class Tab:
    label: str
    url: str
    current: bool
    count: int


@dataclass(frozen=True)
class Link:
    label: str
    url: str


@dataclass(frozen=True)
class Tick:
    """One tag to choose."""

    tag: Tagged
    ticked: bool


@signed_in
@require_safe
def waiting(request: HttpRequest) -> HttpResponse:
    """Tags that were never printed, all ticked; ``show`` narrows them to one kind, ``ticks=none`` unticks them."""
    tags = contents.waiting()
    show = request.GET.get("show", "")
    ticked = request.GET.get("ticks") != "none"
    shown = [Tick(tag, ticked) for tag in tags if show in {"", _kind(tag)}]
    form = PrintForm(initial=_asked_for(request))
    return page(request, form, shown, tabs=_tabs(tags, show), other_ticks=_other_ticks(request, ticked))


@may_record
@require_safe
def one(request: HttpRequest, number: int) -> HttpResponse:
    """One tag, again or for the first time."""
    tags = contents.tagged([number])
    if not tags:
        raise Http404(f"No tag {number} was ever made here.")
    form = PrintForm(initial=_asked_for(request))
    ticks = [Tick(tag, True) for tag in tags]
    return page(request, form, ticks, title="Print a tag", lead=SAME_NUMBER, prints=prints_of(number))


@may_record
@require_safe
def redetermined(request: HttpRequest, pk: uuid.UUID) -> HttpResponse:
    """The tags of all that bears the name of a clone, after this act said that the clone is something else."""
    tags = contents.redetermined(pk)
    ticked = request.GET.get("ticks") != "none"
    ticks = [Tick(tag, ticked) for tag in tags]
    form = PrintForm(initial=_asked_for(request))
    return page(request, form, ticks, title="Print tags again", other_ticks=_other_ticks(request, ticked))


def page(
    request: HttpRequest,
    form: PrintForm,
    ticks: Sequence[Tick],
    *,
    title: str = "Labels",
    lead: str = "",
    prints: Sequence[str] = (),
    tabs: Sequence[Tab] = (),
    other_ticks: Link | None = None,
    status: int = 200,
) -> HttpResponse:
    """The page on which labels are chosen; a refused choice comes back to it with its ticks."""
    context: dict[str, Any] = {
        "section": "labels",
        "title": title,
        "words": lead,
        "prints": prints,
        "fading": contents.worn_count(timezone.localdate()),
        "form": form,
        "ticks": ticks,
        "tabs": tabs,
        "other_ticks": other_ticks,
        "cautions": cautions(request),
        "formulas": any(tick.tag.is_formula for tick in ticks),
        "most": contents.MOST_LISTED,
    }
    return render(request, "labels/choose.html", context, status=status)


def ticks_again(request: HttpRequest) -> list[Tick]:
    """The tags of a refused choice, ticked as sent, and the others that wait."""
    typed = [read_number(text) for text in request.POST.getlist("numbers")]
    sent = [number for number in typed if number is not None]
    waits = contents.waiting()
    listed = {tag.number for tag in waits}
    others = contents.tagged([number for number in sent[: contents.MOST_LISTED] if number not in listed])
    return [Tick(tag, tag.number in sent) for tag in (*others, *waits)]


def _other_ticks(request: HttpRequest, ticked: bool) -> Link:
    """The same page with every tick the other way."""
    asked = request.GET.copy()
    asked["ticks"] = "none" if ticked else "all"
    return Link("Untick all" if ticked else "Tick all", f"?{asked.urlencode()}")


def _asked_for(request: HttpRequest) -> dict[str, Any]:
    """Stock and first free label from the address: what is left of the sheet printed last."""
    wanted = {name: request.GET.get(name, "") for name in ("stock", "first")}
    initial = {name: value for name, value in wanted.items() if value.isascii() and value.isdigit()}
    return {"stock": Stock.objects.values_list("pk", flat=True).first()} | initial


def _kind(tag: Tagged) -> str:
    return tag.kind_words or BLANK


def _tabs(tags: Sequence[Tagged], show: str) -> list[Tab]:
    """All, and each kind that has any; none where there is only one kind."""
    kinds = Counter(_kind(tag) for tag in tags)
    if len(kinds) < 2:
        return []
    url = reverse("labels:waiting")
    each = [Tab(kind.capitalize(), f"{url}?show={kind.replace(' ', '+')}", kind == show, kinds[kind]) for kind in kinds]
    return [Tab("All", url, not show, len(tags)), *each]
