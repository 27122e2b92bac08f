"""The best that anybody could have done with one start day and one interval, had they known the truth."""

from __future__ import annotations

from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from tests.benchmarks.season.world import DAYS, World

FIRST = range(30, 161, 5)
EVERY = range(1, 29)
MOST_VISITS = 400


class Outcome(NamedTuple):
    """Looks at each section until it was seen open, and whether its grace had run out by then."""

    looks: NDArray[np.int64]
    lost: NDArray[np.bool_]


class FixedPlan(NamedTuple):
    """The plan with the fewest looks that loses no more, and what came of it."""

    first: int
    every: int
    outcome: Outcome


def visits(world: World) -> NDArray[np.int64]:
    """When somebody comes who meant to come on a day: on the working day before, or on the next day with a round."""
    days = np.arange(DAYS)
    worked = np.maximum.accumulate(np.where(world.working, days, 0))
    coming = np.where(world.rounds, days, DAYS)
    return np.minimum.accumulate(coming[::-1])[::-1][worked]


def fixed_outcome(world: World, first: int, every: int) -> Outcome:
    """Look at every section from ``first`` days after pollination on, each ``every`` days, until it is open."""
    came = visits(world)
    steps = np.arange(max(2, (500 - first) // every + 2))
    planned = np.minimum(world.start[:, None] + first + every * steps, DAYS - 1)
    at = came[planned]
    sees = at >= world.opens[:, None]
    found = sees.argmax(axis=1)
    rows = np.arange(len(at))
    # Two days of the plan that fall on one visit are one look.
    new = np.diff(at, axis=1, prepend=-1) > 0
    looks = np.cumsum(new, axis=1)[rows, found]
    return Outcome(looks, at[rows, found] > world.opens + world.plain)


def best_fixed_plan(world: World, most_lost: int) -> FixedPlan:
    """By trying them all on the same truth: the fewest looks among the plans that lose no more than ``most_lost``."""
    plans = (FixedPlan(first, every, fixed_outcome(world, first, every)) for first in FIRST for every in EVERY)
    fitting = [plan for plan in plans if plan.outcome.lost.sum() <= most_lost]
    return min(fitting, key=lambda plan: plan.outcome.looks.sum())
