"""Where it is hot by the log of the houses, and what that does to the round."""

from datetime import date, timedelta
from typing import Any

from breeding.models import Section
from breeding.records.pods import pods_looked_at, take_read
from breeding.rounds.heat import NO_HEAT, Spell, heat_lately
from breeding.rounds.stored import settings
from breeding.rounds.tasks import tasks_for
from nursery.models import HouseEvent, Place
from nursery.records.house_log import house_event, house_event_ended
from nursery.records.moves import moved, place_moved
from nursery.records.undo import undone
from tests.making import Nursery, today


def _day(days_ago: int) -> date:
    return today() - timedelta(days=days_ago)


def test_heat_in_a_house_is_heat_on_every_bench_of_it_until_it_is_over(
    nursery: Nursery, django_assert_num_queries: Any
) -> None:
    house, cool = nursery.house(), nursery.house()
    bench = nursery.bench(inside=house)
    tray, there = nursery.bench(inside=bench), nursery.bench(inside=cool)
    section = nursery.section(nursery.spike(nursery.plant(place=tray), sex="female", days_ago=132), days_ago=131)
    nursery.record(take_read, section=section, swelling="most", days_ago=90)
    nursery.record(pods_looked_at, section=section, seen="green", days_ago=6)
    with django_assert_num_queries(1):
        assert settings()[0].heat == NO_HEAT
    [before] = [task for task in tasks_for(section, today()).tasks if task.kind == "pods"]

    nursery.record(house_event, place=house, what="frost", days_ago=3)
    heat = nursery.record(house_event, place=house, what="heat", days_ago=3)
    nursery.record(house_event, place=tray, what="heat", over=True, days_ago=9)
    going_on = Spell(_day(3), date.max)
    assert heat_lately(today()).places == {
        house.pk: (going_on,),
        bench.pk: (going_on,),
        tray.pk: (Spell(_day(9), _day(9)), going_on),
    }
    assert there.pk not in settings()[0].heat.places
    with django_assert_num_queries(4):
        settings()
    [hot] = [task for task in tasks_for(section, today()).tasks if task.kind == "pods"]
    assert hot.due < before.due and "a hot spell since the last look" in hot.reason

    event = HouseEvent.objects.get(pk=heat.pk)
    over = nursery.record(house_event_ended, event=event, days_ago=1)
    assert heat_lately(today()).places[bench.pk] == (Spell(_day(3), _day(1)),)
    assert heat_lately(today() + timedelta(days=90)) == NO_HEAT
    nursery.record(undone, target=over)
    assert heat_lately(today() + timedelta(days=90)).places[bench.pk] == (going_on,)
    nursery.record(undone, target=heat)
    assert heat_lately(today()).places.keys() == {tray.pk}


def test_pods_count_where_they_stood_while_it_was_hot(nursery: Nursery, django_assert_num_queries: Any) -> None:
    hot, cool = nursery.bench(), nursery.bench()
    went, came, stayed, there_before = (_watched(nursery, place) for place in (hot, cool, hot, cool))
    nursery.record(moved, thing=there_before.spike.plant, place=hot, days_ago=20)
    nursery.record(house_event, place=hot, what="heat", days_ago=6)
    nursery.record(moved, thing=went.spike.plant, place=cool, days_ago=3)
    event = HouseEvent.objects.get()
    nursery.record(house_event_ended, event=event, days_ago=2)
    nursery.record(moved, thing=came.spike.plant, place=hot, days_ago=1)

    assert [_asked_for_heat(section) for section in (went, came, stayed, there_before)] == [True, False, True, True]
    with django_assert_num_queries(5):
        assert settings()[0].heat.moved == {went.spike_id: (Spell(_day(6), _day(3)),), came.spike_id: ()}

    nursery.record(pods_looked_at, section=went, seen="green", days_ago=3)
    nursery.record(pods_looked_at, section=stayed, seen="green", days_ago=3)
    assert [_asked_for_heat(section) for section in (went, stayed)] == [False, True]


def test_a_tray_that_was_carried_out_of_the_heat_stood_in_it_until_then(nursery: Nursery) -> None:
    hot, cool = nursery.house(), nursery.house()
    tray = nursery.bench(inside=hot)
    section = _watched(nursery, tray)
    nursery.record(house_event, place=hot, what="heat", days_ago=6)
    nursery.record(place_moved, place=tray, inside=cool, days_ago=4)
    assert heat_lately(today()).places[tray.pk] == (Spell(_day(6), _day(4)),)
    assert _asked_for_heat(section)
    nursery.record(pods_looked_at, section=section, seen="green", days_ago=4)
    assert not _asked_for_heat(section)


def _watched(nursery: Nursery, place: Place) -> Section:
    """Green pods, last looked at before any of these spells."""
    section = nursery.section(nursery.spike(nursery.plant(place=place), sex="female", days_ago=132), days_ago=131)
    nursery.record(take_read, section=section, swelling="most", days_ago=90)
    nursery.record(pods_looked_at, section=section, seen="green", days_ago=7)
    return section


def _asked_for_heat(section: Section) -> bool:
    [look] = [task for task in tasks_for(Section.objects.get(pk=section.pk), today()).tasks if task.kind == "pods"]
    return "a hot spell since the last look" in look.reason
