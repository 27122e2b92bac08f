"""Days are the nursery's own: across a clock change, a leap day and the turn of a year, in any time zone."""

from datetime import UTC, date, datetime, timedelta

import pytest
import time_machine
from django.utils import timezone

from breeding.models import SeedPot, Spike
from breeding.records import pods, pots, seed, spikes
from breeding.rounds.tasks import round_for, tasks_for
from nursery.days import Day
from nursery.models import Person
from tests.making import Nursery

ZONES = ["UTC", "Europe/London", "America/New_York", "Pacific/Auckland", "Pacific/Kiritimati"]


def _found(owner: Person, moment: datetime) -> Spike:
    with time_machine.travel(moment, tick=False):
        return Nursery(owner).spike()


def _asked(thing, day: date) -> bool:
    return any(task.thing_id == thing.pk for task in round_for(day, minutes=10_000).today)


# In London clocks went forward on 29 March 2026 and go back on 25 October; in Auckland on 5 April and 27 September.
@pytest.mark.parametrize("zone", ZONES)
@pytest.mark.parametrize(
    "moment",
    [
        datetime(2026, 3, 28, 23, 50, tzinfo=UTC),
        datetime(2026, 3, 29, 1, 30, tzinfo=UTC),
        datetime(2026, 10, 24, 23, 30, tzinfo=UTC),
        datetime(2026, 10, 25, 0, 30, tzinfo=UTC),
        datetime(2026, 4, 4, 14, 0, tzinfo=UTC),
        datetime(2028, 2, 24, 12, 0, tzinfo=UTC),  # ten days on lies behind a leap day
        datetime(2026, 12, 27, 23, 59, tzinfo=UTC),  # ten days on lies in the next year
    ],
    ids=lambda moment: f"{moment:%Y-%m-%d %H:%M}",
)
def test_a_spike_is_due_ten_of_the_nurserys_own_days_after_it_was_found(
    owner: Person, zone: str, moment: datetime
) -> None:
    with timezone.override(zone):
        spike = _found(owner, moment)
        here = moment.astimezone(timezone.get_current_timezone()).date()
        assert spike.found_first == here
        assert not _asked(spike, here + timedelta(days=9))
        assert _asked(spike, here + timedelta(days=10))


@pytest.mark.parametrize("zone", ZONES)
def test_a_look_in_the_night_of_the_clock_change_counts_for_its_own_day(owner: Person, zone: str) -> None:
    with timezone.override(zone):
        nursery = Nursery(owner)
        before = datetime(2026, 3, 20, 12, 0, tzinfo=UTC)
        spike = _found(owner, before)
        night = datetime(2026, 3, 29, 0, 59, 59, tzinfo=UTC)
        with time_machine.travel(night, tick=False):
            nursery.record(spikes.spike_looked, spike=spike, seen="growing")
        here = night.astimezone(timezone.get_current_timezone()).date()
        [task] = tasks_for(Spike.objects.get(pk=spike.pk), here).tasks
        assert task.due > here
        assert task.reason.endswith("last look today: growing.")


@pytest.mark.parametrize(
    ("sown", "three_months"),
    [
        (date(2027, 11, 30), date(2028, 2, 29)),  # a leap day is a day like any other
        (date(2026, 11, 30), date(2027, 3, 1)),
        (date(2026, 10, 2), date(2027, 1, 1)),
    ],
)
def test_three_months_are_ninety_one_days_whatever_the_calendar(owner: Person, sown: date, three_months: date) -> None:
    with time_machine.travel(datetime(sown.year, sown.month, sown.day, 12, tzinfo=UTC), tick=False):
        pot = Nursery(owner).pot()
    look = three_months - timedelta(days=5)
    with time_machine.travel(datetime(look.year, look.month, look.day, 12, tzinfo=UTC), tick=False):
        Nursery(owner).record(pots.pot_looked_at, pot=pot, seen="nothing")
    pot = SeedPot.objects.get(pk=pot.pk)
    [task] = tasks_for(pot, three_months).tasks
    assert task.due == three_months
    assert "nothing up after three months" in task.reason


def test_the_turn_of_the_year_shows_the_year_where_it_differs(owner: Person) -> None:
    with time_machine.travel(datetime(2026, 12, 28, 12, tzinfo=UTC), tick=False):
        spike = _found(owner, datetime(2026, 12, 28, 12, tzinfo=UTC))
        [task] = tasks_for(spike, date(2026, 12, 28)).tasks
    assert task.due_words == "Thu 7 Jan 2027"
    assert tasks_for(spike, date(2027, 1, 1)).tasks[0].due_words == "Thu 7 Jan"


def test_pods_count_whole_days_across_both_clock_changes(owner: Person) -> None:
    with timezone.override("Europe/London"):
        with time_machine.travel(datetime(2026, 3, 1, 12, tzinfo=UTC), tick=False):
            section = Nursery(owner).section()
        with time_machine.travel(datetime(2026, 11, 1, 12, tzinfo=UTC), tick=False):
            Nursery(owner).record(pods.pods_looked_at, section=section, seen="green")
            section.refresh_from_db()
            [task] = tasks_for(section, date(2026, 11, 1)).tasks
    assert task.reason.startswith("Day 245 since it was pollinated;")


@pytest.mark.parametrize(
    ("zone", "here"),
    [("Asia/Kuching", date(2026, 6, 2)), ("UTC", date(2026, 6, 1)), ("America/New_York", date(2026, 6, 1))],
)
def test_what_ended_on_a_day_not_known_is_closed_on_the_nurserys_day_of_recording(
    owner: Person, zone: str, here: date
) -> None:
    with timezone.override(zone), time_machine.travel(datetime(2026, 6, 1, 22, 30, tzinfo=UTC), tick=False):
        nursery = Nursery(owner)
        lot = nursery.seed_by_post(words="by post")
        seed.seed_finished(act=nursery.act(day=Day(None, None, "unknown")), lot=lot)
        lot.refresh_from_db()
        assert lot.closed_on == here
