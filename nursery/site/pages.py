"""All pages that record acts, of every app: found by address, or by the act they would correct."""

from django.http import Http404

from breeding.pages import CORRECTING
from breeding.pages import PAGES as BREEDING
from nursery.models import Act
from nursery.pages import PAGES as NURSERY
from nursery.pages import ActPage

ALL = (*BREEDING, *NURSERY)


def page_on(kind: str, slug: str) -> ActPage:
    """The page of this act for a kind of thing; 404 where there is none."""
    for page in ALL:
        if page.slug == slug and page.fits(kind):
            return page
    raise Http404("There is no such page.")


def new_page(slug: str) -> ActPage:
    """The page that enters something of this address; 404 where there is none."""
    for page in ALL:
        if page.on is None and page.slug == slug:
            return page
    raise Http404("There is no such page.")


def can_be_corrected(act: Act) -> bool:
    """Whether a page can say this act again: of all that has a form, but not of undoing and the like."""
    return act.kind in CORRECTABLE


def page_correcting(act: Act) -> ActPage | None:
    """The page whose form can say this act again, as ``can_be_corrected`` tells.

    Where one kind has two forms, such as the first dabbing and any later one, it is whether the act made its thing.
    """
    pages = [page for page in _FORMS.get(act.kind, []) if page.tells(act)]
    if len({bool(page.births) for page in pages}) > 1:
        born = act.births.exclude(kind="cross").exists()
        pages = [page for page in pages if bool(page.births) == born]
    return pages[0] if pages else None


_FORMS: dict[str, list[ActPage]] = {}
for _page in (*ALL, *CORRECTING):
    _FORMS.setdefault(_page.act_kind, []).append(_page)

CORRECTABLE = frozenset(_FORMS)
"""Codes of the kinds of act that can be corrected."""
