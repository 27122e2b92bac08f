"""Choosing which tags to print: those never printed, or one by its number."""

import uuid
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import render
from django.urls import reverse
from django.utils import timezone
from django.views.decorators.http import require_safe

from labels import contents, queue
from labels.contents import Tagged
from labels.forms import PrintForm
from labels.history import prints_of
from labels.moved_address import carrying_another_count
from labels.queue import Wanted
from labels.views.addresses import address_of, cautions
from nursery.damm import read_number
from nursery.views.guards import may_record, signed_in

SAME_NUMBER = "However often it is printed, its number and its code stay the same."
MADE = "Tags of what was just entered."


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
    """One tag to choose; ``note`` tells more of it than its label does."""

    tag: Tagged
    ticked: bool
    note: str = ""


@dataclass(frozen=True)
class Standing:
    """Ticks of what stands in one place, or was printed on the same."""

    title: str
    ticks: tuple[Tick, ...]


@signed_in
@require_safe
def waiting(request: HttpRequest) -> HttpResponse:
    """Tags that were never printed, all ticked, as the bench is walked.

    ``show``, ``place``, ``sowing`` and ``made`` narrow them (see ``labels.queue``); ``ticks=none`` unticks them.
    """
    which, walk = queue.wanted(request.GET), queue.places()
    ticked = request.GET.get("ticks") != "none"
    ticks = [Tick(tag, ticked) for tag in queue.waiting(which, walk)]
    context = {
        "tabs": _tabs(request, which),
        "other_ticks": _other_ticks(request, ticked),
        "places": queue.place_choices(walk),
        "sowings": queue.sowing_choices(),
        "which": which,
        "everything": reverse("labels:waiting") if which != Wanted() else "",
    }
    return page(request, ticks, walk=walk, lead=MADE if which.made and ticks else "", **context)


@may_record
@require_safe
def one(request: HttpRequest, number: int) -> HttpResponse:
    """One tag, again or for the first time."""
    tags = contents.tagged([number])
    if not tags:
        raise Http404(f"No tag {number} was ever made here.")
    ticks = [Tick(tag, True) for tag in tags]
    return page(request, ticks, title="Print a tag", lead=SAME_NUMBER, prints=prints_of(number))


@may_record
@require_safe
def redetermined(request: HttpRequest, pk: uuid.UUID) -> HttpResponse:
    """The tags of all that bears the name of a clone, after this act said that the clone is something else."""
    walk = queue.places()
    ticked = request.GET.get("ticks") != "none"
    ticks = [Tick(tag, ticked) for tag in queue.walked(contents.redetermined(pk), walk)]
    return page(request, ticks, title="Print tags again", walk=walk, other_ticks=_other_ticks(request, ticked))


def page(
    request: HttpRequest,
    ticks: Sequence[Tick],
    *,
    form: PrintForm | None = None,
    initial: dict[str, Any] | None = None,
    title: str = "Labels",
    lead: str = "",
    walk: dict[int, Any] | None = None,
    status: int = 200,
    **more: Any,
) -> HttpResponse:
    """The page on which labels are chosen; a refused choice comes back to it with its ticks.

    With ``walk``, the places in walking order, the ticks stand under the names of the places.
    """
    form = form or PrintForm(initial=_asked_for(request) | (initial or {}))
    form.show(list(dict.fromkeys(tick.tag.kind for tick in ticks)))
    context: dict[str, Any] = {
        "section": "labels",
        "title": title,
        "words": lead,
        "elsewhere": carrying_another_count(address_of(request)),
        "fading": contents.worn_count(timezone.localdate()),
        "form": form,
        "count": len(ticks),
        "standing": _standing(ticks, walk),
        "cautions": cautions(request),
        "formulas": any(tick.tag.is_formula for tick in ticks),
        "most": contents.MOST_LISTED,
    }
    return render(request, "labels/choose.html", context | more, status=status)


def ticks_again(request: HttpRequest) -> list[Tick]:
    """The tags of a refused choice, ticked as sent, and the others that wait."""
    typed = [read_number(text) for text in request.POST.getlist("numbers")]
    sent = [number for number in typed if number is not None]
    waits = queue.walked(contents.waiting(), queue.places())
    listed = {tag.number for tag in waits}
    others = contents.tagged([number for number in sent[: contents.MOST_LISTED] if number not in listed])
    return [Tick(tag, tag.number in set(sent)) for tag in (*others, *waits)]


def _standing(ticks: Sequence[Tick], walk: dict[int, Any] | None) -> list[Standing]:
    if walk is None:
        return [Standing("", tuple(ticks))]
    ticked = {tick.tag.number: tick for tick in ticks}
    groups = queue.by_place([tick.tag for tick in ticks], walk)
    return [Standing(group.title, tuple(ticked[tag.number] for tag in group.tags)) for group in groups]


def _other_ticks(request: HttpRequest, ticked: bool) -> Link:
    """The same page with every tick the other way."""
    asked = request.GET.copy()
    asked["ticks"] = "none" if ticked else "all"
    return Link("Untick all" if ticked else "Tick all", f"?{asked.urlencode()}")


def _asked_for(request: HttpRequest) -> dict[str, Any]:
    """The stock from the address: what was printed on last."""
    stock = request.GET.get("stock", "")
    return {"stock": stock} if stock.isascii() and stock.isdigit() else {}


def _tabs(request: HttpRequest, which: Wanted) -> list[Tab]:
    """All, and each kind that has any; none where there is only one kind. What else narrows them stays."""
    kinds = queue.kinds_waiting(which)
    if len(kinds) < 2:
        return []
    words = {kind: contents.kind_words(kind) for kind in kinds}
    each = [Tab(words[kind], _shown(request, kind), kind == which.kind, count) for kind, count in kinds.items()]
    return [Tab("All", _shown(request, ""), not which.kind, sum(kinds.values())), *each]


def _shown(request: HttpRequest, kind: str) -> str:
    asked = request.GET.copy()
    asked.pop("show", None)
    if kind:
        asked["show"] = kind if kind == contents.BLANK else contents.kind_words(kind)
    url = reverse("labels:waiting")
    return f"{url}?{asked.urlencode()}" if asked else url
