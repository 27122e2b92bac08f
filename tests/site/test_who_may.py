"""Who may open which address: every one of Tepal stands here, and each is asked for by a stranger and by every role.

What is right for each page beyond that (whose act may be undone, what is written) is tried beside the page's own tests.
"""

import uuid
from collections.abc import Callable, Iterator
from typing import Any

import pytest
from django.http import HttpResponse
from django.test import Client
from django.urls import get_resolver, reverse

from breeding.models import Expectation
from breeding.records.redetermined import clone_redetermined
from labels import shipped
from labels.models import Printer, Stock
from labels.records import printed
from nursery.models import Act, Flag, House
from nursery.records import outbox
from nursery.records.house_log import house_event
from nursery.records.remarks import remarked
from nursery.site.moving.imports import brought_in
from tests.conftest import person_of, signed_in
from tests.keeping import undone_at_the_end
from tests.making import Nursery, birth_of, tag_of, today
from tests.site.moving.tables import table

VIEWER, GROWER, OWNER = "viewer", "grower", "owner"
ROLES = (VIEWER, GROWER, OWNER)
"""Each may do what those before it may."""

LEAST = {
    "labels:waiting": VIEWER,
    "labels:printings": VIEWER,
    "labels:round-paper": VIEWER,
    "tag": VIEWER,
    "^[tT]/(?P<typed>[^/]+)/?$": VIEWER,  # CAPITALS
    "tag-typed": VIEWER,
    "search": VIEWER,
    "more": VIEWER,
    "pipeline": VIEWER,
    "by-post": VIEWER,
    "downstream": VIEWER,
    "list-plants": VIEWER,
    "list-clones": VIEWER,
    "list-spikes": VIEWER,
    "list-crosses": VIEWER,
    "list-sections": VIEWER,
    "list-pollen": VIEWER,
    "list-seed": VIEWER,
    "list-pots": VIEWER,
    "list-sowings": VIEWER,
    "round": VIEWER,
    "round-of-day": VIEWER,
    "help": VIEWER,
    "photo": VIEWER,
    "photo-small": VIEWER,
    "office": VIEWER,
    "my-sessions": VIEWER,
    "my-sessions-end": VIEWER,
    "my-password": VIEWER,
    "office-places": VIEWER,
    "taxa": VIEWER,
    "about": VIEWER,
    "calendars": VIEWER,
    "calendar-end": VIEWER,
    "routines": VIEWER,
    "timings": VIEWER,
    "left-out": VIEWER,
    "timing-step": VIEWER,
    "sort-out": VIEWER,
    "journal": VIEWER,
    "trace": VIEWER,
    "stocktake": VIEWER,
    "thing": VIEWER,
    "labels:print": GROWER,
    "labels:redetermined": GROWER,
    "labels:sheet": GROWER,
    "labels:pdf": GROWER,
    "labels:right": GROWER,
    "labels:printing": GROWER,
    "labels:worn": GROWER,
    "labels:elsewhere": GROWER,
    "labels:other-words": GROWER,
    "labels:blank": GROWER,
    "labels:outlines": GROWER,
    "labels:rulers": GROWER,
    "labels:picture": GROWER,
    "labels:shown": GROWER,
    "tag-lost": GROWER,
    "walk": GROWER,
    "sowing-plan": GROWER,
    "sowing-bench": GROWER,
    "sowing-close": GROWER,
    "hands": GROWER,
    "taxon-new": GROWER,
    "held-settle": GROWER,
    "several-at-place": GROWER,
    "several-of-sowing": GROWER,
    "several-undo": GROWER,
    "several-answer": GROWER,
    "grid": GROWER,
    "grid-what": GROWER,
    "undo": GROWER,
    "correct": GROWER,
    "settle-all": GROWER,
    "settle": GROWER,
    "repair": GROWER,
    "swapped": GROWER,
    "new": GROWER,
    "act": GROWER,
    "labels:kinds": OWNER,
    "labels:stocks": OWNER,
    "labels:stock-new": OWNER,
    "labels:stock": OWNER,
    "labels:printers": OWNER,
    "labels:printer-new": OWNER,
    "labels:printer": OWNER,
    "people": OWNER,
    "person-new": OWNER,
    "person": OWNER,
    "person-code": OWNER,
    "person-leave": OWNER,
    "person-end": OWNER,
    "place-earlier": OWNER,
    "place-later": OWNER,
    "taxon": OWNER,
    "round-settings": OWNER,
    "timing-new": OWNER,
    "risks": OWNER,
    "leave-out": OWNER,
    "timing": OWNER,
    "timing-reset": OWNER,
    "house-settings": OWNER,
    "backup": OWNER,
    "export": OWNER,
    "export-everything": OWNER,
    "export-table": OWNER,
    "moving-in": OWNER,
    "import": OWNER,
    "import-columns": OWNER,
    "import-again": OWNER,
    "import-bring": OWNER,
    "import-undo": OWNER,
    "import-throw-away": OWNER,
}
"""By the name of the address, the least role that may open it; nobody who has not signed in opens any of these."""

OPEN_TO_ALL = {
    "up": "words for a watchdog",
    "sign-in": "the way in",
    "sign-out": "the way out",
    "calendar-file": "its secret is the key (tests/breeding/views/test_calendars.py)",
    "acts": "answers a phone's outbox in JSON (tests/site/outbox)",
}
"""Addresses without a guard, each with its reason."""

ADDRESS = "https://tags.example"
CAPITALS = "^[tT]/(?P<typed>[^/]+)/?$"
"""The one address without a name: that of a tag as its code spells it."""

NOT_MADE = {
    "photo": "a file of the data folder",
    "photo-small": "a file of the data folder",
    "several-undo": "an answer given for several at once",
    "stocktake": "a stocktake",
}
"""What is not made here; whoever may open it is told that there is no such thing."""


def _addresses() -> dict[str, Callable]:
    """Every view of ours, by the name of its address."""
    return dict(_walk(get_resolver().url_patterns))


def _walk(found: list[Any], space: str = "", before: str = "") -> Iterator[tuple[str, Callable]]:
    for one in found:
        here = before + str(one.pattern)
        if hasattr(one, "url_patterns"):
            yield from _walk(one.url_patterns, f"{space}{one.namespace}:" if one.namespace else space, here)
        else:
            yield (space + one.name if one.name else here), one.callback


def test_every_address_says_who_may_open_it() -> None:
    told = {name: getattr(view, "opens_for", None) for name, view in _addresses().items()}
    assert {name: least for name, least in told.items() if name not in OPEN_TO_ALL} == LEAST
    assert {name: told.get(name, "no such address") for name in OPEN_TO_ALL} == dict.fromkeys(OPEN_TO_ALL)


@pytest.fixture(scope="module")
def made(kept: Nursery) -> dict[str, str]:
    """The address of each name, with a thing where it needs one."""
    nursery = kept
    shipped.add_missing(Stock.objects)
    House.objects.update_or_create(id=1, defaults={"public_address": ADDRESS})
    house = nursery.house()
    bench, spike, session = nursery.bench(inside=house), nursery.spike(days_ago=9), nursery.sowing(days_ago=1)
    nursery.bench(inside=house)
    pot, clone, plant = nursery.pot(days_ago=60), nursery.clone(), nursery.plant()
    redetermined = nursery.record(clone_redetermined, clone=clone, taxon=nursery.taxon("truncata"), why="its flowers")
    act = nursery.record(remarked, thing=bench, words="Dry corner.")
    event = nursery.record(house_event, place=house, what="heat", days_ago=9)
    flag = Flag.objects.create(act=act, thing_id=spike.pk, code="before_sowing", sentence="This does not fit.")
    held = outbox.held(sent="pods", sentence="This is no act.", sender=person_of("grower"))
    draft, number, stock = table(nursery.by, "plants", "Species\nlowii").pk, tag_of(plant).number, Stock.objects.first()
    brought = brought_in(by=nursery.by, moving=table(nursery.by, "plants", "Species\nhamata")).pk
    printing, nothing = uuid.uuid4(), uuid.uuid4()
    printed(id=printing, by=nursery.by, numbers=[number], stock=stock, address=ADDRESS, printer=None)
    timing = Expectation.objects.filter(taxon=None).first().pk
    person, taxon = nursery.person(name="Old Hand").pk, nursery.taxon("hamata").pk
    place = {"pk": bench.pk}
    needs: dict[str, dict[str, Any]] = {
        "labels:print": {"number": number},
        "labels:redetermined": {"pk": redetermined.pk},
        "labels:printing": {"pk": printing},
        "labels:round-paper": {"day": today()},
        **{f"labels:{name}": {"pk": stock.pk} for name in ("stock", "outlines", "rulers", "picture")},
        "labels:printer": {"pk": Printer.objects.create(name="potting bench").pk},
        "labels:shown": {"pk": stock.pk, "kind": "plant"},
        "tag": {"typed": number},
        "downstream": {"pk": clone.pk},
        **{name: {"day": today()} for name in ("round-of-day", "grid", "grid-what")},
        **dict.fromkeys(("walk", "place-earlier", "place-later", "several-at-place"), place),
        **dict.fromkeys(("sowing-bench", "sowing-close"), {"pk": session.pk}),
        **dict.fromkeys(("photo", "photo-small"), {"sha256": "0" * 64}),
        **dict.fromkeys(("person", "person-code", "person-leave", "person-end"), {"pk": person}),
        "taxon": {"pk": taxon},
        "leave-out": {"pk": event.pk},
        "timing-step": {"code": "ripe"},
        **dict.fromkeys(("timing", "timing-reset"), {"pk": timing}),
        "held-settle": {"pk": held.pk},
        "export-table": {"name": "lists-people"},
        **{name: {"pk": draft} for name in LEAST if name.startswith("import")},
        "import-undo": {"pk": brought},
        "trace": {"pk": plant.pk},
        **dict.fromkeys(("stocktake", "several-undo"), {"pk": nothing}),
        "several-of-sowing": {"pk": birth_of(pot).pk},
        "several-answer": {"slug": "spikes", "act": "look"},
        **dict.fromkeys(("undo", "correct"), {"pk": act.pk}),
        "settle-all": {"pk": act.pk, "code": "before_sowing"},
        "settle": {"pk": flag.pk},
        "repair": {"pk": flag.pk, "slug": "another"},
        "swapped": {"slug": "plants", "pk": plant.pk},
        "new": {"slug": "plants"},
        "act": {"slug": "spikes", "pk": spike.pk, "act": "look"},
        "thing": {"slug": "spikes", "pk": spike.pk},
    }
    asked = {"labels:picture": f"?numbers={number}&copies=1&first_{stock.pk}=1"}
    found = {name: reverse(name, kwargs=needs.get(name)) + asked.get(name, "") for name in LEAST if name != CAPITALS}
    return found | {CAPITALS: f"/T/{number}"}


def _turned_away(answer: HttpResponse, stranger: bool) -> bool:
    """As a stranger by the way to sign in, as a member by the words that it is not theirs to do."""
    if stranger:
        return answer.status_code == 401 or answer.headers.get("Location", "").startswith("/sign-in/?next=")
    return answer.status_code == 403


@pytest.mark.parametrize("name", LEAST)
def test_it_opens_for_those_who_may_and_for_nobody_else(made: dict[str, str], stranger: Client, name: str) -> None:
    address, may = made[name], ROLES.index(LEAST[name])
    acts = Act.objects.count()
    for role in (None, *ROLES[:may]):
        client = signed_in(person_of(role)) if role else stranger
        assert _turned_away(client.get(address), role is None), f"{role} reads it"
        assert _turned_away(client.post(address, {"note": "wet thumb"}), role is None), f"{role} writes it"
    assert Act.objects.count() == acts
    for role in ROLES[may : may + 2]:
        answer = _opened(signed_in(person_of(role)), address, getattr(_addresses()[name], "posts_only", False))
        assert answer.status_code in ({404} if name in NOT_MADE else {200, 302, 422}), f"{role}: {answer.status_code}"
        assert not answer.headers.get("Location", "").startswith("/sign-in/"), role


def _opened(client: Client, address: str, posts_only: bool) -> HttpResponse:
    """The page, or what comes of a post where it takes nothing else; nothing of that is kept."""
    with undone_at_the_end():
        answer = client.get(address)
        if posts_only:
            assert client.get(answer.url).status_code == 200, "whoever comes back to it finds its form"
        if answer.status_code == 405 or posts_only:
            answer = client.post(address, {"act_id": uuid.uuid4()})
        if answer.streaming:
            b"".join(answer)  # or its file stays open
        return answer
