"""Lists: what stands in them for whom, open first, in pages, with the first step where they are empty."""

from datetime import timedelta

import pytest
from django.db import connection
from django.test import Client
from django.test.utils import CaptureQueriesContext

from breeding.records import pods, pollen, pots, seed, spikes
from breeding.words.ages import day_words
from nursery.links import thing_url
from nursery.models import LivingThing
from nursery.records.plants import plant_gone
from nursery.records.undo import undone
from nursery.records.watching import stopped
from nursery.site.lists import LISTS
from nursery.site.views.lists import A_PAGE
from tests.making import Nursery, birth_of, today
from tests.site.things.samples import KINDS

SLUGS = [one.slug for one in LISTS]
ROLES = ["as_owner", "as_grower", "as_viewer"]


@pytest.fixture(scope="module")
def things(kept: Nursery) -> dict[str, LivingThing]:
    """One of every kind, by its slug."""
    return {slug: make(kept) for slug, make in KINDS.items()}


def _urls(client: Client, address: str) -> list[str]:
    return [row.url for row in client.get(address).context["rows"]]


@pytest.mark.parametrize("slug", SLUGS)
@pytest.mark.parametrize("role", ROLES)
def test_everybody_with_a_name_reads_every_list(things: dict, request, slug: str, role: str):
    thing = things[slug]
    client: Client = request.getfixturevalue(role)
    assert thing_url(thing) in _urls(client, f"/{slug}/")


@pytest.mark.parametrize("slug", SLUGS)
def test_a_stranger_is_sent_to_sign_in(stranger: Client, slug: str):
    response = stranger.get(f"/{slug}/?page=2")
    assert response.status_code == 302 and response.url == f"/sign-in/?next=%2F{slug}%2F%3Fpage%3D2"


@pytest.mark.parametrize("slug", SLUGS)
def test_an_empty_list_says_what_will_be_here_with_one_filled_button_at_most(as_grower: Client, slug: str):
    html = as_grower.get(f"/{slug}/").text
    assert "stand here" in html or "One line for each" in html
    assert html.count("button--fill") == 1


@pytest.mark.parametrize("slug", SLUGS)
def test_only_those_who_record_are_offered_to_add(as_grower: Client, as_viewer: Client, slug: str):
    assert "/new/" not in as_viewer.get(f"/{slug}/").text
    adds = [one for one in LISTS if one.slug == slug and one.add]
    assert (f'href="/{slug}/new/"' in as_grower.get(f"/{slug}/").text) == bool(adds)


def test_the_tabs_belong_together(as_grower: Client):
    tabs = {one: [tab["label"] for tab in as_grower.get(f"/{one}/").context["tabs"]] for one in SLUGS}
    assert tabs["plants"] == tabs["clones"] == tabs["spikes"] == ["Plants", "Clones", "Spikes"]
    assert tabs["crosses"] == tabs["sections"] == tabs["pollen"] == ["Pipeline", "Crosses", "Sections", "Pollen"]
    assert tabs["seed"] == tabs["pots"] == tabs["sowings"] == ["Seed", "Seed pots", "Sowings", "By post"]


def _ended(nursery: Nursery, thing: LivingThing) -> None:
    ends = {
        "plant": lambda: nursery.record(plant_gone, plant=thing, why="sold"),
        "spike": lambda: nursery.record(spikes.spike_looked, spike=thing, seen="aborted"),
        "section": lambda: nursery.record(pods.harvested, section=thing),
        "pollenlot": lambda: nursery.record(pollen.pollen_finished, lot=thing),
        "seedlot": lambda: nursery.record(seed.seed_finished, lot=thing),
        "seedpot": lambda: nursery.record(stopped, thing=thing),
    }
    ends[thing.kind]()


@pytest.mark.parametrize("slug", ["plants", "spikes", "sections", "pollen", "seed", "pots"])
def test_what_is_over_stands_behind_and_only_among_all(nursery: Nursery, as_grower: Client, slug: str):
    over = KINDS[slug](nursery)
    _ended(nursery, over)
    still = KINDS[slug](nursery)
    assert thing_url(over) not in _urls(as_grower, f"/{slug}/")
    everything = _urls(as_grower, f"/{slug}/?show=all")
    assert everything.index(thing_url(still)) < everything.index(thing_url(over))


@pytest.mark.parametrize("slug", SLUGS)
def test_what_was_undone_stands_in_no_list(nursery: Nursery, as_grower: Client, slug: str):
    thing = {"crosses": lambda: nursery.cross()}.get(slug, lambda: KINDS[slug](nursery))()
    undone(act=nursery.act(), target=birth_of(thing))
    for address in (f"/{slug}/", f"/{slug}/?show=all"):
        assert thing_url(thing) not in _urls(as_grower, address)


def test_a_list_shows_fifty_to_a_page_and_keeps_its_filter(nursery: Nursery, as_grower: Client):
    nursery.pots(A_PAGE + 3)
    first = as_grower.get("/pots/?show=all")
    assert len(first.context["rows"]) == A_PAGE and 'href="?show=all&amp;page=2"' in first.text
    assert "1 to 50 of 53" in first.text
    assert len(as_grower.get("/pots/?show=all&page=2").context["rows"]) == 3


@pytest.mark.parametrize("page", ["0", "-1", "999", "x", "", "🌱", "9" * 40])
def test_a_page_that_is_not_there_gives_the_nearest(nursery: Nursery, as_grower: Client, page: str):
    nursery.plant()
    response = as_grower.get("/plants/", {"page": page})
    assert response.status_code == 200 and len(response.context["rows"]) == 1


def test_old_pollen_stands_first(nursery: Nursery, as_grower: Client):
    """The lot that keeps least long from now on is the one to use first."""
    fresh, old = nursery.pollen(days_ago=1), nursery.pollen(days_ago=9)
    assert _urls(as_grower, "/pollen/") == [thing_url(old), thing_url(fresh)]


def test_crosses_stand_by_what_was_last_told_of_them_those_under_way_first(nursery: Nursery, as_grower: Client):
    """An old one pollinated again today, one looked at yesterday, one that ended today, and a mere wish."""
    mothers = [nursery.clone(word=f"no {turn}") for turn in range(4)]
    lot = nursery.pollen(days_ago=300)
    old, looked, ended = (
        nursery.section(nursery.female(one, days_ago=290), lot=lot, days_ago=280) for one in mothers[:3]
    )
    nursery.record(stopped, thing=old, days_ago=200)
    nursery.record(pods.pods_looked_at, section=looked, seen="green", days_ago=1)
    nursery.record(stopped, thing=ended)
    wish = nursery.cross(mothers[3])
    nursery.section(nursery.female(mothers[0]), lot=lot)
    rows = as_grower.get("/crosses/").context["rows"]
    assert [row.url for row in rows] == [thing_url(one) for one in (old.cross, looked.cross, ended.cross, wish)]
    told = [{cell.label: cell.text for cell in row.cells} for row in rows]
    assert [one["Last told of"] for one in told] == [
        *(day_words(today() - timedelta(days), today()) for days in (0, 1, 0)),
        "",
    ]
    assert [one["Sections"] for one in told] == ["2 (1 under way)", "1 (1 under way)", "1", "0"]


def test_a_watched_pot_keeps_its_cross_among_those_under_way(nursery: Nursery, as_grower: Client):
    """Though the other was told of later."""
    pot = nursery.pot(days_ago=90)
    other = nursery.section(nursery.female(nursery.clone(word="no 2"), days_ago=60), days_ago=60)
    nursery.record(stopped, thing=other)
    assert _urls(as_grower, "/crosses/") == [thing_url(pot.lot.cross), thing_url(other.cross)]


def test_rows_tell_what_a_grower_looks_for(nursery: Nursery, as_grower: Client):
    bench = nursery.bench("Long bench", inside=nursery.house("Warm house"))
    nursery.plant(nursery.clone("lowii", "anvil"), place=bench, pot="13 cm")
    [row] = as_grower.get("/plants/").context["rows"]
    assert [cell.text for cell in row.cells][2:4] == ["Warm house, Long bench", "13 cm"]
    assert "".join(part.text for part in row.cells[0].name_parts) == "lowii anvil"
    assert row.cells[1].number is not None


def test_a_pot_tells_its_age_and_its_count(nursery: Nursery, as_grower: Client):
    nursery.record(pots.pot_looked_at, pot=nursery.pot(days_ago=54), seen="few", counted=7)
    [row] = as_grower.get("/pots/").context["rows"]
    assert [cell.text for cell in row.cells][3:] == ["54", "7", "germinating, a few seedlings"]


@pytest.mark.parametrize("slug", SLUGS)
def test_a_list_asks_as_often_for_many_as_for_few(nursery: Nursery, as_grower: Client, slug: str):
    KINDS[slug](nursery)
    as_grower.get(f"/{slug}/")
    few = _queries(as_grower, f"/{slug}/")
    for _ in range(4):
        KINDS[slug](nursery)
    assert _queries(as_grower, f"/{slug}/") == few <= 7


def _queries(client: Client, address: str) -> int:
    with CaptureQueriesContext(connection) as asked:
        assert client.get(address).status_code == 200
    return len(asked)


@pytest.mark.parametrize("role", ROLES)
def test_the_phone_finds_the_rest_under_more(request, role: str):
    html = request.getfixturevalue(role).get("/more/").text
    for address in ("/tag/", "/labels/", "/office/", "/help/"):
        assert f'href="{address}"' in html


def test_what_grew_on_a_plant_that_is_gone_is_under_way_no_more(nursery: Nursery, as_viewer: Client) -> None:
    section = nursery.section()
    nursery.record(plant_gone, plant=section.spike.plant, why="died")
    for slug, counts in (("sections", [0, 1]), ("spikes", [1, 2])):  # the spike of its pollen is on another plant
        assert [len(as_viewer.get(f"/{slug}/{all_}").context["rows"]) for all_ in ("", "?show=all")] == counts
