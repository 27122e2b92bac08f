"""Simulated nurseries whose true timings are known: what their logs would hold, and how often a window would hold."""

from __future__ import annotations

import math
from dataclasses import dataclass, field
from statistics import NormalDist

import numpy as np

from breeding.science.phenology import Waits
from breeding.science.timings import Timing

SHIPPED = Timing(80, 240)
EPOCH = 740_000


@dataclass(frozen=True)
class Nursery:
    """True log days: a mean, and spreads between taxa, between clones, between spikes and within a spike."""

    mean: float
    taxon: float
    clone: float
    spike: float
    within: float
    never: float = 0.0
    taxa: dict[int, float] = field(default_factory=dict)
    clones: dict[int, float] = field(default_factory=dict)

    def of_clone(self, clone: int) -> NormalDist:
        """Log days of a new spike of this clone."""
        return NormalDist(self.clones[clone], math.hypot(self.spike, self.within))

    def of_a_new_parent(self) -> NormalDist:
        """Log days of a new clone of a new taxon."""
        return NormalDist(self.mean, math.hypot(self.taxon, self.clone, self.spike, self.within))


def any_nursery(rng: np.random.Generator, shipped: Timing = SHIPPED, never: float = 0.0) -> Nursery:
    """One of those that may start from what is shipped: often slower or quicker than that, alike or mixed inside."""
    mean = math.log(shipped.median) + rng.normal(0, 0.25)
    spreads = rng.uniform(0.05, 0.3), rng.uniform(0.05, 0.2), rng.uniform(0, 0.1), rng.uniform(0.08, 0.2)
    return Nursery(mean, *spreads, never)


def holds(window: tuple[float, float], truth: NormalDist) -> float:
    """The true chance that a length falls into the window."""
    return truth.cdf(math.log(window[1])) - truth.cdf(math.log(window[0]))


def log_of(
    nursery: Nursery,
    rng: np.random.Generator,
    *,
    clones: int,
    looks: tuple[int, int],
    per_taxon: int = 1,
    gaps: tuple[int, int] = (5, 12),
    vague: int = 0,
    cut: float = 0.1,
    stops: tuple[int, int] = (40, 200),
) -> Waits:
    """What the log of this nursery would hold.

    Args:
        clones: seed parents, ``per_taxon`` of each taxon.
        looks: fewest and most waits of each, three to a spike.
        gaps: fewest and most days between two looks.
        vague: days by which a start is known too loosely, at most.
        cut: the share that is stopped early, at an age from the first to the second of ``stops``.
    """
    rows = []
    for clone in range(clones):
        taxon = clone // per_taxon
        nursery.taxa.setdefault(taxon, nursery.mean + rng.normal(0, nursery.taxon))
        nursery.clones.setdefault(clone, nursery.taxa[taxon] + rng.normal(0, nursery.clone))
        for number in range(rng.integers(*looks, endpoint=True)):
            spike = clone * 1000 + number // 3
            if number % 3 == 0:
                centre = nursery.clones[clone] + rng.normal(0, nursery.spike)
            length = math.inf if rng.random() < nursery.never else math.exp(rng.normal(centre, nursery.within))
            stop = rng.integers(*stops) if rng.random() < cut else 1000
            rows.append((*_looked_at(rng, length, stop, gaps, vague), taxon, clone, spike))
    return Waits(*np.array(rows, dtype=float).reshape(-1, 7).T)


def _looked_at(rng: np.random.Generator, length: float, stop: int, gaps: tuple[int, int], vague: int):
    """Start, last "not yet" and first "yes" of one wait, as days."""
    start = EPOCH + int(rng.integers(0, 1000))
    first = start - int(rng.integers(0, vague, endpoint=True))
    ages = np.cumsum(rng.integers(*gaps, size=400))
    ages = ages[ages <= stop]
    before, after = ages[ages < length], ages[ages >= length]
    not_yet = start + before[-1] if before.size else first
    return first, first + vague, not_yet, start + after[0] if after.size else math.nan
