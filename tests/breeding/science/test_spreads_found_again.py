"""Spreads between taxa and between clones, and the share that never comes, found again in logs that were drawn.

The truth is our own (tests/breeding/science/nurseries.py), so the checks are against what was drawn.
"""

import math

import numpy as np
import pytest

from breeding.science.fitted import Spread
from breeding.science.phenology import fit
from breeding.science.timings import TENTH, Timing
from tests.breeding.science.nurseries import SHIPPED, Nursery, log_of

ABOUT = math.log(SHIPPED.median)
"""A nursery as fast as was shipped, so that the spreads are all there is to learn."""


TAXA, CLONES = 12, 36
TRUTHS = [{"taxon": 0.3, "clone": 0.1}, {"taxon": 0.1, "clone": 0.25}, {"taxon": 0.2, "clone": 0.2}]


def _spreads(true: dict[str, float], seed: int) -> dict[str, Spread]:
    nursery, rng = Nursery(ABOUT, true["taxon"], true["clone"], 0.05, 0.1), np.random.default_rng(seed)
    log = log_of(nursery, rng, clones=CLONES, looks=(6, 9), per_taxon=CLONES // TAXA)
    return {row.level: row for row in fit(log, shipped=SHIPPED).spreads}


@pytest.mark.parametrize("true", TRUTHS)
def test_the_spread_between_taxa_and_between_clones_is_found_again(true):
    """In each log within three and a half of the errors that the fit claims, and over all logs without a lean."""
    found = [_spreads(true, seed) for seed in range(6)]
    for level, spread in true.items():
        apart = np.array([math.log(one[level].value / spread) for one in found])
        claimed = np.array([math.log(one[level].high / one[level].low) / (2 * TENTH) for one in found])
        assert np.all(np.abs(apart) < 3.5 * claimed) and np.all(claimed < 0.6)
        assert abs(apart.mean()) < 2 * apart.std() / math.sqrt(len(apart)) + 0.05
    assert np.mean([one["within"].value for one in found]) == pytest.approx(0.1, rel=0.1)


@pytest.mark.parametrize("seed", range(3))
def test_spreads_never_collapse_to_zero_where_there_are_none(seed):
    """Taxa and clones all alike, few looks: a joint maximum would put their spreads at 0 and trust it."""
    rng = np.random.default_rng(seed)
    found = fit(log_of(Nursery(ABOUT, 0, 0, 0, 0.1), rng, clones=6, looks=(2, 4), per_taxon=2), shipped=SHIPPED)
    assert min(row.low for row in found.spreads) > 0.005
    shifts = [group.shift for group in found.groups("clone")]
    assert max(shifts) / min(shifts) < 1.2


@pytest.mark.parametrize(("never", "shipped"), [(0.1, Timing(28, 112)), (0.4, Timing(28, 112)), (0.3, Timing(35, 49))])
def test_the_share_that_never_comes_is_found_again(never, shipped):
    """Germination of fresh seed, and take: 200 things, watched until the last is over or given up.

    Within three standard errors of a share that was counted.
    """
    rng = np.random.default_rng(int(100 * never))
    nursery = Nursery(math.log(shipped.median), 0.1, 0.1, 0.05, 0.15, never=never)
    found = fit(log_of(nursery, rng, clones=20, looks=(10, 10), cut=0.2), shipped=shipped, may_never=True)
    assert found.never == pytest.approx(never, abs=3 * math.sqrt(never * (1 - never) / 200))
    assert found.predicted().law.median == pytest.approx(shipped.median, rel=0.15)


def test_without_a_share_that_never_comes_silent_pots_stretch_every_window():
    """Why it is learned: the same log read as if all came in the end."""
    rng = np.random.default_rng(8)
    pots, nursery = Timing(28, 112), Nursery(math.log(56), 0.1, 0.1, 0.0, 0.15, never=0.3)
    log = log_of(nursery, rng, clones=10, looks=(10, 10), cut=0)
    knows, does_not = (fit(log, shipped=pots, may_never=told).predicted().law for told in (True, False))
    assert knows.high < 90 and does_not.high > 2 * knows.high
