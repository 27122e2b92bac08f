"""A prediction as a mixture of log-normals: what holds for every mixture, one by one and many at once."""

import math

import numpy as np
import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st

from breeding.science.predicted import Predicted, quantiles_after, survival_of
from breeding.science.timings import Timing

PART = st.tuples(st.floats(0.01, 1), st.floats(1, 1000), st.floats(0.02, 1.5))
AGES = st.floats(0, 20_000)
SHARES = st.floats(0.0001, 0.9999)


def _mixture(parts):
    total = sum(weight for weight, _, _ in parts)
    return Predicted(tuple((weight / total, median, spread) for weight, median, spread in parts))


MIXTURES = st.lists(PART, min_size=1, max_size=5).map(_mixture)


def test_it_works():
    pods = Predicted(((0.25, 100.0, 0.1), (0.75, 120.0, 0.2)))
    assert pods.window() == (pods.low, pods.high)
    assert [pods.survival(day) for day in (pods.low, pods.median, pods.high)] == pytest.approx([0.9, 0.5, 0.1])
    assert pods.window_after(130) == (pods.quantile_after(130, 0.1), pods.quantile_after(130, 0.9))
    assert pods.survival(pods.median_after(130)) == pytest.approx(pods.survival(130) / 2)
    assert {pods: "hashable"}[Predicted(((0.25, 100.0, 0.1), (0.75, 120.0, 0.2)))] == "hashable"


@pytest.mark.parametrize(
    ("parts", "never", "said"),
    [
        ((), 0, "A prediction needs parts of weight, median and spread above 0; got ()."),
        (((1, 0, 0.1),), 0, "A prediction needs parts of weight, median and spread above 0; got ((1, 0, 0.1),)."),
        (((1, 9, math.nan),), 0, "A prediction needs parts of weight, median and spread above 0; got ((1, 9, nan),)."),
        (((0.9, 9.0, 0.1),), 0, "The weights of the parts must be 1 together; got ((0.9, 9.0, 0.1),)."),
        (((1.0, 9.0, 0.1),), 1, "The share that never comes must be from 0 to under 1; got 1."),
    ],
)
def test_impossible_predictions_are_refused(parts, never, said):
    with pytest.raises(ValueError) as refusal:
        Predicted(parts, never)
    assert str(refusal.value) == said


@pytest.mark.parametrize("share", [0, 1, -0.1, math.nan])
def test_shares_outside_0_and_1_are_refused(share):
    with pytest.raises(ValueError) as refusal:
        Predicted(((1.0, 9.0, 0.1),)).quantile(share)
    assert str(refusal.value) == f"A share must lie between 0 and 1; got {share}."


def test_what_never_comes_is_told_apart_from_what_is_late():
    # By hand: 20 of 100 pots never come, and half of the other 80 have at the median: 20 of 60 silent ones never do.
    seed = Predicted(((1.0, 56.0, 0.4),), never=0.2)
    assert (seed.survival(56), seed.waiting(56), seed.never_after(56)) == pytest.approx((0.5, 0.6, 1 / 3))
    assert (seed.waiting(0), seed.never_after(0), seed.never_after(1e6)) == pytest.approx((1, 0.2, 1))
    assert Predicted(((1.0, 56.0, 0.01),)).never_after(1e6) == 0


@given(st.floats(5, 500), st.floats(0.05, 1), AGES, SHARES)
def test_one_part_is_the_plain_log_normal(median, spread, age, share):
    timing, law = Timing.around(median, spread), Predicted(((1.0, median, spread),))
    assert law.quantile(share) == pytest.approx(timing.quantile(share), rel=1e-9)
    if timing.survival(age) > 1e-280:
        assert law.survival(age) == pytest.approx(timing.survival(age), rel=1e-9)
        assert law.quantile_after(age, share) == pytest.approx(timing.quantile_after(age, share), rel=1e-8)


TO_AND_FRO = [
    (0.25, 512.0, 0.5),
    (0.1875, 15.0, 0.125),
    (0.1875, 35.0, 1.25),
    (0.1875, 40.0, 1.25),
    (0.0625, 384.0, 0.5),
]
"""A mixture with a flat stretch, across which Newton's steps alone go to and fro."""


@given(MIXTURES, AGES, SHARES)
@example(_mixture(TO_AND_FRO), 4.0, 0.1875)
def test_a_quantile_after_leaves_its_share_waiting(law, age, share):
    later = law.quantile_after(age, share)
    assert age <= later < math.inf
    if law.survival(later) > 1e-280 and later > age * (1 + 1e-9):
        assert law.survival(later) == pytest.approx((1 - share) * law.survival(age), rel=1e-6)


@given(MIXTURES, st.lists(AGES, min_size=2, max_size=5))
def test_survival_never_rises_and_quantiles_after_never_fall(law, ages):
    ages = sorted(ages)
    waiting, later = survival_of(ages, law.parts), quantiles_after(ages, 0.1, law.parts)
    assert np.all((waiting >= 0) & (waiting <= 1 + 1e-9)) and np.all(np.diff(waiting) <= 1e-12)
    assert np.all(later >= ages)


@given(MIXTURES, AGES)
def test_shares_come_in_order(law, age):
    found = [law.quantile_after(age, share) for share in (1e-6, 0.002, 0.1, 0.5, 0.9, 0.999)]
    assert found == sorted(found)


@given(MIXTURES, MIXTURES, AGES)
def test_many_at_once_are_the_same_as_one_by_one(first, second, age):
    parts = max(len(first.parts), len(second.parts))
    tables = np.array([[*law.parts, *[(0, 1, 1)] * (parts - len(law.parts))] for law in (first, second)])
    found = quantiles_after([age, age], [0.002, 0.5], tables)
    assert found == pytest.approx([first.quantile_after(age, 0.002), second.quantile_after(age, 0.5)], rel=1e-6)
    assert survival_of([age, age], tables) == pytest.approx([first.survival(age), second.survival(age)], abs=1e-12)


@pytest.mark.parametrize("age", [1e4, 1e6, 1e12, 1e100])
def test_an_absurd_age_moves_on_by_a_little(age):
    # A slip in a date. The tail's leading term alone gives the step: log 2 / (z / spread) of log days.
    law = Predicted(((0.5, 110.0, 0.02), (0.5, 110.0, 0.1)))
    z = (math.log(age) - math.log(110)) / 0.1
    step = law.quantile_after(age, 0.5) / age - 1
    assert step == pytest.approx(math.log(2) * 0.1 / z, rel=0.01)


@settings(max_examples=20)
@given(MIXTURES)
def test_the_start_of_time_is_handled(law):
    assert law.quantile_after(-5, 0.5) == law.quantile_after(0, 0.5) == law.median
    assert law.survival(0) == law.survival(-5) == 1
    assert survival_of([0.0, -5.0], law.parts) == pytest.approx([1, 1])
