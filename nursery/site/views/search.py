"""Search by number, name or parent."""

from typing import Any

from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils import timezone
from django.views.decorators.http import require_safe

from nursery.site import search
from nursery.site.cards.parts import Listing, row_of
from nursery.site.views.tags import did_you_mean
from nursery.typed_tags import what_is_wrong
from nursery.views.guards import signed_in

LONGEST = 100


@signed_in
@require_safe
def search_page(request: HttpRequest) -> HttpResponse:
    """A whole number that leads somewhere leads there at once; anything else shows what was found, by kind."""
    q = request.GET.get("q", "").strip()[:LONGEST]
    numbered = search.by_number(q)
    if any(tag.number == numbered.typed for tag in numbered.tags):
        return redirect("tag", typed=str(numbered.typed))
    return render(request, "tags/search.html", _context(q, numbered))


def _context(q: str, numbered: search.ByNumber) -> dict[str, Any]:
    groups = search.by_words(q)
    today = timezone.localdate()
    without_digit = [row_of(one, today, where=True) for one in search.tagged_things(numbered)]
    lost = bool(numbered.typed) and not without_digit
    return {
        "section": "more",
        "q": q,
        "wrong": what_is_wrong(q) if lost else "",
        "meant": did_you_mean(q) if lost else None,
        "numbered": Listing("If you left out the last digit", tuple(without_digit)) if without_digit else None,
        "groups": [Listing(_title(one), tuple(row_of(row, today, where=True) for row in one.things)) for one in groups],
        "found": bool(groups or without_digit),
    }


def _title(group: search.Found) -> str:
    return f"{group.title} (the first {search.MOST_FOUND}; more words narrow it down)" if group.more else group.title
