"""What stands there because it was made before is what making it again would give."""

from collections import Counter
from collections.abc import Callable
from datetime import timedelta
from typing import Any

import pytest
import time_machine
from django.utils import timezone

from breeding.models import Section
from nursery.models import Act, House, Person, Taxon
from tests import remembered
from tests.emptied import filled
from tests.keeping import undone_at_the_end
from tests.making import Nursery, ago, tag_of

Make = Callable[[Nursery], Any]
DAYS = 50


@pytest.fixture(autouse=True)
def nothing_known(monkeypatch: pytest.MonkeyPatch) -> None:
    """Nothing of other tests is known here, and nothing of these to others."""
    monkeypatch.setattr(remembered, "WANTED", True)
    monkeypatch.setattr(remembered, "_known", {})
    monkeypatch.setattr(remembered, "_asked", Counter())


def a_section(nursery: Nursery) -> Section:
    return nursery.section(days_ago=DAYS)


def all_that_is_there(by: Person, make: Make) -> remembered.Rows:
    """Every row after a new nursery has begun so; they are gone afterwards."""
    with undone_at_the_end():
        make(Nursery(by))
        return remembered._contents(filled())


def counted(rows: remembered.Rows) -> dict[str, Counter[tuple[Any, ...]]]:
    """The rows of each table, in no order."""
    return {table: Counter(some) for table, some in rows.items()}


def test_the_rows_are_those_that_were_made_the_last_time(owner: Person) -> None:
    first, made, put_back = (all_that_is_there(owner, a_section) for _ in range(3))
    assert counted(put_back) == counted(made)
    assert put_back.keys() == first.keys()
    assert {table: len(rows) for table, rows in put_back.items()} == {table: len(rows) for table, rows in first.items()}
    assert set(first["nursery_act"]).isdisjoint(made["nursery_act"]), "twice they were made"


def test_another_owner_did_it(owner: Person) -> None:
    for _ in range(3):
        all_that_is_there(owner, a_section)
    other = Person.objects.create_user(name="Ada Moss", role="owner")
    a_section(Nursery(other))
    assert set(Act.objects.values_list("by", flat=True)) == {other.pk}


def test_a_test_may_change_what_it_was_given(owner: Person) -> None:
    for _ in range(4):
        with undone_at_the_end():
            section = a_section(Nursery(owner))
            assert section.closed_why == ""
            section.closed_why = "changed"
            section.spike.plant.place.name = "changed"


def test_the_nursery_goes_on_where_it_was(owner: Person) -> None:
    """Words, numbers and the usual bench are those that the first call left, and tags are counted on."""
    told = []
    for _ in range(4):
        with undone_at_the_end():
            nursery = Nursery(owner)
            plant = nursery.plant()
            other = nursery.plant()
            told.append((other.clone.designation, tag_of(other).number, tag_of(plant).number))
            assert other.place == plant.place == nursery.usual_bench
            assert Act.objects.filter(kind="place_made").count() == 2
    assert len(set(told)) == 1


@pytest.mark.parametrize(
    "before",
    [
        lambda: Taxon.objects.create(genus="Nepenthes", epithet="rafflesiana"),
        lambda: House.objects.create(id=1),
        lambda: Nursery(Person.objects.get()).house(),
    ],
    ids=["a species", "settings", "a place"],
)
def test_where_anything_stands_it_is_made_anew(owner: Person, before: Callable[[], Any]) -> None:
    known = [all_that_is_there(owner, a_section) for _ in range(3)][-1]
    before()
    a_section(Nursery(owner))
    acts = {row[0] for row in known["nursery_act"]}
    assert acts.isdisjoint({row[0] for row in remembered._contents(["nursery_act"])["nursery_act"]})


def test_another_day_has_its_own(owner: Person) -> None:
    for _ in range(3):
        all_that_is_there(owner, a_section)
    with time_machine.travel(timezone.now() + timedelta(days=3)):
        assert a_section(Nursery(owner)).day0_first == ago(DAYS).first


def test_nothing_is_put_there_that_has_not_been_recorded_yet(owner: Person) -> None:
    for _ in range(3):
        all_that_is_there(owner, a_section)
    before_all_that = timezone.now() - timedelta(seconds=90)
    with time_machine.travel(before_all_that, tick=False):
        a_section(Nursery(owner))
        assert set(Act.objects.values_list("recorded_at", flat=True)) == {before_all_that}


def test_what_more_than_plain_values_asked_for_is_made_anew(owner: Person) -> None:
    for _ in range(3):
        with undone_at_the_end():
            nursery = Nursery(owner)
            nursery.plant(by=owner)
    assert not remembered._known
