"""The phone's way to what its bar has no room for."""

from dataclasses import dataclass

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.views.decorators.http import require_safe

from nursery.views.guards import signed_in


@dataclass(frozen=True)
class Way:
    icon: str
    label: str
    hint: str
    url: str
    recorders: bool = False


WAYS = (
    Way("search", "Find by number", "Type the digits on a tag", "/tag/"),
    Way("person", "Whose hands", "For a phone that goes from hand to hand", "/hands/", recorders=True),
    Way("tag", "Labels", "Print tags and stakes", "/labels/"),
    Way("house", "Office", "People, places, timings, to sort out", "/office/"),
    Way("list", "Help", "How it works, with cautions", "/help/"),
)


@signed_in
@require_safe
def more(request: HttpRequest) -> HttpResponse:
    links = [way for way in WAYS if request.user.may_record or not way.recorders]
    return render(request, "more.html", {"section": "more", "links": links})
