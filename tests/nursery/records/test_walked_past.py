"""Nothing new on this bench: one look for each thing that was listed, and for nothing else."""

from datetime import timedelta

import pytest

from breeding.records.pods import pods_looked_at
from breeding.records.pots import pot_looked_at
from nursery.models import Act
from nursery.records.errors import Refused
from nursery.records.watching import postponed, walked_past
from tests.making import Nursery, ago, today


def test_it_counts_as_a_look_at_each_thing_listed_and_at_no_other(nursery: Nursery) -> None:
    bench = nursery.bench()
    plant = nursery.plant(place=bench)
    listed, beside = nursery.spike(plant, days_ago=9), nursery.spike(plant, days_ago=9)
    pot, other_pot = nursery.pots(2, place=bench, days_ago=9)
    act = nursery.record(walked_past, place=bench, things=[listed, pot])
    for one in (listed, beside, pot, other_pot):
        one.refresh_from_db()
    assert (listed.last_look, pot.last_look) == (today(), today())
    assert (beside.last_look, other_pot.last_look) == (ago(9).first, None)
    assert set(act.links.values_list("thing_id", flat=True)) == {listed.pk, pot.pk}


def test_it_counts_nothing_and_changes_no_stage(nursery: Nursery) -> None:
    pot = nursery.pot(days_ago=60)
    nursery.record(pot_looked_at, pot=pot, seen="few", counted=7, days_ago=3)
    nursery.record(walked_past, place=nursery.bench(), things=[pot])
    pot.refresh_from_db()
    assert (pot.stage, pot.counted, pot.amount, pot.first_by) == ("up", 7, "few", ago(3).first)


def test_it_says_not_yet_of_pods_that_were_awaited(nursery: Nursery) -> None:
    section = nursery.section(days_ago=100)
    nursery.record(walked_past, place=nursery.bench(), things=[section], days_ago=2)
    nursery.record(pods_looked_at, section=section, seen="opening")
    section.refresh_from_db()
    assert (section.open_after, section.open_by) == (ago(2).first, today())


def test_it_ends_a_postponement(nursery: Nursery) -> None:
    spike = nursery.spike(days_ago=9)
    nursery.record(postponed, thing=spike, until=today() + timedelta(days=7), days_ago=1)
    nursery.record(walked_past, place=nursery.bench(), things=[spike])
    spike.refresh_from_db()
    assert spike.later_until is None


def test_the_same_things_in_another_order_are_the_same_act(nursery: Nursery) -> None:
    bench, things = nursery.bench(), [nursery.spike(), nursery.spike()]
    new = nursery.act()
    act = walked_past(act=new, place=bench, things=things)
    assert walked_past(act=new, place=bench, things=things[::-1]) == act


def test_an_empty_bench_is_refused(nursery: Nursery) -> None:
    with pytest.raises(Refused) as refusal:
        nursery.record(walked_past, place=nursery.bench(), things=[])
    assert refusal.value.sentence == "Nothing was listed here, so there is nothing to record."
    assert not Act.objects.filter(kind="walked_past").exists()


@pytest.mark.parametrize(
    ("days", "sentence"),
    [
        (0, "Choose a day after today."),
        (367, "That is more than a year away. Stop watching it instead."),
    ],
)
def test_later_means_after_today_and_within_a_year(days: int, sentence: str, nursery: Nursery) -> None:
    with pytest.raises(Refused) as refusal:
        nursery.record(postponed, thing=nursery.spike(), until=today() + timedelta(days=days))
    assert (refusal.value.sentence, refusal.value.field) == (sentence, "until")
