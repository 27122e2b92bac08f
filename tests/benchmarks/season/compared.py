"""The rule beside the best fixed plan that loses no more, year by year, over several nurseries."""

from __future__ import annotations

from collections.abc import Iterable
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from tests.benchmarks.season.fixed import best_fixed_plan
from tests.benchmarks.season.watched import Policy, watched
from tests.benchmarks.season.world import YEARS, World, world


class Compared(NamedTuple):
    """By year: looks at each section by the rule and by the plan. ``lost`` are shares of all sections by the rule, by
    year; ``plan_lost`` is the plan's over all years."""

    looks: NDArray[np.float64]
    plan_looks: NDArray[np.float64]
    lost: NDArray[np.float64]
    plan_lost: float

    @property
    def first(self) -> float:
        """Looks in the first year, in those of the plan."""
        return float(self.looks[0] / self.plan_looks[0])

    @property
    def later(self) -> float:
        """Looks in the years after it, in those of the plan."""
        return float(self.looks[1:].sum() / self.plan_looks[1:].sum())


def compared(policy: Policy, seeds: Iterable[int]) -> Compared:
    """Means over nurseries. Each gets the plan that is best for its own three years and loses no more in them."""
    rows = [_of_one(world(seed), policy) for seed in seeds]
    looks, plan_looks, lost, plan_lost = (np.mean([row[at] for row in rows], axis=0) for at in range(4))
    return Compared(looks, plan_looks, lost, float(plan_lost.mean()))


def _of_one(truth: World, policy: Policy) -> tuple[NDArray[np.float64], ...]:
    ours = watched(truth, policy)
    plan = best_fixed_plan(truth, int(ours.lost.sum())).outcome
    return (
        _by_year(truth, ours.looks),
        _by_year(truth, plan.looks),
        _by_year(truth, ours.lost),
        _by_year(truth, plan.lost),
    )


def _by_year(truth: World, values: NDArray) -> NDArray[np.float64]:
    return np.array([values[truth.year == year].mean() for year in range(YEARS)])
