"""Houses, benches and trays: a name once in each place, renamed by owners."""

import pytest

from nursery.models import Person, Place
from nursery.records.errors import Refused
from nursery.records.moves import moved
from nursery.records.places import place_made, place_renamed, room_told
from nursery.records.undo import undone
from tests.making import Nursery, birth_of

NAME_TAKEN = "There is already a place of this name here."


def test_a_bench_stands_in_its_house(nursery: Nursery) -> None:
    house = nursery.house("East")
    bench = nursery.bench("  North ", inside=house, order=2)
    assert (bench.name, bench.inside, bench.order, bench.size) == ("North", house, 2, "bench")


def test_two_benches_of_one_house_differ_in_name(nursery: Nursery) -> None:
    bench = nursery.bench("North")
    with pytest.raises(Refused) as refusal:
        nursery.bench("North", inside=bench.inside)
    assert refusal.value.sentence == NAME_TAKEN
    assert nursery.bench("North", inside=nursery.house()).name == "North"


def test_two_houses_differ_in_name(nursery: Nursery) -> None:
    nursery.house("East")
    with pytest.raises(Refused) as refusal:
        nursery.house("East")
    assert refusal.value.sentence == "There is already a house of this name."


def test_the_name_of_a_place_that_was_undone_is_free(nursery: Nursery) -> None:
    house = nursery.house("East")
    undone(act=nursery.act(), target=birth_of(house))
    assert nursery.house("East") != house


@pytest.mark.parametrize("size", ["house", "bench"])
def test_a_house_stands_alone_and_a_bench_inside(size: str, nursery: Nursery) -> None:
    inside = nursery.house("East") if size == "house" else None
    with pytest.raises(Refused) as refusal:
        nursery.record(place_made, name="West", size=size, inside=inside)
    assert refusal.value.sentence == "A house stands by itself; a bench or tray is inside something."


def test_renaming_changes_name_and_turn(nursery: Nursery) -> None:
    bench = nursery.bench("North")
    nursery.record(place_renamed, place=bench, name=" Ledge", order=7)
    bench.refresh_from_db()
    assert (bench.name, bench.order) == ("Ledge", 7)


def test_renaming_to_a_name_that_is_taken_is_refused(nursery: Nursery) -> None:
    north = nursery.bench("North")
    south = nursery.bench("South", inside=north.inside)
    with pytest.raises(Refused) as refusal:
        nursery.record(place_renamed, place=south, name="North", order=0)
    assert (refusal.value.sentence, refusal.value.field) == (NAME_TAKEN, "name")


def test_a_grower_cannot_rename(nursery: Nursery, grower: Person) -> None:
    with pytest.raises(Refused) as refusal:
        nursery.record(place_renamed, place=nursery.bench(), name="Ledge", order=0, by=grower)
    assert refusal.value.sentence == "Only an owner may do this."


def test_a_renaming_undone_gives_the_old_name_back(nursery: Nursery) -> None:
    bench = nursery.bench("North")
    undone(act=nursery.act(), target=nursery.record(place_renamed, place=bench, name="Ledge", order=7))
    bench.refresh_from_db()
    assert (bench.name, bench.order) == ("North", 0)


def test_a_renaming_cannot_be_undone_once_the_old_name_is_taken(nursery: Nursery) -> None:
    bench = nursery.bench("North")
    act = nursery.record(place_renamed, place=bench, name="Ledge", order=7)
    nursery.bench("North", inside=bench.inside)
    with pytest.raises(Refused) as refusal:
        undone(act=nursery.act(), target=act)
    assert refusal.value.sentence == "Something else has that name by now. Give that another name first."
    assert Place.objects.get(pk=bench.pk).name == "Ledge"


def test_only_what_stands_somewhere_can_be_moved(nursery: Nursery) -> None:
    with pytest.raises(Refused) as refusal:
        nursery.record(moved, thing=nursery.spike(), place=nursery.bench())
    assert refusal.value.sentence == "Only plants and pots stand somewhere and can be moved."


def test_a_plant_stands_where_it_was_moved_last(nursery: Nursery) -> None:
    plant, first, second = nursery.plant(), nursery.bench(), nursery.bench()
    nursery.record(moved, thing=plant, place=second, days_ago=1)
    nursery.record(moved, thing=plant, place=first, days_ago=3)
    plant.refresh_from_db()
    assert plant.place == second


def test_what_a_place_takes_is_what_was_told_last_and_goes_when_undone(nursery: Nursery) -> None:
    bench = nursery.bench("North")
    nursery.record(room_told, place=bench, pots=60, days_ago=9)
    last = nursery.record(room_told, place=bench, pots=48)
    bench.refresh_from_db()
    assert bench.room == 48
    undone(act=nursery.act(), target=last)
    bench.refresh_from_db()
    assert bench.room == 60
    nursery.record(room_told, place=bench, pots=None)
    bench.refresh_from_db()
    assert bench.room is None
