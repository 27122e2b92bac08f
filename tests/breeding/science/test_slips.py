"""A year typed wrong must not move what is learned; what is only slow must not be taken for a slip."""

import numpy as np
import pytest

from breeding.science.outside import fit_without_slips
from breeding.science.phenology import Waits, fit
from breeding.science.timings import Timing
from tests.breeding.science.nurseries import SHIPPED, any_nursery, log_of

POTS = Timing(28, 112)
AGES = (101, 104, 108, 109, 112, 113, 117, 121)
"""Of one mother's sections, as told by looks a week apart."""


def waits(rows):
    return Waits(*np.array(rows, dtype=float).reshape(-1, 7).T)


def seen(age, taxon=1, clone=1, spike=1, start=0):
    return (start, start, start + age - 7, start + age, taxon, clone, spike)


OF_ONE = [seen(age, spike=turn // 3) for turn, age in enumerate(AGES)]
OF_OTHERS = [seen(age + 30, 2, 2, 9 + turn // 3) for turn, age in enumerate(AGES)]
YEAR = 365


@pytest.mark.parametrize(
    "slip",
    [
        seen(110 + YEAR),  # the year of the pollination
        seen(110 + 10 * YEAR),
        seen(1),  # the year before on the day it opened, so that it opened at once
        (0, 0, 110 + YEAR, np.nan, 1, 1, 1),  # still waiting a year too long
    ],
    ids=["a year", "ten years", "at once", "waiting"],
)
def test_one_slip_moves_nothing(slip):
    rows = OF_ONE + OF_OTHERS
    without = fit(waits(rows), shipped=SHIPPED)
    found, out = fit_without_slips(waits([*rows, slip]), shipped=SHIPPED)
    assert out.tolist() == [False] * len(rows) + [True]
    assert found == without
    # What it would have done: this mother's window, which is what the round goes by, moves or widens by a lot.
    with_it = fit(waits([*rows, slip]), shipped=SHIPPED).predicted(1, 1).law
    law = found.predicted(1, 1).law
    assert with_it.high / with_it.low > 1.3 * law.high / law.low


def test_a_slip_is_told_from_few_others_too():
    found, out = fit_without_slips(waits([*OF_ONE[:3], seen(110 + YEAR)]), shipped=SHIPPED)
    assert out.tolist() == [False, False, False, True] and found.n == 3


@pytest.mark.parametrize(
    ("rows", "shipped"),
    [
        (OF_ONE, SHIPPED),
        (OF_ONE[:1], SHIPPED),
        ([seen(110), seen(110 + YEAR)], SHIPPED),  # which of the two is the slip?
        ([*OF_ONE, seen(240, 3, 3, 30)], SHIPPED),  # a slow kind, seen for the first time
        ([*OF_ONE, seen(475, 3, 3, 30), seen(490, 3, 3, 31)], SHIPPED),  # two alike
        ([*OF_ONE, *(seen(age + 200, 3, 3, 30) for age in AGES[:3])], SHIPPED),
        ([(0, 0, 500, np.nan, 1, 1, 1)] * 6, SHIPPED),
        ([*OF_ONE, (0, 0, 30, np.nan, 1, 1, 1)], SHIPPED),
        ([*OF_ONE, (np.nan, 0, 1, 2, 1, 1, 1), (50, 60, 20, 30, 1, 1, 1)], SHIPPED),  # what cannot be is no suspect
        ([], SHIPPED),
    ],
    ids=["alike", "one", "two", "slow", "two slow", "slow kind", "all waiting", "just begun", "cannot be", "none"],
)
def test_what_may_be_true_counts(rows, shipped):
    found, out = fit_without_slips(waits(rows), shipped=shipped)
    assert not out.any() and found == fit(waits(rows), shipped=shipped)


def test_a_silent_pot_is_no_slip_but_one_that_came_up_after_eight_years_is():
    pots = [seen(age - 50) for age in AGES]
    silent, late = (0, 0, 8 * YEAR, np.nan, 1, 1, 1), seen(8 * YEAR)
    assert not fit_without_slips(waits([*pots, silent]), shipped=POTS, may_never=True)[1].any()
    assert fit_without_slips(waits([*pots, late]), shipped=POTS, may_never=True)[1].sum() == 1


def test_hardly_anything_true_is_left_out_of_simulated_logs():
    """Log-normal waits with spreads of every size: of some 1,300, at most one."""
    rng = np.random.default_rng(12)
    logs = [log_of(any_nursery(rng), rng, clones=12, looks=(2, 20), per_taxon=2) for _ in range(10)]
    assert sum(int(fit_without_slips(log, shipped=SHIPPED)[1].sum()) for log in logs) <= 1
