"""Timings learned from looks: from nothing to much, and whatever a log may hold."""

import numpy as np
import pytest

from breeding.science.phenology import Fit, Waits, fit
from breeding.science.timings import Timing

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
