"""When to look next: never too late for the accepted risk, never today again, never beyond the longest gap."""

import math
from datetime import date, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from breeding.science.cadence import next_look_age, on_working_day
from breeding.science.timings import Timing

WINDOWS = st.tuples(st.floats(2, 400), st.floats(1.05, 12)).map(lambda pair: Timing(pair[0], pair[0] * pair[1]))
RISKS = st.floats(0.0005, 0.5)
GRACES = st.integers(0, 60)
GAPS = st.integers(1, 120)
WEEKDAYS = st.sets(st.integers(0, 6), min_size=1)
DAYS = st.dates(date(2000, 1, 1), date(2100, 1, 1))
WEEK = frozenset(range(5))


def _look(last_age, **changes):
    values = {"timing": Timing.around(110, 0.12), "risk": 0.002, "grace": 6, "longest_gap": 60} | changes
    return next_look_age(last_age, **values)


def _share_lost(last_age, age, *, timing, grace):
    return 1 - min(1.0, timing.survival(age - grace) / timing.survival(last_age))


@pytest.mark.parametrize(("last_age", "t1"), [(0, 77.87468694), (60, 77.87500995), (110, 110.03309250)])
def test_it_works(last_age, t1):
    # Source of t1, the age at which 0.2% have come: scipy 1.17.1, as in tests/published/log_normal.json.
    assert _look(last_age, longest_gap=365) == math.floor(t1 + 6)


def test_the_longest_gap_is_kept():
    assert _look(0, longest_gap=28) == 28


def test_tomorrow_at_the_earliest():
    assert _look(110, grace=0) == 111


@pytest.mark.parametrize("last_age", [5_000, 100_000, 10**9])
def test_absurd_ages_get_a_day_within_the_grace(last_age):
    # A slip in a date makes such ages; the share still waiting is then no float any more.
    timing = Timing.around(110, 0.02)
    assert timing.survival(last_age) == 0
    assert last_age + 6 <= _look(last_age, timing=timing) <= last_age + 60


@pytest.mark.parametrize(
    ("changes", "sentence"),
    [
        ({"last_age": -2}, "last_age must be 0 or more; got -2."),
        ({"last_age": math.nan}, "last_age must be 0 or more; got nan."),
        ({"risk": 0}, "risk must be between 0 and 1; got 0."),
        ({"risk": 1}, "risk must be between 0 and 1; got 1."),
        ({"grace": -1}, "grace must be 0 or more; got -1."),
        ({"longest_gap": 0}, "longest_gap must be 1 or more; got 0."),
    ],
)
def test_values_out_of_range_are_named(changes, sentence):
    with pytest.raises(ValueError) as refusal:
        _look(**{"last_age": 10} | changes)
    assert str(refusal.value) == sentence


@given(WINDOWS, st.integers(0, 500), RISKS, GRACES, GAPS)
def test_the_look_is_the_last_whole_day_within_the_risk(timing, last_age, risk, grace, gap):
    age = next_look_age(last_age, timing=timing, risk=risk, grace=grace, longest_gap=gap)
    assert last_age + 1 <= age <= last_age + gap
    if timing.survival(last_age) < 1e-250:
        return
    lost, lost_a_day_later = (_share_lost(last_age, day, timing=timing, grace=grace) for day in (age, age + 1))
    assert lost <= risk + 1e-6 or age == last_age + 1
    assert lost_a_day_later >= risk - 1e-6 or age == last_age + gap


@given(WINDOWS, st.integers(0, 10_000), RISKS, GRACES, GAPS)
def test_less_risk_never_means_a_later_look(timing, last_age, risk, grace, gap):
    careful, easy = (
        next_look_age(last_age, timing=timing, risk=chance, grace=grace, longest_gap=gap) for chance in (risk / 2, risk)
    )
    assert careful <= easy


@pytest.mark.parametrize(
    ("day", "after", "moved"),
    [
        (date(2026, 3, 6), date(2026, 3, 2), date(2026, 3, 6)),
        (date(2026, 3, 7), date(2026, 3, 2), date(2026, 3, 6)),
        (date(2026, 3, 8), date(2026, 3, 6), date(2026, 3, 9)),
        (date(2026, 3, 7), date(2026, 3, 7), date(2026, 3, 9)),
        (date(2026, 3, 1), date(2026, 3, 3), date(2026, 3, 4)),
        (date(2027, 1, 2), date(2026, 12, 30), date(2027, 1, 1)),
        (date(2028, 3, 4), date(2028, 2, 29), date(2028, 3, 3)),
    ],
)
def test_looks_move_to_working_days(day, after, moved):
    assert on_working_day(day, WEEK, after) == moved


@pytest.mark.parametrize("weekdays", [set(), {7}, {-1, 0}])
def test_weekdays_that_are_none_are_refused(weekdays):
    with pytest.raises(ValueError) as refusal:
        on_working_day(date(2026, 3, 6), weekdays, date(2026, 3, 2))
    assert str(refusal.value) == (f"Working days are weekdays from 0 to 6, at least one; got {sorted(weekdays)}.")


@given(DAYS, WEEKDAYS, st.integers(-10, 60))
def test_a_moved_look_is_a_working_day_after_the_last_look_and_near(day, weekdays, gap):
    after = day - timedelta(days=gap)
    moved = on_working_day(day, weekdays, after)
    wanted = max(day, after + timedelta(days=1))
    assert moved.weekday() in weekdays
    assert moved > after
    assert abs((moved - wanted).days) < 7


@given(DAYS, WEEKDAYS, st.integers(1, 60))
def test_a_look_moves_back_whenever_it_can(day, weekdays, gap):
    after = day - timedelta(days=gap)
    between = [day - timedelta(days=n) for n in range(gap)]
    could_move_back = any(earlier.weekday() in weekdays for earlier in between)
    assert (on_working_day(day, weekdays, after) <= day) is could_move_back
