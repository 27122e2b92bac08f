"""The story of a thing says where it stood when, and what befell those places meanwhile."""

from collections.abc import Iterable

import pytest
from django.test import Client

from breeding.learning.odd import hot_spells
from nursery.days import Day
from nursery.links import thing_url
from nursery.models import LivingThing, Place, Plant
from nursery.records.house_log import house_event, house_event_ended
from nursery.records.moves import moved, place_moved
from nursery.records.places import place_made
from nursery.records.plants import plant_gone
from nursery.records.undo import undone
from tests.making import Nursery, ago, today


def _day(days: int) -> str:
    return ago(days).words(today())


@pytest.fixture
def tray(nursery: Nursery) -> Place:
    bench = nursery.bench("North bench", inside=nursery.house("Cool house"))
    return nursery.made(place_made, name="Tray 1", size="tray", inside=bench)


@pytest.fixture
def plant(nursery: Nursery, tray: Place) -> Plant:
    """On Tray 1 for 100 days, which went from the North bench to the Warm house's Long bench 40 days ago."""
    plant = nursery.plant(place=tray, days_ago=100)
    long = nursery.bench("Long bench", inside=nursery.house("Warm house"))
    nursery.record(place_moved, place=tray, inside=long, days_ago=40)
    return plant


def _story(client: Client, thing: LivingThing) -> list[str]:
    return [row.words for row in client.get(thing_url(thing)).context["story"]]


def _stood(client: Client, thing: LivingThing) -> list[tuple[str, str]]:
    lists: Iterable = client.get(thing_url(thing)).context["lists"]
    return [(row.text, row.sub) for one in lists if one.title == "Where it stood" for row in one.rows]


def test_a_page_says_where_it_stood_and_when(plant: Plant, as_viewer: Client):
    assert sorted(_stood(as_viewer, plant)) == [
        ("Cool house", f"{_day(100)} to {_day(40)}"),
        ("Cool house, North bench", f"{_day(100)} to {_day(40)}"),
        ("Warm house", f"since {_day(40)}"),
        ("Warm house, Long bench", f"since {_day(40)}"),
        ("Warm house, Tray 1", f"since {_day(100)}"),
    ]


def test_the_move_of_the_tray_is_in_the_story_of_what_stands_on_it(nursery: Nursery, plant: Plant, as_viewer: Client):
    assert "Tray 1, place moved: to Long bench" in _story(as_viewer, plant)
    assert not [words for words in _story(as_viewer, nursery.plant()) if "Tray 1" in words]


def test_what_befell_a_house_is_in_the_story_of_all_that_stood_there_then(
    nursery: Nursery, plant: Plant, as_viewer: Client
):
    cool, warm = Place.objects.get(name="Cool house"), Place.objects.get(name="Warm house")
    nursery.record(house_event, place=cool, what="frost", over=True, days_ago=60)
    nursery.record(house_event, place=cool, what="heat", over=True, days_ago=20)  # it had left by then
    nursery.record(house_event, place=warm, what="power", over=True, days_ago=60)  # it had not come yet
    nursery.record(house_event, place=warm, what="treatment", product="soap spray", over=True, days_ago=20)
    told = [words for words in _story(as_viewer, plant) if "house log" in words]
    assert told == [
        "Warm house, house log: treatment, soap spray, over by then",
        "Cool house, house log: frost, over by then",
    ]


def test_a_spike_stands_with_its_plant_from_its_own_first_day_on(
    nursery: Nursery, plant: Plant, as_viewer: Client
) -> None:
    for days_ago in (60, 20):
        nursery.record(house_event, place=plant.place, what="frost", over=True, days_ago=days_ago)
    spike = nursery.spike(plant, sex="female", days_ago=30)
    section = nursery.section(spike, days_ago=10)
    frosts = [len([words for words in _story(as_viewer, one) if "frost" in words]) for one in (plant, spike, section)]
    assert frosts == [2, 1, 0]
    assert [words for _, words in _stood(as_viewer, section)] == [f"since {_day(10)}"] * 3
    assert {words for _, words in _stood(as_viewer, spike)} == {f"since {_day(30)}"}
    unknown = nursery.spike(plant, day=Day.unknown())
    assert len([words for words in _story(as_viewer, unknown) if "frost" in words]) == 2


def test_what_goes_on_reaches_all_that_came_meanwhile(nursery: Nursery, as_viewer: Client):
    bench, other = nursery.bench("Rail"), nursery.bench()
    event = nursery.record(house_event, place=bench, what="heat", days_ago=9)
    early, late, left = (nursery.plant(place=place) for place in (bench, other, bench))
    nursery.record(moved, thing=late, place=bench, days_ago=5)
    nursery.record(plant_gone, plant=left, why="died", days_ago=12)
    assert [("Rail, house log: heat" in _story(as_viewer, one)) for one in (early, late, left)] == [True, True, False]
    nursery.record(house_event_ended, event=event.houseevent, days_ago=7)
    assert [("Rail, house log: heat" in _story(as_viewer, one)) for one in (early, late, left)] == [True, False, False]
    undone(act=nursery.act(), target=event)
    assert "Rail, house log: heat" not in _story(as_viewer, early)


def test_the_first_known_day_on_which_it_was_over_holds(nursery: Nursery, as_viewer: Client):
    """Two people told that the heat was over, and one of them knew the day."""
    bench = nursery.bench("Rail")
    event = nursery.record(house_event, place=bench, what="heat", days_ago=9).houseevent
    come = nursery.plant(place=nursery.bench())
    nursery.record(moved, thing=come, place=bench, days_ago=5)
    nursery.record(house_event_ended, event=event, day=Day.unknown())
    nursery.record(house_event_ended, event=event, days_ago=3)
    assert "Rail, house log: heat" in _story(as_viewer, come)
    assert [(one.first, one.last) for one in hot_spells(today())] == [(ago(9).first, ago(3).first)]


def test_where_days_are_vague_the_story_says_perhaps(nursery: Nursery, as_viewer: Client):
    bench = nursery.bench("Rail")
    plant = nursery.plant(place=bench, days_ago=10)
    nursery.record(house_event, place=bench, what="frost", day=Day.year(today().year - 1), over=True)
    old = nursery.plant(place=bench, day=Day.unknown())
    assert not [words for words in _story(as_viewer, plant) if "frost" in words]
    assert "Rail, house log: frost, over by then (perhaps while it stood there)" in _story(as_viewer, old)
    assert _stood(as_viewer, old)[0][1] == f"since a day not known, {_day(0)} at the latest"


def test_a_move_on_a_day_not_known_is_where_it_stands_now(nursery: Nursery, as_viewer: Client):
    """33 days: a span of 30 may be a whole month, and would be told as that."""
    plant = nursery.plant(place=nursery.bench("Rail", inside=nursery.house("Cool house")), days_ago=33)
    ledge = nursery.bench("Ledge", inside=nursery.house("Warm house"))
    nursery.record(moved, thing=plant, place=ledge, day=Day.unknown())
    plant.refresh_from_db()
    assert plant.place == ledge
    assert ("Warm house, Ledge", f"since some day from {_day(33)} to {_day(0)}") in _stood(as_viewer, plant)
    assert ("Cool house, Rail", f"{_day(33)} to some day from {_day(33)} to {_day(0)}") in _stood(as_viewer, plant)


def test_what_is_gone_on_a_day_not_known_stands_nowhere_now(nursery: Nursery, as_viewer: Client):
    plant = nursery.plant(place=nursery.bench("Rail", inside=nursery.house("Cool house")), days_ago=30)
    nursery.record(plant_gone, plant=plant, why="died", day=Day.unknown())
    assert [when for _, when in _stood(as_viewer, plant) if when.startswith("since")] == []


def test_a_tray_moved_on_a_day_not_known_took_its_plants_along(nursery: Nursery, tray: Place, as_viewer: Client):
    plant = nursery.plant(place=tray, days_ago=100)
    nursery.record(place_moved, place=tray, inside=nursery.bench("Long bench"), days_ago=40)
    ledge = nursery.bench("Ledge", inside=nursery.house("Warm house"))
    nursery.record(place_moved, place=tray, inside=ledge, day=Day.unknown())
    tray.refresh_from_db()
    assert tray.inside == ledge
    assert ("Warm house, Ledge", f"since some day from {_day(40)} to {_day(0)}") in _stood(as_viewer, plant)


def test_a_pot_is_told_where_it_was_sown(nursery: Nursery, as_viewer: Client):
    bench = nursery.bench("Rail", inside=nursery.house("Cool house"))
    pot = nursery.pot(place=bench, days_ago=30)
    assert ("Cool house, Rail", f"since {_day(30)}") in _stood(as_viewer, pot)
    assert _stood(as_viewer, nursery.clone()) == []
