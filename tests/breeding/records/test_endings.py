"""What ended on a day that nobody knows has ended; only what was surely later says that it goes on."""

import pytest

from breeding.records.pods import harvested, pods_looked_at
from breeding.records.pollen import pollen_finished, pollen_stored
from breeding.records.seed import seed_cleaned
from breeding.records.spikes import spike_looked
from breeding.rounds.tasks import round_for, tasks_for
from nursery.days import Day
from nursery.models import LivingThing
from nursery.records.moves import moved
from nursery.records.places import place_renamed
from nursery.records.undo import undone
from tests.making import Nursery, today

pytestmark = pytest.mark.django_db
UNKNOWN = Day.unknown()


def _on_the_round(thing: LivingThing) -> bool:
    return any(task.thing_id == thing.pk for task in round_for(today(), minutes=10_000).today)


def test_a_section_cut_on_an_unknown_day_is_harvested_and_off_the_round(nursery: Nursery) -> None:
    section = nursery.section(days_ago=150)
    assert _on_the_round(section)
    act = nursery.record(harvested, section=section, day=UNKNOWN)
    section.refresh_from_db()
    assert (section.stage, section.closed_on, section.closed_why) == ("harvested", today(), "harvested")
    assert not _on_the_round(section)
    assert tasks_for(section, today()).why_not == "All of it was harvested, day not known."
    undone(act=nursery.act(), target=act)
    section.refresh_from_db()
    assert (section.stage, section.closed_on) == ("pollinated", None)


def test_a_section_cut_about_now_is_harvested_though_pods_opened_yesterday(nursery: Nursery) -> None:
    section = nursery.section(days_ago=150)
    nursery.record(pods_looked_at, section=section, seen="opening", days_ago=1)
    nursery.record(harvested, section=section, day=Day.about_week(today()))
    section.refresh_from_db()
    assert (section.stage, section.closed_on) == ("harvested", today())


def test_pods_surely_seen_after_the_cut_say_that_it_goes_on(nursery: Nursery) -> None:
    section = nursery.section(days_ago=150)
    nursery.record(harvested, section=section, day=Day.about_week(nursery.act(days_ago=9).day.first))
    nursery.record(pods_looked_at, section=section, seen="opening", days_ago=1)
    section.refresh_from_db()
    assert (section.stage, section.closed_on) == ("opening", None)


def test_a_spike_that_aborted_on_an_unknown_day_is_asked_for_no_more(nursery: Nursery) -> None:
    spike = nursery.spike(seen="buds", days_ago=20)
    nursery.record(spike_looked, spike=spike, seen="aborted", day=UNKNOWN)
    spike.refresh_from_db()
    assert (spike.stage, spike.closed_why, _on_the_round(spike)) == ("aborted", "aborted", False)


def test_what_was_moved_measured_or_named_on_an_unknown_day_is_so_now(nursery: Nursery) -> None:
    pollen, lot = nursery.pollen(storage="bench", days_ago=3), nursery.seed(days_ago=9)
    nursery.record(pollen_stored, lot=pollen, storage="freezer", day=UNKNOWN)
    nursery.record(seed_cleaned, lot=lot, seeds=90, estimate_from="guessed", days_ago=5)
    nursery.record(seed_cleaned, lot=lot, seeds=70, estimate_from="counted", day=UNKNOWN)
    plant, place = nursery.plant(days_ago=30), nursery.bench("Ledge")
    nursery.record(moved, thing=plant, place=place, day=UNKNOWN)
    nursery.record(place_renamed, place=place, name="Long ledge", order=1, day=UNKNOWN)
    for thing in (pollen, lot, plant, place):
        thing.refresh_from_db()
    assert (pollen.storage, lot.estimate, lot.estimate_from) == ("freezer", 70, "counted")
    assert (plant.place, place.name) == (place, "Long ledge")


def test_pollen_finished_on_an_unknown_day_is_finished(nursery: Nursery) -> None:
    pollen = nursery.pollen(days_ago=3)
    nursery.record(pollen_finished, lot=pollen, day=UNKNOWN)
    nursery.record(pollen_stored, lot=pollen, storage="freezer", days_ago=1)
    pollen.refresh_from_db()
    assert (pollen.closed_on, pollen.closed_why) == (today(), "finished")
