"""The page of a thing, by its address and by its tag."""

import uuid
from datetime import date
from typing import Any

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.utils import timezone
from django.views.decorators.http import require_safe

from breeding.sowing.in_hand import other_in_hand
from breeding.words.names import name_parts
from breeding.words.stages import stage_words
from labels.misprinted import misprint_of
from nursery.closings import banners_at, banners_of
from nursery.links import thing_url
from nursery.models import LivingThing, Place, Tag
from nursery.records import registry
from nursery.site import fetch
from nursery.site.around import around, where_it_stood
from nursery.site.asked import asked_now, with_hints
from nursery.site.cards import card_of
from nursery.site.cards.parts import Card, Link
from nursery.site.moved_on import fallen, left_hanging, moved_on, other_tags, replaced_words
from nursery.site.quarantine import quarantine_notices
from nursery.site.stories import Reader, flags_of, story_of
from nursery.site.views import cross
from nursery.views.guards import signed_in
from nursery.views.hands import hands
from nursery.where import place_words


@signed_in
@require_safe
def thing_page(request: HttpRequest, slug: str, pk: int) -> HttpResponse:
    kind = fetch.kind_of_slug(slug)
    return show(request, fetch.thing_or_404(kind.code, pk))


def show(request: HttpRequest, thing: LivingThing, *, scanned: Tag | None = None) -> HttpResponse:
    """The page of a thing fetched by ``nursery.site.fetch``; ``scanned`` is the tag that led here, if one did."""
    if thing.kind == "cross":
        return cross.show(request, thing)
    return render(request, "things/thing.html", _context(request, thing, scanned))


def _context(request: HttpRequest, thing: LivingThing, scanned: Tag | None) -> dict[str, Any]:
    today = timezone.localdate()
    asked = asked_now(thing, today)
    card = with_hints(card_of(thing, request.user, today), asked, today)
    whole, change = request.GET.get("story") == "whole", "change" in request.GET
    near = around(thing, today)
    of_place = isinstance(thing, Place)
    closings = banners_at(thing, request.user) if of_place else banners_of(near.going_on, request.user)
    beside = links_beside(card)
    now = moved_on(thing, today)
    cautions = [*card.asked.cautions, *(caution for task in asked.tasks for caution in task.cautions)]
    story = story_of(thing, Reader(hands(request), today, change), whole=whole, around=near.acts)
    return {
        "section": card.section,
        "thing": heading(thing, today),
        "closings": closings,
        "notices": [
            *notices(thing, scanned),
            *quarantine_notices(thing, today),
            *other_in_hand(thing, hands(request), today),
        ],
        "misprint": misprint_of(thing.number) if thing.number and thing.is_open and request.user.may_record else None,
        "moved_on": now or left_hanging(thing, today),
        "fallen": fallen(thing, scanned) if scanned and request.user.may_record else None,
        "flags": flags_of([thing.pk], hands(request)),
        "facts": card.facts,
        "tasks": asked.tasks,
        "why_not": "" if now or thing.cancelled else asked.why_not,
        "off": asked.off,
        "cautions": list(dict.fromkeys(cautions)),
        "question": card.asked.question,
        "answers": card.asked.answers,
        "more_answers": card.asked.more,
        "act_id": uuid.uuid4(),
        "act_id_more": uuid.uuid4(),
        "acts": [link for link in beside if not _is_rare(link)],
        "rare_acts": [link for link in beside if _is_rare(link)],
        "details": [*card.details, *other_tags(thing, scanned)],
        "lists": [one for one in (*card.lists, where_it_stood(near, today)) if one and (one.rows or one.empty)],
        "ancestors": card.ancestors,
        "history": card.history,
        "photo_days": story.photo_days,
        "remarks": story.remarks,
        "story": story.acts,
        "story_more_url": f"{thing_url(thing)}?story=whole" if story.more and not whole else "",
        "change_url": _change_url(request) if request.user.may_record and not change else "",
    }


def _change_url(request: HttpRequest) -> str:
    """This page with ways to undo and correct on every act, as much of the story as is shown now."""
    query = request.GET.copy()
    query["change"] = "yes"
    return f"?{query.urlencode()}#story"


def links_beside(card: Card) -> list[Link]:
    """The links under the answers, without those that stand among the answers already."""
    answers = {answer.href for answer in (*card.asked.answers, *card.asked.more)}
    return [link for link in card.acts if link.url not in answers]


RARE = frozenset({"tag", "swapped", "sample", "result", "print"})
"""Parts of the addresses of acts that few days need: folded, so that those of every day fit a phone."""


def _is_rare(link: Link) -> bool:
    return not RARE.isdisjoint(link.url.split("/"))


def heading(thing: Any, today: date) -> dict[str, Any]:
    """What stands above everything else on the page."""
    place = fetch.place_of(thing)
    parts = name_parts(thing)
    return {
        "number": thing.number,
        "kind_words": _kind_words(thing),
        "place": place_words(place) if place and place.pk != thing.pk else "",
        "place_url": thing_url(place) if place and place.pk != thing.pk else "",
        "title": f"{''.join(part.text for part in parts)}, {_kind_words(thing)}",
        "name_parts": parts,
        "stage_words": stage_words(thing, today),
    }


def notices(thing: Any, scanned: Tag | None) -> list[str]:
    """What somebody must know before anything else: that the thing was undone, or that its tag was replaced."""
    told = []
    if thing.cancelled:
        told.append("What entered this was undone, so it does not count. It is kept here with its story.")
    if thing.cancelled and scanned is not None:
        told.append("Its tag may be put on something else: type its number where a blank one is asked for.")
    if scanned is not None and scanned.retired:
        told.append(replaced_words(thing, scanned))
    return told


def _kind_words(thing: Any) -> str:
    if isinstance(thing, Place):
        return thing.get_size_display()
    return registry.thing_kind(thing.kind).words
