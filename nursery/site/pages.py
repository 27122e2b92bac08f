"""All pages that record acts, of every app: found by address, or by the act they would correct."""

from django.http import Http404

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


def page_correcting(act: Act) -> ActPage | None:
    """The page whose form can say this act again; None for undoing and the like."""
    born = act.births.exclude(kind="cross").exists()
    for page in ALL:
        if page.act_kind == act.kind and bool(page.births) == born and page.tells(act):
            return page
    return None
