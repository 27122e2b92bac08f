"""Days as people tell them: kept as first and last, never more exact than was said, never yet to come."""

import uuid
from datetime import date, timedelta

import pytest
import time_machine

from breeding.records.spikes import spike_found, spike_looked
from nursery.days import Day
from nursery.records.core import NewAct
from nursery.records.errors import Refused
from tests.making import Nursery

NOON = "2026-03-10 12:00Z"

DAYS = [
    (None, "exact", date(2026, 3, 10), date(2026, 3, 10)),
    (Day.on(date(2026, 3, 2)), "exact", date(2026, 3, 2), date(2026, 3, 2)),
    (Day.about_week(date(2026, 2, 20)), "week", date(2026, 2, 17), date(2026, 2, 23)),
    (Day.about_week(date(2026, 3, 9)), "week", date(2026, 3, 6), date(2026, 3, 10)),
    (Day.month(2026, 2), "month", date(2026, 2, 1), date(2026, 2, 28)),
    (Day.month(2026, 3), "month", date(2026, 3, 1), date(2026, 3, 10)),
    (Day.season(date(2026, 1, 5)), "season", date(2025, 12, 1), date(2026, 2, 28)),
    (Day.season(date(2026, 3, 5)), "season", date(2026, 3, 1), date(2026, 3, 10)),
    (Day.year(2024), "year", date(2024, 1, 1), date(2024, 12, 31)),
    (Day.year(2026), "year", date(2026, 1, 1), date(2026, 3, 10)),
    (Day.unknown(), "unknown", None, None),
]


@pytest.mark.parametrize(("day", "said", "first", "last"), DAYS)
def test_a_day_is_kept_as_it_was_told(
    day: Day | None, said: str, first: date | None, last: date | None, nursery: Nursery
) -> None:
    with time_machine.travel(NOON, tick=False):
        plant = nursery.plant(day=Day.unknown())
        act = spike_found(act=NewAct(id=uuid.uuid4(), by=nursery.by, day=day), plant=plant)
        spike = plant.spikes.get()
    act.refresh_from_db()
    assert (act.said, act.day_first, act.day_last) == (said, first, last)
    assert (spike.found_first, spike.found_last) == (first, last)


def test_a_month_in_progress_ends_today_and_grows_no_more(nursery: Nursery) -> None:
    """What was told in March about March is not stretched to its end when April comes."""
    with time_machine.travel(NOON, tick=False):
        spike = nursery.spike(nursery.plant(day=Day.unknown()), day=Day.month(2026, 3))
    with time_machine.travel("2026-04-20 12:00Z", tick=False):
        nursery.record(spike_looked, spike=spike, seen="buds")
        spike.refresh_from_db()
    assert (spike.found_first, spike.found_last) == (date(2026, 3, 1), date(2026, 3, 10))


@pytest.mark.parametrize("day", [Day.on(date(2026, 3, 11)), Day.month(2026, 4), Day.year(2027)])
def test_a_day_that_lies_wholly_ahead_is_refused(day: Day, nursery: Nursery) -> None:
    with time_machine.travel(NOON, tick=False):
        plant = nursery.plant(day=Day.unknown())
        with pytest.raises(Refused) as refusal:
            nursery.record(spike_found, plant=plant, day=day)
    assert refusal.value.sentence == "That day is still to come. Choose today or an earlier day."


def test_a_day_before_1950_is_a_slip(nursery: Nursery) -> None:
    with pytest.raises(Refused) as refusal:
        nursery.record(spike_found, plant=nursery.plant(), day=Day.on(date(1949, 12, 31)))
    assert refusal.value.sentence == "That is before 1950. Check the year, or say that it is not known."


def test_looks_entered_late_fall_into_their_place(nursery: Nursery) -> None:
    spike = nursery.spike(days_ago=30)
    nursery.record(spike_looked, spike=spike, seen="open", days_ago=5)
    nursery.record(spike_looked, spike=spike, seen="buds", days_ago=9)
    spike.refresh_from_db()
    today = nursery.act().day.first
    assert (spike.stage, spike.open_after, spike.open_by) == (
        "open",
        today - timedelta(days=9),
        today - timedelta(days=5),
    )
