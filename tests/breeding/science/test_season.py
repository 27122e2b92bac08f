"""One simulated nursery: the rule beside the best fixed plan in hindsight. ``tests.benchmarks.season`` has many.

The truth, the plan and the targets are our own (tests/benchmarks/season); one nursery wanders more than many, so there
is some slack.
"""

import numpy as np
import pytest

from tests.benchmarks.season.compared import compared
from tests.benchmarks.season.fixed import best_fixed_plan, fixed_outcome, visits
from tests.benchmarks.season.watched import Policy
from tests.benchmarks.season.world import World, world

SEED = 1


@pytest.fixture(scope="module")
def truth() -> World:
    return world(SEED)


def test_waiting_for_pods_to_turn_saves_looks_and_pods():
    found = compared(Policy(turning=True, bags=True, learns_every=91), [SEED])
    assert found.lost.mean() <= 0.01
    assert found.first <= 1.0
    assert found.later <= 0.55


def test_the_first_pod_of_a_section_turns_before_it_opens(truth):
    assert (truth.start < truth.turns).all()
    assert (truth.turns < truth.opens).all()
    assert 150 <= len(truth.start) <= 480 and set(truth.year) == {0, 1, 2}


def test_a_visit_is_on_a_working_day_with_a_round_and_never_before_the_one_meant_last(truth):
    came = visits(truth)[:-14]
    assert truth.rounds[came].all()
    assert (np.diff(came) >= 0).all()


@pytest.mark.parametrize("most_lost", [0, 3])
def test_no_other_fixed_plan_that_loses_no_more_takes_fewer_looks(truth, most_lost):
    best = best_fixed_plan(truth, most_lost)
    assert best.outcome.lost.sum() <= most_lost
    for first, every in ((best.first, best.every + 1), (best.first + 10, best.every), (60, 7), (90, 5)):
        other = fixed_outcome(truth, first, every)
        assert other.lost.sum() > most_lost or other.looks.sum() >= best.outcome.looks.sum()
