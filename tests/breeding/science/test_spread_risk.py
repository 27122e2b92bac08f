"""The owner's risk for each thing, spread over the looks that are still expected while there is danger."""

import json
import math
from pathlib import Path

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from breeding.science.cadence import looks_and_losses, next_look, next_look_age, next_looks, risk_a_look, shares_lost
from breeding.science.grace import Grace
from breeding.science.predicted import Predicted
from breeding.science.timings import Timing

PLAIN = Grace.between(6, 10)
LAWS = [Timing(80, 240), Timing.around(150, 0.2), Timing.around(120, 0.08)]
ROWS = json.loads((Path(__file__).parents[2] / "published" / "log_normal.json").read_text())["conditional"]


@pytest.mark.parametrize("row", [row for row in ROWS if row["t0"] == int(row["t0"])])
def test_a_grace_that_is_the_same_for_all_gives_the_day_of_the_closed_formula(row):
    # Source of t1, the age at which the risk is reached: scipy.stats.norm sf and isf, as in log_normal.json.
    age, timing = int(row["t0"]), Timing.around(math.exp(row["mu"]), row["sigma"])
    found = next_look_age(age, timing=timing, risk=row["risk"], grace=Grace.of(6), longest_gap=40)
    expected = max(math.floor(min(row["t1"] + 6, age + 40) + 1e-9), age + 1)
    assert abs(found - expected) <= (0 if row["S_t0"] > 1e-250 else 1)


@pytest.mark.parametrize("law", LAWS)
@pytest.mark.parametrize("grace", [Grace.of(6), PLAIN, Grace.between(21, 28)])
@pytest.mark.parametrize("risk", [0.002, 0.01, 0.05])
def test_the_losses_of_all_looks_together_stay_within_the_risk(law, grace, risk):
    spent = looks_and_losses(law, grace, risk, 28)
    assert 0.3 * risk < spent.lost <= risk


@pytest.mark.parametrize("law", LAWS)
def test_looks_and_losses_are_those_of_things_drawn_and_looked_at(law):
    # Drawn by numpy.random.Generator: lengths and graces of 40,000 things, each looked at when the rule says.
    draw = np.random.default_rng(11)
    opens = draw.lognormal(math.log(law.median), law.spread, 40_000)
    lost_at = opens + draw.choice(PLAIN.days, p=PLAIN.shares, size=len(opens))
    looks, lost, age = np.zeros(len(opens)), np.zeros(len(opens), dtype=bool), 0
    waiting = np.ones(len(opens), dtype=bool)
    while waiting.any():
        age = next_look(age, law, grace=PLAIN, risk=0.02, longest_gap=28)
        looks += waiting
        lost |= waiting & (lost_at < age)
        waiting &= opens > age
    spent = looks_and_losses(law, PLAIN, 0.02, 28)
    assert spent.looks == pytest.approx(looks.mean(), rel=0.01)
    assert spent.lost == pytest.approx(lost.mean(), abs=0.003)


def _least_cost(law, grace, gap, price):
    """Looks plus ``price`` for each thing lost, by dynamic programming over every way to choose the days."""
    last = math.ceil(law.quantile(0.9999))
    cost = np.zeros(last + gap + 1)
    for age in range(last, -1, -1):
        waiting = law.survival(age)
        cost[age] = (price * shares_lost(age, law, grace, gap)[1:] * waiting + cost[age + 1 : age + gap + 1]).min()
        cost[age] += waiting
    return cost[0]


@pytest.mark.parametrize("law", LAWS[1:])
@pytest.mark.parametrize("gap", [28, 90])
def test_hardly_any_other_choice_of_days_takes_fewer_looks_for_the_same_losses(law, gap):
    # Bellman's recursion is the oracle: at any price of a loss no rule costs less, and ours is near it at its own.
    spent = looks_and_losses(law, PLAIN, 0.005, gap)
    least = max(_least_cost(law, PLAIN, gap, price) - price * spent.lost for price in (100, 200, 300, 450))
    assert least <= spent.looks <= 1.06 * least


@given(st.sampled_from(LAWS), st.integers(0, 900), st.sampled_from([0.002, 0.02]), st.sampled_from([7, 28, 90]))
@settings(max_examples=60, deadline=None)
def test_each_look_is_the_last_day_within_its_share_of_the_risk(law, age, risk, gap):
    look = next_look(age, law, grace=PLAIN, risk=risk, longest_gap=gap)
    lost = shares_lost(age, law, PLAIN, gap)
    share = risk_a_look(law, grace=PLAIN, risk=risk, longest_gap=gap)
    assert age + 1 <= look <= age + gap
    assert lost[look - age] <= share * (1 + 1e-9) or look == age + 1
    assert look == age + gap or lost[look - age + 1] > share


def test_a_mixture_of_one_is_the_timing_itself():
    timing, mixture = LAWS[1], Predicted(((1.0, LAWS[1].median, LAWS[1].spread),))
    assert looks_and_losses(mixture, PLAIN, 0.01, 28) == pytest.approx(looks_and_losses(timing, PLAIN, 0.01, 28))


def test_many_at_once_are_each_as_one_alone():
    ages = np.array([[0, 60, 120], [200, 400, 200_000]])
    together = next_looks(ages, LAWS[0], grace=PLAIN, risk=0.01, longest_gap=28)
    assert together.tolist() == [
        [next_look(age, LAWS[0], grace=PLAIN, risk=0.01, longest_gap=28) for age in row] for row in ages.tolist()
    ]


def test_a_smaller_risk_and_a_shorter_grace_take_more_looks():
    def looks(grace, risk):
        return looks_and_losses(LAWS[1], grace, risk, 90).looks

    assert looks(PLAIN, 0.002) > looks(PLAIN, 0.01) > looks(Grace.between(21, 28), 0.01)
    assert looks(PLAIN.shortened(), 0.01) > looks(PLAIN.mixed(PLAIN.shortened(), 0.2), 0.01) > looks(PLAIN, 0.01)


@pytest.mark.parametrize("law", LAWS)
def test_absurd_ages_get_a_day_within_the_longest_gap(law):
    for age in (5_000, 100_000, 10**9):
        assert age + 3 <= next_look(age, law, grace=PLAIN, risk=0.01, longest_gap=60) <= age + 60


def test_what_may_never_come_is_asked_about_ever_less():
    sure = Predicted(((1.0, 120.0, 0.08),))
    half = Predicted(sure.parts, never=0.5)
    risk = {"grace": PLAIN, "risk": 0.01, "longest_gap": 28}
    assert next_look(10, half, **risk) == next_look(10, sure, **risk)
    assert next_look(120, half, **risk) >= next_look(120, sure, **risk)
    assert next_look(400, half, **risk) == 428 > next_look(400, sure, **risk)
    assert next_look(10**6, half, **risk) == 10**6 + 28


@pytest.mark.parametrize(
    ("values", "sentence"),
    [
        ({"risk": 0.0}, "risk must be between 0 and 1; got 0.0."),
        ({"longest_gap": 0}, "longest_gap must be 1 or more; got 0."),
    ],
)
def test_values_out_of_range_are_named(values, sentence):
    with pytest.raises(ValueError) as refusal:
        next_look(10, LAWS[0], **{"grace": PLAIN, "risk": 0.01, "longest_gap": 28} | values)
    assert str(refusal.value) == sentence


def test_ages_below_nothing_are_refused():
    with pytest.raises(ValueError) as refusal:
        next_looks([3, -2], LAWS[0], grace=PLAIN, risk=0.01, longest_gap=28)
    assert str(refusal.value) == "last_age must be 0 or more; got -2."
