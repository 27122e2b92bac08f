"""From acts to waits: only what they truly say, as it was known at a midnight."""

from datetime import datetime, timedelta
from typing import Any

import pytest
from django.utils import timezone

from breeding.learning.gather import records_until
from breeding.learning.kinds import is_formula
from breeding.learning.stamp import midnight
from breeding.learning.waits import Wait
from breeding.records.expectations import time_left_out
from breeding.records.pods import pods_looked_at, take_read
from breeding.records.pots import pot_looked_at, pot_split
from breeding.records.redetermined import clone_redetermined
from breeding.records.spikes import spike_looked
from nursery.days import Day
from nursery.models import Act, HouseEvent, Thing
from nursery.records.house_log import house_event
from nursery.records.undo import undone
from nursery.records.watching import stopped, walked_past
from tests.making import Nursery, ago, today

Found = dict[str, dict[int, Wait]]


def _found(moment: datetime | None = None) -> Found:
    """By step and thing; if no moment is given, all that is recorded by now."""
    records = records_until(moment or midnight(today() + timedelta(days=1)), today())
    return {step: {wait.thing: wait for wait in waits} for step, waits in records.waits.items()}


def _days(wait: Wait | None) -> tuple | None:
    """As days before today: start, not yet, seen."""
    if wait is None:
        return None
    return tuple(None if one is None else (today() - one).days for one in wait[1:5])


def _yesterday() -> None:
    """Let all that was recorded so far have been recorded yesterday."""
    before = timezone.now() - timedelta(days=1)
    Act.objects.update(recorded_at=before)
    Thing.objects.update(made_at=before)


def test_every_step_from_what_was_seen(nursery: Nursery) -> None:
    """One nursery with a thing for each way in which a step can be told; days are told back from today."""
    look = nursery.record
    bench = nursery.bench()
    plant = nursery.plant(place=bench)

    opened = nursery.spike(plant, days_ago=90)
    look(spike_looked, spike=opened, seen="buds", days_ago=60)
    look(spike_looked, spike=opened, seen="open", days_ago=55)
    look(spike_looked, spike=opened, seen="cant_tell", days_ago=40)
    look(walked_past, place=bench, things=[opened], days_ago=35)
    look(spike_looked, spike=opened, seen="over", days_ago=30)
    found_open = nursery.spike(plant, seen="open", days_ago=20)
    aborted = nursery.spike(plant, days_ago=80)
    look(spike_looked, spike=aborted, seen="aborted", days_ago=70)

    ripe = nursery.section(days_ago=150)
    look(take_read, section=ripe, swelling="half", days_ago=110)
    look(pods_looked_at, section=ripe, seen="green", days_ago=40)
    look(pods_looked_at, section=ripe, seen="turning", days_ago=36)
    look(pods_looked_at, section=ripe, seen="green", extent="some", days_ago=33)
    look(pods_looked_at, section=ripe, seen="opening", days_ago=30)
    empty = nursery.section(days_ago=150)
    look(take_read, section=empty, swelling="none", days_ago=100)
    given_up = nursery.section(day=Day.about_week(today() - timedelta(days=120)))
    look(take_read, section=given_up, swelling="all", days_ago=70)
    look(stopped, thing=given_up, days_ago=60)
    unread = nursery.section(days_ago=50)

    lot = nursery.seed(days_ago=100)
    up, silent, undone_look = nursery.pots(3, lot, days_ago=95, place=bench)
    look(pot_looked_at, pot=up, seen="nothing", days_ago=60)
    look(pot_looked_at, pot=up, seen="few", days_ago=50)
    look(pot_split, pot=up, pots=2, days_ago=40)
    look(pot_looked_at, pot=silent, seen="nothing", days_ago=20)
    look(pot_looked_at, pot=undone_look, seen="nothing", days_ago=30)
    wrong = look(pot_looked_at, pot=undone_look, seen="first", days_ago=10)
    look(undone, target=wrong)
    by_post = nursery.pot(nursery.seed_by_post(words="a letter", storage="room", day=Day.unknown()), days_ago=95)
    look(pot_looked_at, pot=by_post, seen="first", days_ago=15)

    found = _found()
    told = {step: {pk: _days(wait) for pk, wait in waits.items()} for step, waits in found.items()}
    assert told["spike_open"][opened.pk] == (90, 90, 60, 55)
    assert told["spike_open"][aborted.pk] == (80, 80, 70, None)
    assert found_open.pk not in told["spike_open"] | told["spike_over"]
    assert told["spike_over"] == {opened.pk: (60, 55, 35, 30)}
    assert told["ripe"][ripe.pk] == (150, 150, 36, 30)
    assert told["turning"] == {ripe.pk: (40, 36, 36, 30)}
    assert told["ripe"][given_up.pk] == (123, 117, 70, None)
    assert not {empty.pk, unread.pk} & told["ripe"].keys()
    assert told["germination"] == {
        up.pk: (95, 95, 60, 50),
        silent.pk: (95, 95, 20, None),
        undone_look.pk: (95, 95, 30, None),
    }
    assert told["germination_old"] == {by_post.pk: (95, 95, 95, 15)}
    section, mother = found["ripe"][ripe.pk], ripe.cross.seed_parent
    assert (section.taxon, section.clone, section.spike) == (mother.taxon_id, mother.pk, ripe.spike_id)
    assert section.stands == ripe.spike.plant_id


def test_what_was_recorded_today_is_learned_tomorrow(nursery: Nursery) -> None:
    section = nursery.section(days_ago=150)
    nursery.record(take_read, section=section, swelling="half", days_ago=110)
    wrong = nursery.record(pods_looked_at, section=section, seen="opening", days_ago=30)
    _yesterday()
    nursery.record(undone, target=wrong)
    nursery.record(pods_looked_at, section=section, seen="green", days_ago=5)
    born_today = nursery.section(days_ago=120)
    nursery.record(pods_looked_at, section=born_today, seen="opening", days_ago=3)
    last_midnight, next_midnight = midnight(today()), midnight(today() + timedelta(days=1))
    assert {pk: _days(wait) for pk, wait in _found(last_midnight)["ripe"].items()} == {section.pk: (150, 150, 110, 30)}
    assert _days(_found(next_midnight)["ripe"][section.pk]) == (150, 150, 5, None)
    assert _days(_found(next_midnight)["ripe"][born_today.pk]) == (120, 120, 120, 3)


def test_a_kind_is_a_species_or_a_formula_whichever_bore_the_seed(nursery: Nursery) -> None:
    lowii, hamata, veitchii = (nursery.clone(epithet) for epithet in ("lowii", "hamata", "veitchii"))
    pairs = [(lowii, hamata), (hamata, lowii), (lowii, nursery.clone("lowii")), (lowii, None)]
    mothers = [nursery.clone(seed_parent=seed, pollen_parent=father) for seed, father in pairs]
    spikes = [nursery.spike(nursery.plant(one), days_ago=60) for one in (veitchii, *mothers)]
    for spike in spikes:
        nursery.record(spike_looked, spike=spike, seen="open", days_ago=20)
    nursery.record(clone_redetermined, clone=veitchii, taxon=nursery.taxon("boschiana"), why="Its lid.")
    kinds = [_found()["spike_open"][spike.pk].taxon for spike in spikes]
    assert kinds[0] == nursery.taxon("boschiana").pk
    assert is_formula(kinds[1]) and kinds[1] == kinds[2]
    assert kinds[3:] == [nursery.taxon("lowii").pk, -1]


def test_a_time_left_out_counts_no_more_where_it_was(nursery: Nursery) -> None:
    house = nursery.house()
    here = nursery.spike(nursery.plant(place=nursery.bench(inside=house)), days_ago=90)
    elsewhere = nursery.spike(nursery.plant(), days_ago=90)
    for spike in (here, elsewhere):
        nursery.record(spike_looked, spike=spike, seen="buds", days_ago=60)
        nursery.record(spike_looked, spike=spike, seen="open", days_ago=50)
    heat = nursery.record(house_event, place=house, what="heat", over=True, day=ago(55))
    before = _found()["spike_open"]
    time_left_out(by=nursery.by, event=HouseEvent.objects.get(), left_out=True)
    later = nursery.record(house_event, place=house, what="heat", over=True, day=ago(70), replaces=heat)
    found = _found()["spike_open"]
    assert _days(before[here.pk]) == _days(found[elsewhere.pk]) == (90, 90, 60, 50)
    assert _days(found[here.pk]) == (90, 90, 71, None)  # known of the day before, since it had not come on day 60
    nursery.record(house_event, place=house, what="heat", over=True, day=ago(52), replaces=later)
    assert _days(_found()["spike_open"][here.pk]) == (90, 90, 60, None)
    time_left_out(by=nursery.by, event=HouseEvent.objects.latest("act__recorded_at"), left_out=False)
    assert _found()["spike_open"] == before


@pytest.mark.parametrize("times", [1, 6])
def test_many_things_ask_no_more_than_few(nursery: Nursery, times: int, django_assert_num_queries: Any) -> None:
    for _ in range(times):
        section = nursery.section(days_ago=150)
        nursery.record(pods_looked_at, section=section, seen="opening", days_ago=30)
    _yesterday()
    with django_assert_num_queries(14):
        _found(midnight(today() + timedelta(days=1)))
