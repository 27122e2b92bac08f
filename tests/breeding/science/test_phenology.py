"""Timings learned from looks: from nothing to much, and whatever a log may hold."""

import numpy as np
import pytest

from breeding.science.fitted import Fit
from breeding.science.phenology import Waits, fit
from breeding.science.timings import Timing
from tests.breeding.science.nurseries import SHIPPED, Nursery, any_nursery, holds, log_of

PODS = Timing(80, 240)


def waits(rows):
    """From rows of (start_first, start_last, not_yet, seen_by, taxon, clone, spike)."""
    return Waits(*np.array(rows, dtype=float).reshape(-1, 7).T)


def test_no_look_gives_what_is_shipped():
    learned = fit(waits([]), shipped=PODS).predicted(1, 2, 3)
    assert (learned.n, learned.level) == (0, "shipped")
    assert learned.law.window() == pytest.approx((80, 240))


def test_one_look_moves_it_a_little():
    found = fit(waits([(0, 0, 95, 100, 1, 2, 3)]), shipped=PODS)
    learned = found.predicted(1, 2, 3)
    assert (learned.n, learned.level) == (1, "nursery")
    assert 100 < learned.law.median < PODS.median
    assert Fit.from_json(found.to_json()) == found


@pytest.mark.parametrize(
    "rows",
    [
        [(0, 0, 300, np.nan, 1, 2, 3)] * 5,
        [(0, 0, 0, 0, -1, -1, -1)],
        [(0, 0, 50, 57, -1, -1, -1)],
        [(0, 0, 99, 100, 1, 2, 3)] * 40,
        [(0, 400, 10, 20, 1, 2, 3)],
        [(50, 60, 20, 30, 1, 2, 3), (0, 0, 95, 100, 1, 2, 3)],
        [(0, 0, 95, 100, 1, 2, 3), (0, 0, 700_000, 700_007, 1, 2, 4)],
        [(0, 0, 1, np.nan, 1, 2, 3)] * 9 + [(0, 0, 0, 1, 2, -1, 4)],
        [(np.nan, 0, 1, 2, 1, 2, 3), (0, 0, 1, np.inf, 1, 2, 3)],
    ],
    ids=["all waiting", "at once", "unknown", "alike", "vague", "seen before it began", "absurd", "early", "no days"],
)
@pytest.mark.parametrize("may_never", [False, True])
def test_whatever_a_log_holds_gives_a_law(rows, may_never):
    found = fit(waits(rows), shipped=PODS, may_never=may_never)
    law = found.predicted(1, 2, 3).law
    assert 0 < law.low < law.median < law.high < np.inf
    assert 0 <= law.never < 1
    assert Fit.from_json(found.to_json()) == found
    if not any(np.isfinite(row[3]) and row[3] >= row[0] for row in rows):
        assert law.window() == pytest.approx(PODS.window())


def test_much_data_gives_the_data():
    rng = np.random.default_rng(1)
    nursery = Nursery(np.log(60), 0.2, 0.1, 0.05, 0.12)
    found = fit(log_of(nursery, rng, clones=12, looks=(150, 150), cut=0), shipped=PODS)
    laws = [found.predicted(clone, clone).law for clone in range(12)]
    apart = [np.log(law.median) - nursery.clones[clone] for clone, law in enumerate(laws)]
    assert np.max(np.abs(apart)) < 0.04
    assert found.predicted(0, 0)[1:] == (150, "clone")
    spreads = {row.level: row for row in found.spreads}
    assert spreads["within"].value == pytest.approx(0.12, abs=0.01)
    assert spreads["spike"].low * 0.8 < 0.05 < spreads["spike"].high * 1.2
    assert min(row.value for row in found.spreads) > 0.01


def test_the_share_that_never_comes_is_recovered():
    rng = np.random.default_rng(2)
    nursery = Nursery(np.log(120), 0.1, 0.1, 0.0, 0.15, never=0.25)
    found = fit(log_of(nursery, rng, clones=20, looks=(15, 15), cut=0), shipped=PODS, may_never=True)
    assert found.never == pytest.approx(0.25, abs=3 * (0.25 * 0.75 / 300) ** 0.5)
    assert found.predicted().law.median == pytest.approx(120, rel=0.15)


def test_the_order_of_rows_is_no_matter():
    rng = np.random.default_rng(3)
    log = log_of(any_nursery(rng), rng, clones=5, looks=(1, 6), vague=10)
    shuffled = Waits(*np.array([getattr(log, name) for name in Waits.__dataclass_fields__])[:, ::-1])
    assert fit(log, shipped=PODS) == fit(shuffled, shipped=PODS)


def test_four_in_five_hold_in_simulated_nurseries():
    # A small, seeded share of tests.benchmarks.calibration.
    rng, known, new = np.random.default_rng(4), [], []
    for _ in range(15):
        nursery = any_nursery(rng)
        found = fit(log_of(nursery, rng, clones=10, looks=(2, 8)), shipped=SHIPPED)
        known += [holds(found.predicted(one, one).law.window(), nursery.of_clone(one)) for one in range(10)]
        new.append(holds(found.predicted().law.window(), nursery.of_a_new_parent()))
    assert 0.75 < np.mean(known) < 0.86
    assert 0.75 < np.mean(new) < 0.88
