"""Graces as chances, and what pods found split say of them."""

import math

import numpy as np
import pytest

from breeding.science.grace import HOT_DAYS_LEFT, Found, Grace, learned
from breeding.science.timings import Timing

TURNING = Timing(7, 21)
SHIPPED = Grace.between(6, 10)


@pytest.mark.parametrize(("low", "high"), [(6, 10), (21, 28), (5, 14)])
def test_four_in_five_lie_between_the_two_days(low, high):
    # Days begun: what keeps from 6.0 to 10.0 days is counted at 6 to 9.
    grace = Grace.between(low, high)
    within = sum(share for day, share in zip(grace.days, grace.shares, strict=True) if low <= day < high)
    assert within == pytest.approx(0.8, abs=1e-3)
    assert sum(grace.shares) == pytest.approx(1)


def test_one_day_for_all_is_just_that_day():
    assert Grace.between(7, 7) == Grace.of(7) == Grace((7,), (1.0,))


@pytest.mark.parametrize(("by", "share"), [(5, 0), (6, 0.25), (9, 0.25), (10, 1), (99, 1)])
def test_the_share_that_is_over(by, share):
    assert Grace((6, 10), (0.25, 0.75)).over_by(by) == share


@pytest.mark.parametrize(
    ("days", "shares", "sentence"),
    [
        ((), (), "Days of grace must rise from 0 or more; got ()."),
        ((7, 6), (0.5, 0.5), "Days of grace must rise from 0 or more; got (7, 6)."),
        ((-1,), (1.0,), "Days of grace must rise from 0 or more; got (-1,)."),
        ((6, 7), (0.5, 0.4), "Shares of grace must be above 0 and sum to 1, one for each day; got (0.5, 0.4)."),
        ((6, 7), (1.0, 0.0), "Shares of grace must be above 0 and sum to 1, one for each day; got (1.0, 0.0)."),
    ],
)
def test_what_is_no_distribution_is_refused(days, shares, sentence):
    with pytest.raises(ValueError) as refusal:
        Grace(days, shares)
    assert str(refusal.value) == sentence


def test_a_hot_spell_leaves_a_part_of_every_length():
    assert Grace((5, 10), (0.5, 0.5)).shortened(0.6) == Grace((3, 6), (0.5, 0.5))
    assert SHIPPED.shortened().mean == pytest.approx(SHIPPED.mean * HOT_DAYS_LEFT, abs=0.6)


def test_a_grace_behind_a_step_is_the_sum_of_both():
    # Against drawn sums: numpy.random.Generator.lognormal, 200,000 of them, whole days each as the grace counts them.
    draw = np.random.default_rng(5)
    ahead = np.floor(draw.lognormal(np.log(TURNING.median), TURNING.spread, 200_000))
    drawn = ahead + draw.choice(SHIPPED.days, p=SHIPPED.shares, size=200_000)
    behind = SHIPPED.behind(TURNING)
    assert [behind.over_by(day) for day in (10, 15, 20, 30)] == pytest.approx(
        [(drawn <= day).mean() for day in (10, 15, 20, 30)], abs=0.004
    )


def test_nothing_found_leaves_the_shipped_grace():
    assert learned(SHIPPED, Found([], [], []), turning=TURNING) == SHIPPED
    assert learned(SHIPPED, Found([0], [True], [True]), turning=TURNING) == SHIPPED


def _finds(median, spread, many, *, green, seed=7):
    """Drawn by the story itself: turns, opens, splits, with looks 4 to 25 days apart."""
    draw = np.random.default_rng(seed)
    days = draw.integers(4, 26, many)
    turned = draw.uniform(0, days)
    opened = turned + (draw.lognormal(np.log(TURNING.median), TURNING.spread, many) if green else 0)
    split = opened + draw.lognormal(np.log(median), spread, many) <= days
    seen = opened <= days
    return Found(days[seen].tolist(), [not green] * int(seen.sum()), split[seen].tolist())


@pytest.mark.parametrize("green", [False, True])
@pytest.mark.parametrize("median", [5.5, 8, 11])
def test_the_grace_of_a_nursery_is_found_again(median, green):
    finds = _finds(median, 0.25, 1500, green=green)
    found = learned(SHIPPED, finds, turning=TURNING)
    # Whole days begun are half a day short of what was drawn.
    assert found.mean + 0.5 == pytest.approx(median * math.exp(0.25**2 / 2), rel=0.06)


@pytest.mark.parametrize(("split", "longer"), [(False, True), (True, False)])
def test_pods_found_split_shorten_it_and_pods_found_opening_lengthen_it(split, longer):
    found = learned(SHIPPED, Found([9] * 8, [True] * 8, [split] * 8), turning=TURNING)
    assert (found.mean > SHIPPED.mean) is longer


@pytest.mark.parametrize("split", [False, True])
def test_a_first_find_moves_little(split):
    once = learned(SHIPPED, Found([9], [True], [split]), turning=TURNING)
    assert once.mean == pytest.approx(SHIPPED.mean, abs=0.8)
    assert abs(once.keeps(but=0.1) - SHIPPED.keeps(but=0.1)) <= 2


def test_green_pods_found_opening_say_less_than_turning_ones():
    """They turned first, so they opened late in the gap."""
    green, turning = (
        learned(SHIPPED, Found([12] * 20, [seen] * 20, [False] * 20), turning=TURNING) for seen in (False, True)
    )
    assert SHIPPED.mean < green.mean < turning.mean
