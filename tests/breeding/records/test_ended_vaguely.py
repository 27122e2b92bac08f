"""What ended some time in March, or on a day that nobody knows, is not said to have ended on a day."""

from collections.abc import Callable
from dataclasses import dataclass, field
from datetime import UTC, date, datetime
from importlib import import_module
from typing import Any

import pytest
import time_machine
from django.apps import apps

from breeding.records.pods import harvested, pods_looked_at
from breeding.records.pollen import pollen_finished
from breeding.records.posted import pollen_sent, seed_sent
from breeding.records.pots import pot_gone, sown
from breeding.records.seed import seed_finished
from breeding.records.sowing import pot_cleared, pot_sown
from breeding.records.spikes import spike_looked
from breeding.rounds.why_not import why_not
from breeding.words import facts
from breeding.words.stages import stage_words
from nursery.days import Day
from nursery.models import Act, LivingThing
from nursery.records import milestones, registry
from nursery.records.plants import plant_gone
from nursery.records.undo import undone
from nursery.records.watching import stopped
from tests.keeping import fresh
from tests.making import Nursery, today

pytestmark = pytest.mark.django_db

TODAY = date(2026, 5, 20)
EARLIER = datetime(2026, 5, 15, 12, tzinfo=UTC)
DAYS = {
    Day.on(date(2026, 3, 3)): ("3 Mar", ", since Tue 3 Mar."),
    Day.about_week(date(2026, 3, 3)): ("about 3 Mar", ", since about 3 Mar."),
    Day.month(2026, 3): ("in March 2026", ", since March 2026."),
    Day.season(date(2026, 3, 3)): ("Mar–May 2026", ", since Mar–May 2026."),
    Day.year(2026): ("in 2026", ", since 2026."),
    Day.unknown(): ("day not known", ", day not known."),
}


@dataclass(frozen=True)
class End:
    """What begins and the act that ends it; ``words`` are those after which its stage tells the day, if it does."""

    begun: Callable[[Nursery], LivingThing]
    act: Callable[..., Act]
    of: str
    words: str = ""
    facts: dict[str, Any] = field(default_factory=dict)


def _plant(nursery: Nursery) -> LivingThing:
    return nursery.plant(days_ago=300)


def _spike(nursery: Nursery) -> LivingThing:
    return nursery.spike(seen="open", days_ago=300)


def _section(nursery: Nursery) -> LivingThing:
    return nursery.section(days_ago=300)


def _pollen(nursery: Nursery) -> LivingThing:
    return nursery.pollen(days_ago=300)


def _seed(nursery: Nursery) -> LivingThing:
    return nursery.seed_by_post(words="by post", days_ago=300)


def _routine(nursery: Nursery) -> LivingThing:
    return nursery.routine(days_ago=300)


SENT = {"to_whom": "a friend", "extent": "all"}
ENDS = {
    "plant": End(_plant, plant_gone, "plant", "died", {"why": "died"}),
    "spike": End(_spike, spike_looked, "spike", "over", {"seen": "over"}),
    "cut": End(_section, harvested, "section", "harvested"),
    "lost": End(_section, pods_looked_at, "section", facts={"seen": "split", "pods_left": 0}),
    "pollen": End(_pollen, pollen_finished, "lot", "finished"),
    "pollen_sent": End(_pollen, pollen_sent, "lot", "all sent", SENT),
    "seed": End(_seed, seed_finished, "lot"),
    "seed_sent": End(_seed, seed_sent, "lot", "the rest sent", SENT),
    "seed_sown": End(_seed, sown, "lot", facts={"all_of_it": True}),
    "cleared": End(Nursery.prepared_pot, pot_cleared, "pot", facts={"why": "other", "why_words": "no seed left"}),
    "pot_gone": End(Nursery.pot, pot_gone, "pot", "dropped or spilt", {"why": "dropped"}),
    "session": End(Nursery.prepared_pot, pot_sown, "pot"),
    "stopped": End(_routine, stopped, "thing"),
}


@pytest.fixture(scope="module")
def begun(kept: Nursery) -> dict[str, LivingThing]:
    """One thing for each way to end."""
    with time_machine.travel(EARLIER, tick=False):
        return {way: end.begun(kept) for way, end in ENDS.items()}


def _ended(nursery: Nursery, begun: dict[str, LivingThing], way: str, day: Day) -> LivingThing:
    """The thing that ended so on this day: with its last pot, a session."""
    end, thing = ENDS[way], fresh(begun[way])
    place = {"place": nursery.usual_bench} if way == "seed_sown" else {}
    nursery.record(end.act, **{end.of: thing}, day=day, **end.facts, **place)
    return thing.session if way == "session" else thing


@pytest.fixture(autouse=True)
def in_may():
    with time_machine.travel(datetime(2026, 5, 20, 12, tzinfo=UTC), tick=False):
        yield


@pytest.mark.parametrize("day", DAYS, ids=lambda day: day.said)
@pytest.mark.parametrize("way", ENDS)
def test_the_day_is_told_as_it_was_said(begun: dict[str, LivingThing], nursery: Nursery, way: str, day: Day) -> None:
    thing = _ended(nursery, begun, way, day)
    thing.refresh_from_db()
    clipped = day.clipped(TODAY)
    assert (thing.closed_day, thing.closed_on) == (clipped, clipped.last or TODAY)
    words, since = DAYS[day]
    assert why_not(thing, TODAY).endswith(since)
    if stage := ENDS[way].words:
        told = f"{stage}{' ' if day.is_known else ', '}{words}"
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
def test_what_had_ended_before_is_told_as_it_was_said_too(
    begun: dict[str, LivingThing], nursery: Nursery, day: Day
) -> None:
    """The migration finds the act that ended each thing; that a pot is gone could not be told yet."""
    with time_machine.travel(EARLIER, tick=False):
        things = [_ended(nursery, begun, way, day.clipped(EARLIER.date())) for way in ENDS if way != "pot_gone"]
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
