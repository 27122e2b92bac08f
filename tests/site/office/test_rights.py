"""Every page and every write of the office and the help, by every role and by a stranger."""

import re
from collections.abc import Callable, Iterator
from typing import Any
from urllib.parse import quote

import pytest
from django.test import Client
from django.urls import get_resolver

from breeding.models import CalendarAddress, Expectation, LeftOut
from nursery.models import Act, Flag, House, Person, SignInCode, Taxon
from nursery.records import house as records
from nursery.records import outbox
from nursery.records.flags import open_flags
from nursery.records.house_log import house_event
from nursery.records.remarks import remarked
from nursery.site.models import Import
from nursery.site.moving.imports import brought_in
from tests.conftest import PASSWORD, person_of, signed_in
from tests.making import Nursery
from tests.site.moving.tables import table

EVERYBODY = {"owner": 200, "grower": 200, "viewer": 200}
RECORDERS = EVERYBODY | {"viewer": 403}
OWNERS = RECORDERS | {"grower": 403}

PAGES = {
    "/help/": EVERYBODY,
    "/office/": EVERYBODY,
    "/office/about/": EVERYBODY,
    "/office/to-sort-out/": EVERYBODY,
    "/office/journal/": EVERYBODY,
    "/office/places/": EVERYBODY,
    "/office/taxa/": EVERYBODY,
    "/office/taxa/new/": RECORDERS,
    "/office/taxa/{taxon}/": OWNERS,
    "/office/timings/": EVERYBODY,
    "/office/timings/step/{step}/": EVERYBODY,
    "/office/timings/left-out/": EVERYBODY,
    "/office/routines/": EVERYBODY,
    "/office/round/": OWNERS,
    "/office/calendar/": EVERYBODY,
    "/office/signed-in/": EVERYBODY,
    "/office/password/": EVERYBODY,
    "/office/timings/new/": OWNERS,
    "/office/timings/{timing}/": OWNERS,
    "/office/people/": OWNERS,
    "/office/people/new/": OWNERS,
    "/office/people/{person}/": OWNERS,
    "/office/people/{person}/code/": OWNERS,
    "/office/people/{person}/leave/": OWNERS,
    "/office/house/": OWNERS,
    "/office/backup/": OWNERS,
    "/office/export/": OWNERS,
    "/office/moving-in/": OWNERS,
    "/office/moving-in/{draft}/": OWNERS,
    "/office/moving-in/{brought}/": OWNERS,
}

ELSEWHERE = ("/office/export/everything.zip", "/office/export/{name}.csv", "/office/calendar/end/")
"""Who may have these is tried in tests/site/export and tests/breeding/views/test_calendars.py."""

TIMING = {
    "low": 30,
    "high": 60,
    "grace_plain": 3,
    "grace_bagged": 4,
    "risk": "0.01",
    "longest_gap": 9,
    "source": "Our own log.",
    "strength": "own",
}
RISKS = {"pods": "0.005", "spikes": "0.1", "pots": "0.05"}
TAXON = {"epithet": "glabrata", "genus": "Nepenthes", "rank": "species", "cites": "II"}
PERSON = {"name": "Eve Sedge", "role": "viewer"}


def _signed_out() -> list[int]:
    return list(Person.objects.order_by("pk").values_list("signed_out_times", flat=True))


WRITES: dict[str, tuple[dict, dict, Callable[[], object]]] = {
    "/office/taxa/new/": (RECORDERS, TAXON, Taxon.objects.count),
    "/office/calendar/": (EVERYBODY, {"words": "wall calendar"}, CalendarAddress.objects.count),
    "/office/taxa/{taxon}/": (OWNERS, TAXON, lambda: list(Taxon.objects.values_list("epithet"))),
    "/office/timings/new/": (
        OWNERS,
        TIMING | {"step": "ripe", "taxon": "{taxon}"},
        Expectation.objects.count,
    ),
    "/office/timings/{timing}/": (OWNERS, TIMING, lambda: list(Expectation.objects.values_list("low", "source"))),
    "/office/timings/{timing}/reset/": (OWNERS, {}, lambda: list(Expectation.objects.values_list("low", "source"))),
    "/office/people/new/": (OWNERS, PERSON, Person.objects.count),
    "/office/people/{person}/": (OWNERS, PERSON, lambda: set(Person.objects.values_list("name", "role"))),
    "/office/people/{person}/code/": (OWNERS, {}, SignInCode.objects.count),
    "/office/people/{person}/leave/": (OWNERS, {}, lambda: Person.objects.filter(is_active=True).count()),
    "/office/places/{place}/earlier/": (OWNERS, {}, Act.objects.count),
    "/office/places/{other}/later/": (OWNERS, {}, Act.objects.count),
    "/office/house/": (
        OWNERS,
        {"name": "Drizzle Lane", "public_address": "https://tags.example"},
        lambda: list(House.objects.values_list("name", "public_address")),
    ),
    "/office/to-sort-out/{held}/looked-at/": (RECORDERS, {}, lambda: outbox.waiting().count()),
    "/office/moving-in/": (OWNERS, {"kind": "seed", "table": "Cross\nlowii x hamata"}, Import.objects.count),
    "/office/moving-in/{draft}/columns/": (
        OWNERS,
        {"column_0": "species"},
        lambda: [len(one.preview) for one in Import.objects.all()],
    ),
    "/office/moving-in/{draft}/again/": (
        OWNERS,
        {"again": "yes"},
        Import.objects.filter(again=True).count,
    ),
    "/office/moving-in/{draft}/bring/": (OWNERS, {}, Act.objects.count),
    "/office/moving-in/{draft}/throw-away/": (OWNERS, {}, Import.objects.count),
    "/office/moving-in/{brought}/undo/": (OWNERS, {}, Act.objects.count),
    "/office/round/": (
        OWNERS,
        {"minutes_a_day": 30, "looks_on": "1", "kinds": "pods"},
        lambda: list(House.objects.values_list("minutes_a_day", "tasks_off")),
    ),
    "/office/signed-in/end/": (EVERYBODY, {}, _signed_out),
    "/office/password/": (
        EVERYBODY,
        {"password_now": PASSWORD, "password": "green pod, brown pod"},
        lambda: list(Person.objects.order_by("pk").values_list("password", flat=True)),
    ),
    "/office/people/{person}/sign-out/": (OWNERS, {}, _signed_out),
    "/office/timings/left-out/{event}/": (OWNERS, {"out": "yes"}, LeftOut.objects.count),
    "/office/timings/risk/": (OWNERS, RISKS, lambda: list(Expectation.objects.values_list("risk", flat=True))),
    "/flags/{flag}/settle/": (RECORDERS, {}, lambda: open_flags().count()),
}


@pytest.fixture(scope="module")
def ids(kept: Nursery) -> dict[str, Any]:
    """One of everything that the addresses name: a flag, two benches of one house, a changed timing, ..."""
    nursery, grower = kept, person_of("grower")
    records.house()
    house = nursery.house()
    first, second = nursery.bench(inside=house), nursery.bench(inside=house)
    spike = nursery.spike(sex="male", days_ago=9)
    act = nursery.record(remarked, thing=first, words="Dry corner.")
    Expectation.objects.filter(step="take").update(low=12)
    return {
        "event": nursery.record(house_event, place=house, what="heat", days_ago=9).pk,
        "held": outbox.held(sent="pods", sentence="This is no act.", sender=grower).pk,
        "taxon": nursery.taxon("hamata").pk,
        "step": "ripe",
        "timing": Expectation.objects.get(step="take").pk,
        "person": nursery.person(name="Old Hand").pk,
        "place": second.pk,
        "other": first.pk,
        "draft": table(nursery.by, "plants", "Species\nlowii").pk,
        "brought": brought_in(by=nursery.by, moving=table(nursery.by, "plants", "Species\nhamata")).pk,
        "flag": Flag.objects.create(act=act, thing_id=spike.pk, code="odd", sentence="This does not fit.").pk,
    }


@pytest.fixture
def people(owner: Person, grower: Person, viewer: Person) -> dict[str, Person]:
    return {"owner": owner, "grower": grower, "viewer": viewer}


@pytest.mark.parametrize("role", ["owner", "grower", "viewer"])
@pytest.mark.parametrize("address", PAGES)
def test_page_by_role(ids: dict, people: dict, address: str, role: str) -> None:
    answer = signed_in(people[role]).get(address.format(**ids))
    assert answer.status_code == PAGES[address][role]
    if answer.status_code == 200:
        assert answer.context["section"] == "office"
    assert ("This is not yours to do" in answer.content.decode()) is (answer.status_code == 403)


@pytest.mark.parametrize("address", PAGES)
def test_page_for_a_stranger_is_the_way_to_sign_in(ids: dict, stranger: Client, address: str) -> None:
    address = address.format(**ids)
    answer = stranger.get(address)
    assert (answer.status_code, answer["Location"]) == (302, f"/sign-in/?next={quote(address, safe='')}")


@pytest.mark.parametrize("role", ["owner", "grower", "viewer"])
@pytest.mark.parametrize("address", WRITES)
def test_write_by_role(ids: dict, people: dict, address: str, role: str) -> None:
    allowed, sent, state = WRITES[address]
    before = state()
    answer = signed_in(people[role]).post(address.format(**ids), _filled(sent, ids))
    if allowed[role] == 200:
        assert answer.status_code in (200, 302)
        assert state() != before
    else:
        assert answer.status_code == 403
        assert state() == before


@pytest.mark.parametrize("address", WRITES)
def test_write_by_a_stranger_is_held_and_not_done(ids: dict, stranger: Client, address: str) -> None:
    _, sent, state = WRITES[address]
    before = state()
    answer = stranger.post(address.format(**ids), _filled(sent, ids))
    assert answer.status_code == 401
    assert state() == before


@pytest.mark.parametrize("address", [one for one in (*PAGES, *WRITES) if "{" in one])
def test_what_does_not_exist_is_not_found(ids: dict, as_owner: Client, address: str) -> None:
    missing = address.format(**dict.fromkeys(ids, 999_999))
    answer = as_owner.get(missing) if address in PAGES else as_owner.post(missing)
    assert answer.status_code == 404
    assert "Nothing stands here" in answer.content.decode()


@pytest.mark.parametrize("address", [one for one in WRITES if one not in PAGES])
def test_writes_take_a_post(ids: dict, as_owner: Client, address: str) -> None:
    """Where the answer to one can be a page, whoever comes back to it is led on."""
    before = WRITES[address][2]()
    led_on = address.endswith(("/risk/", "/columns/", "/undo/"))
    assert as_owner.get(address.format(**ids)).status_code == (302 if led_on else 405)
    assert WRITES[address][2]() == before


@pytest.mark.parametrize("address", WRITES)
def test_a_key_that_does_not_fit_writes_nothing(ids: dict, owner: Person, address: str) -> None:
    client = Client(enforce_csrf_checks=True)
    client.force_login(owner, backend="django.contrib.auth.backends.ModelBackend")
    _, sent, state = WRITES[address]
    before = state()
    answer = client.post(address.format(**ids), _filled(sent, ids))
    assert answer.status_code == 403
    assert "Please send it again" in answer.content.decode()
    assert state() == before


def _filled(sent: dict, ids: dict) -> dict:
    return {name: value.format(**ids) if isinstance(value, str) else value for name, value in sent.items()}


def test_every_office_address_stands_in_these_tables() -> None:
    office = {one for one in _addresses(get_resolver().url_patterns) if one.startswith("office/")}
    assert {_shape(one) for one in office} <= {_shape(one) for one in (*PAGES, *WRITES, *ELSEWHERE)}


def _addresses(patterns: list, before: str = "") -> Iterator[str]:
    for one in patterns:
        here = before + str(one.pattern)
        yield from _addresses(one.url_patterns, here) if hasattr(one, "url_patterns") else [here]


def _shape(address: str) -> str:
    return re.sub(r"[<{][^>}]*[>}]", "*", address).strip("/")
