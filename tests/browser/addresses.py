"""Every address of Tepal: which show a page, filled in with things of the demo nursery, and which show none."""

import uuid
from collections.abc import Callable, Iterator
from typing import Any

from django.db.models import Model
from django.urls import get_resolver, reverse

from breeding.models import Expectation, SeedPot, SowingSession
from labels.models import Printer, Stock
from labels.records import printed
from nursery.links import act_url, thing_url
from nursery.models import Act, Clone, Flag, Person, Place, Plant, Tag, Taxon
from nursery.pages import ActPage
from nursery.records import registry
from nursery.records.flags import open_flags
from nursery.site import pages
from nursery.site.moving.imports import brought_in, columns_chosen
from tests.site.moving.tables import table

SHOWS_NO_PAGE = {
    "up/": "words for a watchdog",
    "sign-out/": "takes a post",
    "walk/<int:pk>/": "takes a post",
    "several/<uuid:pk>/undo/": "takes a post",
    "several/<slug:slug>/<slug:act>/": "takes a post",
    "round/<str:day>/grid/what/": "part of the grid's page",
    "acts/": "takes a phone's outbox and answers in JSON",
    "office/to-sort-out/<int:pk>/looked-at/": "takes a post",
    "acts/<uuid:pk>/undo/": "takes a post",
    "flags/<int:pk>/settle/": "takes a post",
    "acts/<uuid:pk>/settle/<slug:code>/": "takes a post",
    "office/places/<int:pk>/earlier/": "takes a post",
    "office/places/<int:pk>/later/": "takes a post",
    "office/timings/<int:pk>/reset/": "takes a post",
    "office/timings/left-out/<uuid:pk>/": "takes a post",
    "office/moving-in/<uuid:pk>/columns/": "takes a post",
    "office/export/everything.zip": "a file",
    "office/export/<slug:name>.csv": "a file",
    "office/moving-in/<uuid:pk>/again/": "takes a post",
    "office/moving-in/<uuid:pk>/bring/": "takes a post",
    "office/moving-in/<uuid:pk>/undo/": "takes a post",
    "office/moving-in/<uuid:pk>/throw-away/": "takes a post",
    "office/signed-in/end/": "takes a post",
    "office/people/<int:pk>/sign-out/": "takes a post",
    "office/calendar/end/": "takes a post",
    "calendar/<str:secret>.ics": "a file",
    "office/timings/risk/": "takes a post; its form stands on the page of timings",
    "labels/sheet/": "takes a post; its page is reached by its button",
    "labels/sheet/pdf/": "a file",
    "labels/sheet/right/": "takes a post",
    "labels/round/<str:day>/": "a file",
    "labels/stocks/<int:pk>/outlines/": "a file",
    "labels/stocks/<int:pk>/page/": "a picture",
    "labels/stocks/<int:pk>/rulers/": "a file",
    "labels/stocks/<int:pk>/shown/<slug:kind>/": "a picture",
    "photos/<sha256:sha256>.jpg": "a file",
    "photos/small/<sha256:sha256>.jpg": "a file",
    "^[tT]/(?P<typed>[^/]+)/?$": "the page of t/<str:typed>/, for capitals",
}
"""By pattern, with the reason."""

BORN = ("spike_found", "pollinated", "harvested", "sown", "plant_arrived")
"""Kinds of acts whose correction is visited, besides those of every other kind."""


def _things() -> list[str]:
    """Of each kind, one under way and one that is over."""
    found = []
    for kind in registry.thing_kinds().values():
        for over in (False, True):
            thing = kind.model.objects.filter(closed_on__isnull=not over, cancelled=False).order_by("pk").last()
            found += [thing_url(thing)] if thing else []
    return [*found, thing_url(_photographed()), thing_url(_cancelled()), f"{thing_url(_much_told())}?story=whole"]


def _photographed() -> Any:
    """A spike with photos of several days."""
    photo = Act.objects.filter(kind="photo_taken", thing__kind="spike").latest("day_last")
    return registry.instance_of(photo.thing)


def _cancelled() -> Any:
    kinds = registry.thing_kinds().values()
    return next(thing for kind in kinds for thing in kind.model.objects.filter(cancelled=True)[:1])


def _much_told() -> Any:
    """The seed pot with the longest story."""
    model = registry.thing_kind("seedpot").model
    return max(model.objects.all(), key=lambda pot: pot.thing.links.count())


def _acts() -> list[str]:
    """Every page that records an act, each on a thing under way; what fits any kind stands on a plant."""
    return [_act(page) for page in pages.ALL if page.on]


def _act(page: ActPage) -> str:
    kind = registry.thing_kind("plant" if page.on == "any" else page.on)
    things = kind.model.objects.filter(cancelled=False, closed_on__isnull=True)
    return act_url(things.order_by("pk").last(), page.slug)


def _new() -> list[str]:
    return [reverse("new", kwargs={"slug": page.slug}) for page in pages.ALL if page.on is None]


def _corrections() -> list[str]:
    """The last act of some kinds."""
    kinds = (*BORN, "spike_look", "take_look", "remarked")
    acts = [Act.objects.filter(kind=kind, voided_by__isnull=True).latest("recorded_at") for kind in kinds]
    return [reverse("correct", kwargs={"pk": act.pk}) for act in acts]


def _stocktakes() -> list[str]:
    """The last one; the demo's has differences."""
    return [reverse("stocktake", args=[Act.objects.filter(kind="stocktake").latest("recorded_at").pk])]


def _tags() -> list[str]:
    """A tag on something, one replaced, a blank one, a wrong number, and one never made."""
    tags = [
        Tag.objects.filter(thing__kind="section", retired=False).first(),
        Tag.objects.filter(retired=True).first(),
        Tag.objects.filter(thing=None).first(),
    ]
    return [reverse("tag", kwargs={"typed": typed}) for typed in (*(str(tag.number) for tag in tags), "12", "moss")]


def _one(name: str, model: type[Model], field: str = "pk") -> Callable[[], list[str]]:
    return lambda: [reverse(name, args=[getattr(model.objects.order_by("pk").first(), field)])]


def _sowing() -> list[str]:
    """One with pots that are still open."""
    pot = SeedPot.objects.filter(closed_on__isnull=True, cancelled=False).latest("pk")
    return [reverse("several-of-sowing", args=[pot.thing.born_by_id])]


def _session(name: str) -> Callable[[], list[str]]:
    return lambda: [reverse(name, args=[SowingSession.objects.filter(closed_on=None, cancelled=False).latest("pk").pk])]


def _fixed(*addresses: str) -> Callable[[], list[str]]:
    return lambda: list(addresses)


def _round_days() -> list[str]:
    return ["/round/2020-02-29/", "/round/2190-01-01/"]


def _flagged() -> Act:
    return Flag.objects.filter(code="parent_redetermined").first().act


def _downstream() -> list[str]:
    """Of a clone of which much came, and of one of which nothing did."""
    bare = Clone.objects.filter(plants=None, crosses_as_seed_parent=None, crosses_as_pollen=None).first()
    return [reverse("downstream", args=[pk]) for pk in (_flagged().thing_id, bare.pk if bare else 0) if pk]


def _repairs() -> list[str]:
    flag = open_flags().filter(code="more_pods_than_flowers").first()
    return [reverse("repair", args=[flag.pk, "another"])]


def _swapped() -> list[str]:
    """Asked, shown with what may go over, and with a number that is on nothing."""
    first, second = Tag.objects.filter(thing__kind="plant", retired=False).order_by("pk")[:2]
    page = reverse("swapped", args=["plants", first.thing_id])
    return [page, f"{page}?number={second.number}&day_said=unknown", f"{page}?number=12"]


def _redetermined() -> list[str]:
    return [reverse("labels:redetermined", args=[_flagged().pk])]


def _printer() -> list[str]:
    printer, _ = Printer.objects.get_or_create(name="office")
    return [reverse("labels:printer", args=[printer.pk])]


def _printing() -> list[str]:
    """One of a few tags, made here: the demo prints nothing."""
    owner, stock = Person.objects.filter(role="owner").first(), Stock.objects.first()
    numbers = list(Tag.objects.filter(retired=False).values_list("number", flat=True)[:3])
    printing = uuid.uuid4()
    printed(
        id=printing, by=owner, numbers=numbers, stock=stock, address="https://drizzle.example", copies=2, printer=None
    )
    return [reverse("labels:printing", args=[printing])]


MOVED = "Species,Place,Here since\nlowii,House 9 / Bench 1,spring 2024\nhamata,,31 Feb 2025\n"


def _imports() -> list[str]:
    """A table just read, one looked over, and one brought in."""
    owner = Person.objects.filter(role="owner").first()
    fresh, tried, done = (table(owner, "plants", f"{MOVED}{word},,\n") for word in ("thorelii", "glabrata", "lowii"))
    columns_chosen(by=owner, moving=tried, columns=tried.columns)
    brought_in(by=owner, moving=done, without=[3])
    return [reverse("import", args=[one.pk]) for one in (fresh, tried, done)]


PAGES: dict[str, Callable[[], list[str]]] = {
    "": _fixed("/", "/?kind=take"),
    "round/<str:day>/": _round_days,
    "round/<str:day>/grid/": _fixed("/round/2020-02-29/grid/"),
    "sowings/new/": _fixed("/sowings/new/"),
    "sowings/<int:pk>/bench/": _session("sowing-bench"),
    "sowings/<int:pk>/close/": _session("sowing-close"),
    "t/<str:typed>/": _tags,
    "tag/": _fixed("/tag/", "/tag/?number=12"),
    "tag/lost/": _fixed("/tag/lost/", "/tag/lost/?kind=spike", "/tag/lost/?q=nosuchthing"),
    "search/": _fixed("/search/", "/search/?q=lowii", "/search/?q=nosuchthing"),
    "more/": _fixed("/more/"),
    "<slug:slug>/<int:pk>/": _things,
    "<slug:slug>/<int:pk>/<slug:act>/": _acts,
    "<slug:slug>/new/": _new,
    "stocktakes/<uuid:pk>/": _stocktakes,
    "plants/<int:pk>/trace/": _one("trace", Plant),
    "acts/<uuid:pk>/correct/": _corrections,
    "clones/<int:pk>/downstream/": _downstream,
    "labels/redetermined/<uuid:pk>/": _redetermined,
    "places/<int:pk>/several/": _one("several-at-place", Place),
    "acts/<uuid:pk>/several/": _sowing,
    "flags/<int:pk>/repair/<slug:slug>/": _repairs,
    "<slug:slug>/<int:pk>/swapped/": _swapped,
    "labels/": _fixed("/labels/"),
    "labels/print/<int:number>/": _one("labels:print", Tag, "number"),
    "labels/printed/": _fixed("/labels/printed/"),
    "labels/printed/<uuid:pk>/": _printing,
    "labels/fading/": _fixed("/labels/fading/"),
    "labels/blank/": _fixed("/labels/blank/"),
    "labels/elsewhere/": _fixed("/labels/elsewhere/"),
    "labels/other-words/": _fixed("/labels/other-words/"),
    "labels/kinds/": _fixed("/labels/kinds/"),
    "labels/printers/": _fixed("/labels/printers/"),
    "labels/printers/new/": _fixed("/labels/printers/new/"),
    "labels/printers/<int:pk>/": _printer,
    "labels/stocks/": _fixed("/labels/stocks/"),
    "labels/stocks/new/": _fixed("/labels/stocks/new/"),
    "labels/stocks/<int:pk>/": _one("labels:stock", Stock),
    "office/people/<int:pk>/": _one("person", Person),
    "office/people/<int:pk>/code/": _one("person-code", Person),
    "office/people/<int:pk>/leave/": _one("person-leave", Person),
    "office/taxa/<int:pk>/": _one("taxon", Taxon),
    "office/timings/<int:pk>/": _one("timing", Expectation),
    "office/timings/step/<slug:code>/": _fixed("/office/timings/step/ripe/", "/office/timings/step/take/"),
    "office/moving-in/<uuid:pk>/": _imports,
    "crosses/pipeline/": _fixed("/crosses/pipeline/?finished=yes", "/crosses/pipeline/?q=nosuchthing"),
    "sign-in/": _fixed("/sign-in/"),
}
"""By pattern; a pattern without anything to fill in stands for itself."""


def patterns() -> list[str]:
    """Every pattern of ours, as it is written in the urls modules."""
    return list(_walk(get_resolver().url_patterns, ""))


def _walk(found: list[Any], before: str) -> Iterator[str]:
    for one in found:
        here = before + str(one.pattern)
        if hasattr(one, "url_patterns"):
            yield from _walk(one.url_patterns, here)
        else:
            yield here


def is_plain(pattern: str) -> bool:
    """Whether a pattern is an address as it stands."""
    return "<" not in pattern and "(" not in pattern


def addresses_of(pattern: str) -> list[str]:
    """What to visit for a pattern; none for what shows no page."""
    if pattern in PAGES:
        return PAGES[pattern]()
    return [] if pattern in SHOWS_NO_PAGE else [f"/{pattern}"]
