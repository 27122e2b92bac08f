"""The page of a cross is its story."""

from typing import Any

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.utils import timezone

from breeding.models import Cross
from breeding.words import facts
from breeding.words.names import name_parts
from breeding.words.stages import stage_words
from nursery.site import crosses
from nursery.site.cards.parts import acts_of
from nursery.site.stories import Reader, flags_of
from nursery.views.hands import hands


def show(request: HttpRequest, cross: Cross) -> HttpResponse:
    """The story of a cross fetched by ``nursery.site.fetch``; the caller has looked who may read."""
    return render(request, "things/story.html", _context(request, cross))


def _context(request: HttpRequest, cross: Cross) -> dict[str, Any]:
    today = timezone.localdate()
    change = "change" in request.GET
    under = crosses.below(cross)
    parts = name_parts(cross)
    return {
        "section": "crosses",
        "title": "".join(part.text for part in parts),
        "name_parts": parts,
        "lead": "Female parent first.",
        "stage_words": stage_words(cross, today),
        "facts": facts.cross(cross),
        "flags": flags_of([cross.pk, *under.pks], hands(request)),
        "acts": acts_of(cross) if request.user.may_record else [],
        "details": crosses.numbers(under),
        "chapters": crosses.chapters(cross, under, Reader(hands(request), today, change)),
        "change_url": "?change=yes" if request.user.may_record and not change else "",
    }
