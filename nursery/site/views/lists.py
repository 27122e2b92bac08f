"""Lists of things, open ones first, fifty to a page."""

from typing import Any

from django.core.paginator import Paginator
from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.urls import reverse
from django.utils import timezone
from django.views.decorators.http import require_safe

from nursery.models import Person
from nursery.site.lists import BY_SLUG, LISTS
from nursery.site.lists.parts import ThingList
from nursery.views.guards import signed_in

A_PAGE = 50
_FEMALE_FIRST = dict.fromkeys(("crosses", "seed"), "Female parent first.")


@signed_in
@require_safe
def list_page(request: HttpRequest, slug: str) -> HttpResponse:
    """One list; ``?show=all`` adds what is over, gone or finished. A page that is not there gives the nearest one."""
    return render(request, "things/list.html", _context(request, BY_SLUG[slug]))


def _context(request: HttpRequest, shown: ThingList) -> dict[str, Any]:
    everything = request.GET.get("show") == "all"
    page = Paginator(shown.rows(everything=everything), A_PAGE).get_page(request.GET.get("page"))
    today = timezone.localdate()
    return {
        "section": shown.section,
        "title": shown.title,
        "lead": " ".join(filter(None, (_FEMALE_FIRST.get(shown.section, ""), shown.lead))),
        "tabs": tabs_of(shown.section, current=shown.slug),
        "filters": _filters(shown, everything),
        "add": _add(shown.add, request.user),
        "also": _add(shown.also, request.user),
        "columns": shown.heads,
        "rows": [shown.row(thing, today) for thing in page.object_list],
        "page": page,
        "query": "show=all&" if everything else "",
        "empty": shown.empty,
    }


def tabs_of(section: str, *, current: str) -> list[dict[str, Any]]:
    """The lists of one part of the menu, and what stands beside them there; ``current`` is a slug."""
    tabs = [(one.title, _url(one), one.slug) for one in LISTS if one.section == section]
    tabs += [("By post", reverse("by-post"), "by-post")] if section == "seed" else []
    tabs[:0] = [("Pipeline", reverse("pipeline"), "pipeline")] if section == "crosses" else []
    return [{"label": label, "url": url, "current": slug == current} for label, url, slug in tabs]


def _filters(shown: ThingList, everything: bool) -> list[dict[str, Any]]:
    if shown.under_way == "all":
        return []
    return [
        {"label": shown.under_way.capitalize(), "url": _url(shown), "current": not everything},
        {"label": "All", "url": f"{_url(shown)}?show=all", "current": everything},
    ]


def _add(what: tuple[str, str] | None, person: Person) -> dict[str, str] | None:
    if what is None or not person.may_record:
        return None
    label, slug = what
    return {"label": label, "url": reverse("new", kwargs={"slug": slug})}


def _url(one: ThingList) -> str:
    return reverse(f"list-{one.slug}")
