"""A bench is named by thousands of acts over the years; one more must not read them all."""

import pytest

from nursery.models import LivingThing, Place
from nursery.records import milestones
from nursery.records.moves import moved
from nursery.records.places import place_renamed
from nursery.records.undo import undone
from tests.making import Nursery


@pytest.fixture
def read(monkeypatch: pytest.MonkeyPatch) -> list[LivingThing]:
    """Of what the acts are read, from here on."""
    read: list[LivingThing] = []
    plain = milestones.seen_of

    def seen_of(things):
        things = list(things)
        read.extend(things)
        return plain(things)

    monkeypatch.setattr(milestones, "seen_of", seen_of)
    return read


@pytest.fixture
def bench(nursery: Nursery) -> Place:
    return nursery.bench()


def test_what_comes_to_a_bench_or_leaves_it_does_not_read_the_acts_of_the_bench(nursery, bench, read):
    other = nursery.bench()
    read.clear()
    plant = nursery.plant(place=bench)
    act = nursery.record(moved, thing=plant, place=other)
    nursery.record(moved, thing=plant, place=bench, replaces=act)
    nursery.record(undone, target=act.replaced_by)
    assert plant in read
    assert [thing for thing in read if isinstance(thing, Place)] == []


def test_what_is_told_of_the_bench_itself_does(nursery, bench, read):
    read.clear()
    nursery.record(place_renamed, place=bench, name="Long bench", order=2)
    bench.refresh_from_db()
    assert (bench.name, read) == ("Long bench", [bench])
