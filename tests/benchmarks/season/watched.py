"""A nursery that goes round by the rule: it looks when asked, writes down what it saw, and learns from that alone."""

from __future__ import annotations

from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from breeding.science.cadence import next_look, turns
from breeding.science.fitted import Fit
from breeding.science.grace import Found, Grace, learned
from breeding.science.phenology import Waits, fit
from breeding.science.predicted import Law
from breeding.science.timings import Timing
from tests.benchmarks.season.fixed import Outcome
from tests.benchmarks.season.world import DAYS, World

RIPE, TURNING = Timing(80, 240), Timing(5, 21)
"""What the nursery believes before its first look: pollinated to open, and turning to open."""
PLAIN, BAGGED = Grace.between(6, 10), Grace.between(21, 28)
SURELY_PLAIN, SURELY_BAGGED = 6, 21
"""Turning pods are looked at again within these days: one may open tomorrow."""
TAKE_READ = 42


class Policy(NamedTuple):
    """How pods are watched: whether turning is a stage to wait for, and whether turning pods are bagged at that look.

    Who only waits for open pods bags none. Real nurseries learn every night; here it is every so many days.
    """

    turning: bool = False
    bags: bool = False
    risk: float = 0.005
    longest_gap: int = 28
    learns_every: int = 28


class Known(NamedTuple):
    """What the nursery has learned so far; its laws are asked for by taxon, clone and spike."""

    ripe: Fit
    turning: Law
    plain: Grace

    @classmethod
    def shipped(cls) -> Known:
        return cls(Fit(0, RIPE.window()), TURNING, PLAIN)


class Seen:
    """The records of all sections, as far as looks went; days that nobody saw yet are nan."""

    def __init__(self, world: World) -> None:
        self.world, count = world, len(world.start)
        self.green_until = world.start + TAKE_READ
        self.not_open_until = world.start + TAKE_READ
        self.last_look = world.start + TAKE_READ
        self.turned_by = np.full(count, np.nan)
        self.opened_by = np.full(count, np.nan)
        self.bagged = np.zeros(count, dtype=bool)
        self.split = np.zeros(count, dtype=bool)
        self.looks = np.zeros(count, dtype=int)

    def look(self, section: int, day: int, *, bags: bool) -> None:
        """One look at one section, and what is done at once."""
        world = self.world
        self.looks[section] += 1
        self.last_look[section] = day
        if day >= world.opens[section]:
            keeps = world.bagged if self.bagged[section] else world.plain
            self.opened_by[section] = day
            self.split[section] = day > world.opens[section] + keeps[section]
            return
        self.not_open_until[section] = day
        if day < world.turns[section]:
            self.green_until[section] = day
        elif np.isnan(self.turned_by[section]):
            self.turned_by[section] = day
            self.bagged[section] = bags


def learn(seen: Seen, day: int) -> Known:
    """From what was written down by a day."""
    start, begun = seen.world.start, seen.world.start < day
    turned = np.fmin(seen.turned_by, seen.opened_by)
    pods = {"first": start, "last": start}
    # Pods never seen turning did turn between two looks; without them only slow ones would be counted.
    stage = {"first": seen.green_until, "last": turned, "not_yet": seen.not_open_until, "by": seen.opened_by}
    turning = fit(_waits(seen, ~np.isnan(turned), **stage), shipped=TURNING).predicted().law
    return Known(
        ripe=fit(_waits(seen, begun, **pods, not_yet=seen.not_open_until, by=seen.opened_by), shipped=RIPE),
        turning=turning,
        plain=learned(PLAIN, _found(seen), turning=turning),
    )


def _waits(
    seen: Seen, which: NDArray[np.bool_], *, first: NDArray, last: NDArray, not_yet: NDArray, by: NDArray
) -> Waits:
    columns = (first, last, not_yet, by, seen.world.taxon, seen.world.clone, seen.world.spike)
    return Waits(*(column[which].astype(float) for column in columns))


def _found(seen: Seen) -> Found:
    """Pods without a bag, not open at one look and open at the next."""
    which = ~np.isnan(seen.opened_by) & ~seen.bagged
    days = (seen.opened_by - seen.not_open_until)[which].astype(int)
    return Found(days.tolist(), (~np.isnan(seen.turned_by))[which].tolist(), seen.split[which].tolist())


def due(seen: Seen, known: Known, policy: Policy, section: int) -> int:
    """The working day on which the rule asks for the next look at a section."""
    world = seen.world
    ids = (int(world.taxon[section]), int(world.clone[section]), int(world.spike[section]))
    grace = BAGGED if seen.bagged[section] else known.plain
    start, not_yet, gap = world.start[section], seen.not_open_until[section], policy.longest_gap
    if policy.turning and np.isnan(seen.turned_by[section]):
        law, grace = turns(known.ripe.predicted(*ids).law, grace, known.turning)
        not_yet = seen.green_until[section]
    elif policy.turning:
        law, start = known.turning, int(seen.turned_by[section]) - round(known.turning.median)
        gap = min(gap, SURELY_BAGGED if seen.bagged[section] else SURELY_PLAIN)
    else:
        law = known.ripe.predicted(*ids).law
    age = next_look(int(not_yet - start), law, grace=grace, risk=policy.risk, longest_gap=policy.longest_gap)
    last = int(seen.last_look[section])
    return _working(world, min(max(int(start) + age, last + 1), last + gap), last)


def _working(world: World, day: int, last: int) -> int:
    """As ``on_working_day``, on the numbered days of the world."""
    back = [earlier for earlier in range(day, max(day - 7, last), -1) if world.working[earlier]]
    return back[0] if back else next(later for later in range(day, day + 8) if world.working[later])


def watched(world: World, policy: Policy) -> Outcome:
    """All rounds of a nursery that does what the rule asks on every day on which somebody goes round."""
    seen, known = Seen(world), Known.shipped()
    asked = np.array([due(seen, known, policy, section) for section in range(len(world.start))])
    for day in range(DAYS):
        if day % policy.learns_every == 0:
            known = learn(seen, day)
            for section in np.flatnonzero(np.isnan(seen.opened_by) & (world.start < day)):
                asked[section] = due(seen, known, policy, section)
        if world.rounds[day]:
            for section in np.flatnonzero((asked <= day) & (seen.last_look < day) & np.isnan(seen.opened_by)):
                seen.look(section, day, bags=policy.bags)
                asked[section] = due(seen, known, policy, section)
    if np.isnan(seen.opened_by).any():
        raise RuntimeError("Pods were never seen open: the days of the world are too few.")
    return Outcome(seen.looks, seen.split)
