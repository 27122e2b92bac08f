"""A prediction of two equal parts is the plain log-normal of scipy 1.17.1 and mpmath (source in log_normal.json)."""

import json
import math
from pathlib import Path

import pytest

from breeding.science.predicted import quantiles_after, survival_of

DATA = json.loads(Path(__file__).with_name("log_normal.json").read_text(encoding="utf-8"))


def _parts(rows):
    return [[(share, math.exp(row["mu"]), row["sigma"]) for share in (0.3, 0.7)] for row in rows]


def test_survival():
    rows = DATA["survival"]
    found = survival_of([row["t"] for row in rows], _parts(rows))
    assert found == pytest.approx([row["S"] for row in rows], rel=1e-9, abs=1e-12)


def test_the_age_at_which_the_risk_is_reached():
    # Source: scipy.stats.norm sf and isf, and mpmath with 40 digits.
    rows = DATA["conditional"]
    found = quantiles_after([row["t0"] for row in rows], [row["risk"] for row in rows], _parts(rows))
    assert found == pytest.approx([row["t1"] for row in rows], rel=1e-9)
