"""What came of a clone: everything that bears its name, so that each can be looked at and its tag printed again."""

from datetime import date

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.utils import timezone
from django.views.decorators.http import require_safe

from breeding.records.downstream import downstream_of
from breeding.words.names import name_parts
from nursery.links import thing_url
from nursery.models import Clone
from nursery.site import fetch
from nursery.site.cards.parts import Listing, row_of
from nursery.views.guards import signed_in

TITLES = {
    "clone": "Clones raised from it",
    "plant": "Plants",
    "spike": "Spikes",
    "pollenlot": "Pollen",
    "cross": "Crosses",
    "section": "Sections",
    "seedlot": "Seed",
    "seedpot": "Seed pots",
}
MOST = 200
"""Rows of each kind; a clone with more than that is best looked at cross by cross."""


@signed_in
@require_safe
def downstream(request: HttpRequest, pk: int) -> HttpResponse:
    clone: Clone = fetch.thing_or_404("clone", pk)
    parts = name_parts(clone)
    context = {
        "section": "plants",
        "title": "What came of it",
        "name_parts": parts,
        "lists": listings(clone, timezone.localdate()),
        "back_url": thing_url(clone),
    }
    return render(request, "things/downstream.html", context)


def listings(clone: Clone, today: date) -> list[Listing]:
    """One list for each kind of which there is anything, open things first."""
    traced = downstream_of(clone).by_kind
    return [_listing(code, traced[code], today) for code in TITLES if traced[code]]


def _listing(code: str, ids: tuple[int, ...], today: date) -> Listing:
    rows = fetch.listed(fetch.things(code).filter(pk__in=ids).order_by(fetch.OPEN_FIRST, "pk")[:MOST])
    count = f" (the first {MOST} of {len(ids)})" if len(ids) > MOST else f": {len(ids)}"
    return Listing(TITLES[code] + count, tuple(row_of(row, today, where=True) for row in rows))
