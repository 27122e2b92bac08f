"""Where it is hot by the log of the houses, and what that does to the round."""

from datetime import date, timedelta
from typing import Any

from breeding.records.pods import pods_looked_at, take_read
from breeding.rounds.heat import Spell, heat_by_place
from breeding.rounds.stored import settings
from breeding.rounds.tasks import tasks_for
from nursery.models import HouseEvent
from nursery.records.house_log import house_event, house_event_ended
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
        assert settings()[0].heat == {}
    [before] = [task for task in tasks_for(section, today()).tasks if task.kind == "pods"]

    nursery.record(house_event, place=house, what="frost", days_ago=3)
    heat = nursery.record(house_event, place=house, what="heat", days_ago=3)
    nursery.record(house_event, place=tray, what="heat", over=True, days_ago=9)
    going_on = Spell(_day(3), date.max)
    assert heat_by_place(today()) == {
        house.pk: (going_on,),
        bench.pk: (going_on,),
        tray.pk: (Spell(_day(9), _day(9)), going_on),
    }
    assert there.pk not in settings()[0].heat
    with django_assert_num_queries(3):
        settings()
    [hot] = [task for task in tasks_for(section, today()).tasks if task.kind == "pods"]
    assert hot.due < before.due and "a hot spell since the last look" in hot.reason

    event = HouseEvent.objects.get(pk=heat.pk)
    over = nursery.record(house_event_ended, event=event, days_ago=1)
    assert heat_by_place(today())[bench.pk] == (Spell(_day(3), _day(1)),)
    assert heat_by_place(today() + timedelta(days=90)) == {}
    nursery.record(undone, target=over)
    assert heat_by_place(today() + timedelta(days=90))[bench.pk] == (going_on,)
    nursery.record(undone, target=heat)
    assert heat_by_place(today()).keys() == {tray.pk}
