"""What ended some time in March, or on a day that nobody knows, is not said to have ended on a day."""

from collections.abc import Callable
from datetime import UTC, date, datetime
from importlib import import_module

import pytest
import time_machine
from django.apps import apps

from breeding.records.pods import harvested, pods_looked_at
from breeding.records.pollen import pollen_finished
from breeding.records.posted import pollen_sent, seed_sent
from breeding.records.pots import sown
from breeding.records.seed import seed_finished
from breeding.records.sowing import pot_cleared, pot_sown
from breeding.records.spikes import spike_looked
from breeding.rounds.why_not import why_not
from breeding.words import facts
from breeding.words.stages import stage_words
from nursery.days import Day
from nursery.models import LivingThing
from nursery.records import milestones, registry
from nursery.records.plants import plant_gone
from nursery.records.undo import undone
from nursery.records.watching import stopped
from tests.making import Nursery, today

pytestmark = pytest.mark.django_db

TODAY = date(2026, 5, 20)
DAYS = {
    Day.on(date(2026, 3, 3)): ("3 Mar", ", since Tue 3 Mar."),
    Day.about_week(date(2026, 3, 3)): ("about 3 Mar", ", since about 3 Mar."),
    Day.month(2026, 3): ("in March 2026", ", since March 2026."),
    Day.season(date(2026, 3, 3)): ("Mar–May 2026", ", since Mar–May 2026."),
    Day.year(2026): ("in 2026", ", since 2026."),
    Day.unknown(): ("day not known", ", day not known."),
}
Ended = Callable[[Nursery, Day], LivingThing]


def _plant(nursery: Nursery, day: Day) -> LivingThing:
    plant = nursery.plant(days_ago=300)
    nursery.record(plant_gone, plant=plant, why="died", day=day)
    return plant


def _spike(nursery: Nursery, day: Day) -> LivingThing:
    spike = nursery.spike(seen="open", days_ago=300)
    nursery.record(spike_looked, spike=spike, seen="over", day=day)
    return spike


def _cut(nursery: Nursery, day: Day) -> LivingThing:
    section = nursery.section(days_ago=300)
    nursery.record(harvested, section=section, day=day)
    return section


def _lost(nursery: Nursery, day: Day) -> LivingThing:
    section = nursery.section(days_ago=300)
    nursery.record(pods_looked_at, section=section, seen="split", pods_left=0, day=day)
    return section


def _pollen(nursery: Nursery, day: Day) -> LivingThing:
    lot = nursery.pollen(days_ago=300)
    nursery.record(pollen_finished, lot=lot, day=day)
    return lot


def _pollen_sent(nursery: Nursery, day: Day) -> LivingThing:
    lot = nursery.pollen(days_ago=300)
    nursery.record(pollen_sent, lot=lot, to_whom="a friend", extent="all", day=day)
    return lot


def _seed(nursery: Nursery, day: Day) -> LivingThing:
    lot = nursery.seed_by_post(words="by post", days_ago=300)
    nursery.record(seed_finished, lot=lot, day=day)
    return lot


def _seed_sent(nursery: Nursery, day: Day) -> LivingThing:
    lot = nursery.seed_by_post(words="by post", days_ago=300)
    nursery.record(seed_sent, lot=lot, to_whom="a friend", extent="all", day=day)
    return lot


def _seed_sown(nursery: Nursery, day: Day) -> LivingThing:
    lot = nursery.seed_by_post(words="by post", days_ago=300)
    nursery.record(sown, lot=lot, place=nursery.usual_bench, all_of_it=True, day=day)
    return lot


def _cleared(nursery: Nursery, day: Day) -> LivingThing:
    pot = nursery.prepared_pot()
    nursery.record(pot_cleared, pot=pot, why="other", why_words="no seed left", day=day)
    return pot


def _session(nursery: Nursery, day: Day) -> LivingThing:
    pot = nursery.prepared_pot()
    nursery.record(pot_sown, pot=pot, day=day)
    return pot.session


def _stopped(nursery: Nursery, day: Day) -> LivingThing:
    routine = nursery.routine(days_ago=300)
    nursery.record(stopped, thing=routine, day=day)
    return routine


ENDS: dict[Ended, str] = {
    _plant: "died",
    _spike: "over",
    _cut: "harvested",
    _lost: "",
    _pollen: "finished",
    _pollen_sent: "all sent",
    _seed: "",
    _seed_sent: "the rest sent",
    _seed_sown: "",
    _cleared: "",
    _session: "",
    _stopped: "",
}
"""For each way in which a thing ends, the words after which its stage tells the day; empty where it tells none."""


@pytest.fixture(autouse=True)
def in_may():
    with time_machine.travel(datetime(2026, 5, 20, 12, tzinfo=UTC), tick=False):
        yield


@pytest.mark.parametrize("day", DAYS, ids=lambda day: day.said)
@pytest.mark.parametrize("ends", ENDS, ids=lambda ends: ends.__name__.strip("_"))
def test_the_day_is_told_as_it_was_said(nursery: Nursery, ends: Ended, day: Day) -> None:
    thing = ends(nursery, day)
    thing.refresh_from_db()
    clipped = day.clipped(TODAY)
    assert (thing.closed_day, thing.closed_on) == (clipped, clipped.last or TODAY)
    words, since = DAYS[day]
    assert why_not(thing, TODAY).endswith(since)
    if ENDS[ends]:
        told = f"{ENDS[ends]}{' ' if day.is_known else ', '}{words}"
        assert stage_words(thing, TODAY).startswith(told)


def test_what_goes_on_again_has_no_day_on_which_it_ended(nursery: Nursery) -> None:
    spike = nursery.spike(seen="open", days_ago=90)
    act = nursery.record(spike_looked, spike=spike, seen="over", day=Day.month(2026, 3))
    nursery.record(undone, target=act)
    spike.refresh_from_db()
    assert (spike.closed_day, spike.closed_first, spike.closed_on, spike.closed_said) == (None, None, None, "")


def test_days_to_a_harvest_on_a_vague_day_are_a_range(nursery: Nursery) -> None:
    section = nursery.section(day=Day.on(date(2025, 9, 1)))
    nursery.record(harvested, section=section, day=Day.month(2026, 3))
    section.refresh_from_db()
    assert facts.section(section, TODAY)[0] == facts.Fact("181 to 211", "days to harvest")


@pytest.mark.parametrize("day", DAYS, ids=lambda day: day.said)
def test_what_had_ended_before_is_told_as_it_was_said_too(nursery: Nursery, day: Day) -> None:
    """The migration finds the act that ended each thing."""
    with time_machine.travel(datetime(2026, 5, 15, 12, tzinfo=UTC), tick=False):
        things = [ends(nursery, day.clipped(date(2026, 5, 15))) for ends in ENDS]
    exact = nursery.plant(days_ago=300)
    nursery.record(plant_gone, plant=exact, why="sold")
    for kind in registry.thing_kinds().values():
        kind.model.objects.update(closed_first=None, closed_said="")
    import_module("breeding.migrations.0009_how_it_ended").say_how_it_was_told(apps, None)
    for thing in [*things, exact]:
        thing.refresh_from_db()
        worked_out = milestones.worked_out(thing)
        assert {name: getattr(thing, name) for name in worked_out} == worked_out
    assert exact.closed_day == Day.on(today())


def test_what_was_corrected_since_still_ended_when_it_was_first_told(nursery: Nursery) -> None:
    spike = nursery.spike(seen="open", days_ago=90)
    with time_machine.travel(datetime(2026, 5, 10, 12, tzinfo=UTC), tick=False):
        first = nursery.record(spike_looked, spike=spike, seen="aborted", day=Day.unknown())
    nursery.record(spike_looked, spike=spike, seen="over", day=Day.unknown(), replaces=first)
    spike.refresh_from_db()
    type(spike).objects.filter(pk=spike.pk).update(closed_first=None, closed_said="")
    import_module("breeding.migrations.0009_how_it_ended").say_how_it_was_told(apps, None)
    again = type(spike).objects.get(pk=spike.pk)
    assert (again.closed_on, again.closed_said, again.closed_day) == (date(2026, 5, 10), "unknown", Day.unknown())
