"""The plain interval-censored log-normal against lifelines 0.30.3 and scipy 1.17.1 (source in survival.json)."""

import json
import math
from pathlib import Path

import numpy as np
import pytest

from breeding.science.alone import fit_alone

DATA = json.loads(Path(__file__).with_name("survival.json").read_text(encoding="utf-8"))


def _ages(rows):
    low = [row[0] for row in rows for _ in range(row[2] if len(row) > 2 else 1)]
    high = [math.inf if row[1] is None else row[1] for row in rows for _ in range(row[2] if len(row) > 2 else 1)]
    return low, high


@pytest.mark.parametrize("case", DATA["data"], ids=lambda case: case["name"])
def test_published_and_invented_sets(case):
    # Source: scipy.optimize.minimize on the closed-form likelihood, checked against lifelines; as in the file.
    found = fit_alone(*_ages(case["rows"]))
    assert (found.mean, found.spread) == pytest.approx((case["mean"], case["spread"]), abs=1e-5)
    assert found.log_likelihood == pytest.approx(case["log_likelihood"], abs=1e-6)
    assert (found.mean_error, found.spread_error) == pytest.approx((case["mean_error"], case["spread_error"]), rel=1e-3)


@pytest.mark.parametrize("case", DATA["random"], ids=lambda case: f"{len(case['rows'])} rows")
def test_random_sets(case):
    # Source: lifelines LogNormalFitter().fit_interval_censoring, whose stopping rule is loose.
    found = fit_alone(*_ages(case["rows"]))
    assert (found.mean, found.spread) == pytest.approx((case["mean"], case["spread"]), rel=1e-3)
    assert case["log_likelihood"] - 1e-9 <= found.log_likelihood <= case["log_likelihood"] + 1e-3


@pytest.mark.parametrize("case", DATA["none"], ids=lambda case: case["name"])
def test_sets_without_a_maximum(case):
    assert fit_alone(*_ages(case["rows"])) is None


@pytest.mark.parametrize(("low", "high"), [(40, 30), (-1, 5)])
def test_impossible_intervals_are_refused(low, high):
    with pytest.raises(ValueError) as refusal:
        fit_alone([3, low], [9, high])
    said = f"got {float(low)} to {float(high)}."
    assert str(refusal.value) == f"An interval must begin at 0 or later and end no earlier; {said}"


def test_the_order_of_the_sets_is_no_matter():
    low, high = (np.array(ages) for ages in _ages(DATA["data"][0]["rows"]))
    assert fit_alone(low[::-1], high[::-1])[:3] == pytest.approx(fit_alone(low, high)[:3], rel=1e-9)
