"""Survival, quantiles and windows of the log-normal against scipy 1.17.1 and mpmath (source in log_normal.json)."""

import json
import math
from pathlib import Path

import pytest

from breeding.science.timings import TENTH, Timing

DATA = json.loads(Path(__file__).with_name("log_normal.json").read_text(encoding="utf-8"))


def _timing(row):
    return Timing.around(math.exp(row["mu"]), row["sigma"])


def _name(row):
    return " ".join(str(round(row[key], 4)) for key in ("mu", "sigma", "t", "p", "t0", "risk") if key in row)


def test_the_tenth_of_a_standard_normal():
    # Source: scipy.stats.norm.isf(0.1).
    assert pytest.approx(1.2815515655446004, rel=1e-15) == TENTH


@pytest.mark.parametrize("row", DATA["survival"], ids=_name)
def test_survival(row):
    # Source: scipy.stats.norm.sf; tolerance as in the file.
    assert _timing(row).survival(row["t"]) == pytest.approx(row["S"], abs=1e-12, rel=1e-9)


def test_survival_keeps_its_digits_in_the_tail():
    # Source: scipy.stats.norm.sf, where the absolute tolerance above would let 0 pass.
    rows = [row for row in DATA["survival"] if row["S"] < 1e-6]
    found = [_timing(row).survival(row["t"]) for row in rows]
    assert len(rows) == 3
    assert found == pytest.approx([row["S"] for row in rows], rel=1e-9, abs=0)


@pytest.mark.parametrize("row", DATA["quantiles"], ids=_name)
def test_quantiles(row):
    # Source: scipy.stats.norm.ppf through sf and isf.
    assert _timing(row).quantile(row["p"]) == pytest.approx(row["t"], rel=1e-9)


@pytest.mark.parametrize("row", DATA["conditional"], ids=_name)
def test_the_age_at_which_the_risk_is_reached(row):
    # Source: scipy.stats.norm sf and isf, and mpmath with 40 digits.
    assert _timing(row).quantile_after(row["t0"], row["risk"]) == pytest.approx(row["t1"], rel=1e-9)


@pytest.mark.parametrize("row", DATA["conditional_windows"], ids=_name)
def test_windows_of_what_has_not_come_yet(row):
    # Source: as above.
    timing = _timing(row)
    found = (*timing.window_after(row["t0"]), timing.median_after(row["t0"]))
    assert found == pytest.approx((row["p10"], row["p90"], row["p50"]), rel=1e-9)
