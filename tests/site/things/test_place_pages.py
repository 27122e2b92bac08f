"""The page of a place: what stands on what is inside it, what is due there, and doubts that name their thing."""

from django.test import Client

from breeding.records.sowing import Line
from breeding.standing import Standing, standing_counts
from nursery.links import thing_url
from nursery.models import Place
from nursery.records.places import place_made
from nursery.records.plants import plant_gone
from nursery.records.stocktakes import not_found
from nursery.templatetags.tepal import plate
from tests.making import Nursery, tag_of


def _tray(nursery: Nursery, bench: Place) -> Place:
    return nursery.made(place_made, name="Tray 1", size="tray", inside=bench)


def _facts(client: Client, place: Place) -> dict[str, str]:
    return {fact.label: fact.value for fact in client.get(thing_url(place)).context["facts"]}


def test_a_house_says_what_stands_on_its_benches(nursery: Nursery, as_viewer: Client) -> None:
    house = nursery.house("Warm house")
    bench, bare = nursery.bench("North", inside=house), nursery.bench("South", inside=house)
    nursery.plant(place=bench)
    nursery.plant(place=bench)
    nursery.pot(place=_tray(nursery, bench), days_ago=60)
    facts = _facts(as_viewer, house)
    assert (facts["plants here"], facts["seed pots here"]) == ("2", "1")
    page = as_viewer.get(thing_url(house)).text
    assert "bench: 2 plants, 1 seed pot" in page and "bench: empty" in page
    assert "No plants stand here." not in page and "No seed pots stand here." not in page
    assert "No plants stand here." in as_viewer.get(thing_url(bare)).text


def test_what_is_gone_or_not_sown_yet_does_not_stand_there(nursery: Nursery) -> None:
    house = nursery.house()
    bench = nursery.bench(inside=house)
    nursery.record(plant_gone, plant=nursery.plant(place=bench), why="died")
    nursery.sowing(Line(nursery.seed(days_ago=9), 2, seeds=9), place=_tray(nursery, bench))
    assert standing_counts()[bench.pk] == standing_counts()[house.pk] == Standing(to_come=2)


def test_it_says_what_is_due_there_and_leads_to_it(nursery: Nursery, as_viewer: Client) -> None:
    house = nursery.house()
    bench, other = nursery.bench(inside=house), nursery.bench(inside=house)
    nursery.pot(place=bench, days_ago=400)
    nursery.spike(nursery.plant(place=bench), days_ago=300)
    for place in (bench, house):
        assert _facts(as_viewer, place)["due today"] == "2"
    [due, *_] = as_viewer.get(thing_url(bench)).context["lists"]
    assert [(row.text, row.sub) for row in due.rows] == [("Look at spike", "1 due"), ("Look for seedlings", "1 due")]
    address = due.rows[0].url
    assert f'id="{address.partition("#")[2]}"' in as_viewer.get(address).text
    assert _facts(as_viewer, other)["due today"] == "0"
    assert "Due here today" not in as_viewer.get(thing_url(other)).text


def test_a_doubt_about_a_thing_names_it_on_the_page_of_its_bench(nursery: Nursery, as_viewer: Client) -> None:
    bench = nursery.bench("Long bench")
    plant = nursery.plant(place=bench)
    nursery.record(not_found, thing=plant, place=bench)
    [flag] = as_viewer.get(thing_url(bench)).context["flags"]
    assert flag.sentence.startswith("Not found at the stocktake of Long bench.")
    assert (flag.about.url, flag.about.number) == (thing_url(plant), tag_of(plant).number)
    assert plate(tag_of(plant).number) in as_viewer.get(thing_url(bench)).text
    [own] = as_viewer.get(thing_url(plant)).context["flags"]
    assert own.about is None
