"""Which things one without a readable tag may be: by kind, place and words, open ones only."""

from collections.abc import Iterable
from typing import Any

from nursery.models import Place
from nursery.site import fetch
from nursery.site.search import narrowed

MOST = 12
"""More than that is no choice yet: more words, or the place, narrow it down."""


def candidates(codes: Iterable[str], place: Place | None, q: str) -> list[Any]:
    """At most one more than MOST, so that a page can say that there are more."""
    found: list[Any] = []
    for code in codes:
        found += _of_kind(code, place, q)[: MOST + 1 - len(found)]
        if len(found) > MOST:
            break
    return found


def _of_kind(code: str, place: Place | None, q: str) -> list[Any]:
    path = fetch.place_path(code)
    if place is not None and not path:
        return []  # packets and lots stand nowhere
    rows = fetch.open_things(code).filter(pk__in=narrowed(code, q).values("pk"))
    if place is not None:
        rows = rows.filter(**{f"{path}__in": _within(place)})
    return fetch.listed(rows.order_by("-pk")[: MOST + 1])


def _within(place: Place) -> set[int]:
    """The place and all that stand in it, however deep: what is in a tray on a bench is in the house."""
    found, inner = set(), {place.pk}
    while inner:
        found |= inner
        inner = set(Place.objects.filter(inside__in=inner).values_list("pk", flat=True)) - found
    return found
