"""Trays and benches go elsewhere with what stands on them; a place never stands inside itself, houses stay."""

import pytest

from nursery.models import Place
from nursery.records.errors import Refused
from nursery.records.moves import moved, place_moved
from nursery.records.places import place_made
from nursery.records.undo import undone
from tests.making import Nursery, ago, birth_of


@pytest.fixture
def tray(nursery: Nursery) -> Place:
    return nursery.made(place_made, name="Tray 1", size="tray", inside=nursery.bench("North bench"))


def _inside(place: Place) -> str:
    place.refresh_from_db()
    return place.inside.name


def test_what_stands_on_a_tray_comes_along(nursery: Nursery, tray: Place) -> None:
    plant = nursery.plant(place=tray)
    act = nursery.record(place_moved, place=tray, inside=nursery.bench("South bench"))
    plant.refresh_from_db()
    assert (_inside(tray), plant.place) == ("South bench", tray)
    assert act.links.get().thing_id == tray.inside_id
    undone(act=nursery.act(), target=act)
    assert _inside(tray) == "North bench"


def test_the_last_move_by_its_day_counts_whenever_it_was_told(nursery: Nursery, tray: Place) -> None:
    nursery.record(place_moved, place=tray, inside=nursery.bench("South bench"), days_ago=2)
    nursery.record(place_moved, place=tray, inside=nursery.bench("Rail"), days_ago=9)
    assert _inside(tray) == "South bench"


def test_a_house_stays(nursery: Nursery) -> None:
    with pytest.raises(Refused) as refusal:
        nursery.record(place_moved, place=nursery.house(), inside=nursery.house())
    assert refusal.value.sentence == "A house stays where it is. Move what is in it."


def test_a_place_cannot_stand_in_itself_or_in_what_stands_in_it(nursery: Nursery, tray: Place) -> None:
    for inside in (tray.inside, tray):
        with pytest.raises(Refused) as refusal:
            nursery.record(place_moved, place=tray.inside, inside=inside)
        assert refusal.value.sentence == "A place cannot stand inside itself. Choose another place."
    assert Place.objects.get(pk=tray.inside_id).inside.size == "house"


def test_taking_a_move_back_cannot_close_a_circle(nursery: Nursery, tray: Place) -> None:
    bench = tray.inside
    out = nursery.record(place_moved, place=tray, inside=nursery.bench("Rail"), days_ago=3)
    nursery.record(place_moved, place=bench, inside=tray, days_ago=2)
    with pytest.raises(Refused) as refusal:
        undone(act=nursery.act(), target=out)
    assert refusal.value.code == "place_in_itself"
    assert _inside(tray) == "Rail"


def test_a_move_told_late_cannot_close_a_circle(nursery: Nursery, tray: Place) -> None:
    rail = nursery.bench("Rail")
    nursery.record(place_moved, place=rail, inside=tray, days_ago=5)
    with pytest.raises(Refused):
        nursery.record(place_moved, place=tray, inside=rail, days_ago=1)
    assert _inside(tray) == "North bench"


def test_two_of_one_name_cannot_stand_on_one_bench(nursery: Nursery, tray: Place) -> None:
    south = nursery.bench("South bench")
    nursery.made(place_made, name="Tray 1", size="tray", inside=south)
    with pytest.raises(Refused) as refusal:
        nursery.record(place_moved, place=tray, inside=south)
    assert refusal.value.sentence == "There is already a Tray 1 there. Rename one of them first."
    assert refusal.value.field == "inside"


def test_a_place_in_which_another_was_put_cannot_be_undone(nursery: Nursery, tray: Place) -> None:
    rail = nursery.bench("Rail")
    nursery.record(place_moved, place=tray, inside=rail)
    with pytest.raises(Refused) as refusal:
        undone(act=nursery.act(), target=birth_of(rail))
    assert refusal.value.code == "others_depend"


def test_only_what_stands_somewhere_is_moved(nursery: Nursery) -> None:
    with pytest.raises(Refused):
        nursery.record(moved, thing=nursery.clone(), place=nursery.bench(), day=ago(1))


def test_a_bench_that_was_moved_cannot_turn_out_to_be_a_house(nursery: Nursery) -> None:
    bench = nursery.bench("South bench")
    nursery.record(place_moved, place=bench, inside=nursery.house())
    with pytest.raises(Refused) as refusal:
        nursery.record(place_made, replaces=birth_of(bench), name="South bench", size="house")
    assert refusal.value.sentence == "A house stands by itself; a bench or tray is inside something."
    assert Place.objects.get(pk=bench.pk).size == "bench"
