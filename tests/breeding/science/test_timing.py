"""The log-normal length of a step: what holds for every window, and what is refused."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from breeding.science.timings import Timing

WINDOWS = st.tuples(st.floats(1, 400), st.floats(1.05, 12)).map(lambda pair: Timing(pair[0], pair[0] * pair[1]))
SHARES = st.floats(0.001, 0.999)
AGES = st.floats(0, 20_000)


def test_it_works():
    pods = Timing(80, 240)
    assert pods.median == pytest.approx(math.sqrt(80 * 240))
    assert pods.survival(80) == pytest.approx(0.9)
    assert pods.survival(240) == pytest.approx(0.1)
    assert pods.window() == (80, 240)


@pytest.mark.parametrize(("low", "high"), [(0, 10), (-1, 10), (10, 10), (20, 10), (1, math.inf), (math.nan, 10)])
def test_impossible_windows_are_refused(low, high):
    with pytest.raises(ValueError) as refusal:
        Timing(low, high)
    assert str(refusal.value) == f"A window needs 0 < low < high, in days; got low {low} and high {high}."


@pytest.mark.parametrize("share", [0, 1, -0.1, 1.1, math.nan])
def test_shares_outside_0_and_1_are_refused(share):
    for ask in (Timing(28, 49).quantile, lambda share: Timing(28, 49).quantile_after(10, share)):
        with pytest.raises(ValueError) as refusal:
            ask(share)
        assert str(refusal.value) == f"A share must lie between 0 and 1; got {share}."


@pytest.mark.parametrize("value", [0, -1, math.inf, math.nan])
def test_impossible_medians_and_spreads_are_refused(value):
    with pytest.raises(ValueError, match=f"A median must be above 0 days and finite; got {value}."):
        Timing.around(value, 0.4)
    with pytest.raises(ValueError, match=f"A spread must be above 0 log days and finite; got {value}."):
        Timing.around(56, value)


def test_before_the_start_everything_is_still_to_come():
    assert Timing(28, 49).survival(0) == Timing(28, 49).survival(-3) == 1


@given(st.floats(1, 1000), st.floats(0.02, 2))
def test_a_timing_around_a_median_gives_it_back(median, spread):
    timing = Timing.around(median, spread)
    assert (timing.median, timing.spread) == pytest.approx((median, spread), rel=1e-9)


@given(WINDOWS)
def test_four_in_five_lie_in_the_window(timing):
    assert timing.survival(timing.low) - timing.survival(timing.high) == pytest.approx(0.8, abs=1e-9)
    assert timing.window_after(0) == pytest.approx(timing.window(), rel=1e-9)


@given(WINDOWS, SHARES)
def test_quantile_and_survival_undo_each_other(timing, share):
    assert timing.survival(timing.quantile(share)) == pytest.approx(1 - share, abs=1e-9)


@given(WINDOWS, AGES, AGES)
def test_survival_never_rises(timing, one, other):
    assert timing.survival(min(one, other)) >= timing.survival(max(one, other))


@given(WINDOWS, st.floats(0, 1e6), SHARES)
def test_what_has_not_come_comes_later_at_any_age(timing, age, share):
    later = timing.quantile_after(age, share)
    assert age <= later < math.inf


@given(WINDOWS, st.floats(0.1, 1e5))
def test_windows_after_a_wait_are_in_order(timing, age):
    low, high = timing.window_after(age)
    assert age <= low <= timing.median_after(age) <= high


@given(st.floats(0.02, 2), SHARES)
def test_the_far_tail_joins_the_near_one(spread, share):
    timing = Timing.around(100, spread)
    near, far = (100 * math.exp(spread * z) for z in (36.9999999, 37.0000001))
    steps = [math.log(timing.quantile_after(age, share) / age) / spread for age in (near, far)]
    assert steps[0] == pytest.approx(steps[1], rel=1e-3, abs=1e-9)
