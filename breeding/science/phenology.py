"""How long a step takes in this nursery, learned from looks along the ladder shipped > nursery > taxon > clone > spike.

Nobody sees the event itself. A wait tells the interval in which it began, the last day on which it surely had not come,
and the first on which it had; whatever was stopped or still waits tells only the first two. Whole days throughout: the
event of a wait that was looked at on day 40 and found done on day 47 lies in (40, 47].

Log days are normal around the mean of the group, the groups' means normal around the mean above (``ladder``). The group
means are integrated out; the spreads get priors that keep them off zero and are integrated over by a few points. What
is shipped is a prior on the nursery's mean and on the spread within a group (``_Prior`` says how strong).

Sources: interval censoring: Turnbull 1976. Shrinkage with integrated group means: Gelman & Hill 2007, Data Analysis
Using Regression, ch. 12. Priors on spreads: Chung et al. 2013, Psychometrika 78:685-709. Integration over the spreads:
Rue, Martino & Chopin 2009, J. R. Stat. Soc. B 71:319-392. Share that never happens: Boag 1949, J. R. Stat. Soc. B
11:15-53. All from memory.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import NamedTuple

import numpy as np

from breeding.science.climb import climb, curvature, star
from breeding.science.fitted import Fit, Known, Spread
from breeding.science.intervals import Pieces, pieces_of
from breeding.science.ladder import LEVELS, Ladder, Settled, ladder_of, settle
from breeding.science.normal import Floats
from breeding.science.timings import TENTH, Timing

# So many spreads stand for all their doubt in a prediction.
_PARTS = 5
_DIGITS = 7


@dataclass(frozen=True)
class Waits:
    """Waits for one step, one row each: arrays of equal length.

    Days are day numbers (``date.toordinal``). The step began on some day from ``start_first`` to ``start_last``; on
    ``not_yet`` it surely had not come (as ``start_first`` if never looked before it came); by ``seen_by`` it had (nan:
    not seen, censored at ``not_yet``). ``taxon``, ``clone`` and ``spike`` are ids of the groups, -1 where not known.
    """

    start_first: Floats
    start_last: Floats
    not_yet: Floats
    seen_by: Floats
    taxon: np.ndarray
    clone: np.ndarray
    spike: np.ndarray


class _Prior(NamedTuple):
    """What is believed before the first look, all in log days.

    ``centre`` and ``doubt``: the nursery's mean. ``within``: the spread within a group, known to a factor e^0.4,
    as three waits would tell it. ``rates``: each level's spread is gamma(2, rate), which is 0 at 0.
    """

    centre: float
    doubt: float
    within: float
    rates: Floats


# Shares of the shipped spread; their squares sum to about 1, so that a first look starts from the window shipped. Most
# of it lies between nurseries and between parents: chosen by simulation (tests.benchmarks.calibration), no source.
_DOUBT, _WITHIN, _BETWEEN = 0.75, 0.35, {"taxon": 0.45, "clone": 0.3, "spike": 0.2}
_WITHIN_DOUBT = 0.4
_NARROWEST = 0.2
_NEVER = (1.0, 4.0)
"""Beta prior of the share that never comes: a fifth, as five pots would tell it."""


def _prior(shipped: Timing, levels: tuple[str, ...]) -> _Prior:
    """The prior where these levels can be told apart; what the others would have added lies within a group then."""
    scale = max(shipped.spread, _NARROWEST)
    rates = [math.sqrt(6) / (_BETWEEN[level] * scale) for level in levels]
    within = math.hypot(_WITHIN, *(share for level, share in _BETWEEN.items() if level not in levels))
    return _Prior(math.log(shipped.median), _DOUBT * scale, within * scale, np.array(rates))


def fit(waits: Waits, *, shipped: Timing, may_never: bool = False) -> Fit:
    """Learn how long the step takes from all its waits at once.

    Args:
        waits: any number, in any order; rows that contradict themselves (seen before they began) are left out.
        shipped: what to believe before the first look, and without one that saw the end of a wait.
        may_never: some never come (seed, takes), so that a long silence says little about the others.

    Returns:
        The fit; with no wait that ended, or figures beyond all reckoning, the one that knows only what is shipped.
    """
    bare = Fit(0, (shipped.low, shipped.high))
    rows = _usable(waits)
    if not np.any(np.isfinite(rows.seen_by)):
        return bare
    found = _integrated(_Hill(rows, shipped, may_never=may_never))
    return found and _told(rows, found, bare) or bare


def _usable(waits: Waits) -> Waits:
    """The rows that can be true, each start no later than its end, sorted, so that the order of rows is no matter."""
    names = ("start_first", "start_last", "not_yet", "seen_by", "taxon", "clone", "spike")
    first, last, not_yet, seen, *groups = (np.asarray(getattr(waits, name), dtype=float) for name in names)
    last = np.fmin(np.fmax(first, last), seen)
    not_yet = np.fmin(np.fmax(not_yet, first), seen)
    sane = np.isfinite(first) & np.isfinite(last) & np.isfinite(not_yet) & ~np.isinf(seen) & (last >= first)
    table = np.array([first, last, not_yet, seen, *groups])[:, sane]
    return Waits(*table[:, np.lexsort(table)])


class _Point(NamedTuple):
    """One set of spreads that may be true."""

    weight: float
    within: float
    between: Floats
    never: float
    settled: Settled


class _Found(NamedTuple):
    centre: float
    ladder: Ladder
    points: tuple[_Point, ...]


class _Hill:
    """The log posterior of the spreads (and the share that never comes), as logs and a logit."""

    def __init__(self, rows: Waits, shipped: Timing, *, may_never: bool) -> None:
        self.ladder = ladder_of({level: getattr(rows, level) for level in LEVELS})
        self.prior, self.may_never = _prior(shipped, self.ladder.levels), may_never
        pieces = pieces_of(rows.start_first, rows.start_last, rows.not_yet, rows.seen_by, may_never=may_never)
        middle = self.prior.centre
        self.pieces: Pieces = pieces._replace(low=pieces.low - middle, high=pieces.high - middle)
        self.centre = np.zeros(len(rows.not_yet))

    def start(self) -> Floats:
        share = _NEVER[0] / sum(_NEVER)
        never = [math.log(share / (1 - share))] if self.may_never else []
        return np.array([math.log(self.prior.within), *-np.log(self.prior.rates), *never])

    def parted(self, at: Floats) -> tuple[float, Floats, float]:
        """The spread within, those between, and the share that never comes."""
        never = 1 / (1 + math.exp(-at[-1])) if self.may_never else 0.0
        return math.exp(at[0]), np.exp(at[1 : 1 + len(self.prior.rates)]), never

    def settled(self, at: Floats) -> Settled:
        within, between, never = self.parted(at)
        return settle(
            self.ladder,
            self.pieces,
            within=within,
            between=between,
            doubt=self.prior.doubt,
            never=never,
            start=self.centre,
        )

    def __call__(self, at: Floats) -> float:
        if np.max(np.abs(at)) > 15:
            return -math.inf
        within, between, never = self.parted(at)
        found = self.settled(at)
        self.centre = found.centre
        log = found.log - (math.log(within / self.prior.within) / _WITHIN_DOUBT) ** 2 / 2
        log += float(np.sum(2 * np.log(between) - self.prior.rates * between))
        if self.may_never:
            log += _NEVER[0] * math.log(never) + _NEVER[1] * math.log1p(-never)
        return log if math.isfinite(log) else -math.inf


def _integrated(hill: _Hill) -> _Found | None:
    """The spreads integrated over by a few points; None where the hill has no top that can be reckoned with."""
    top = climb(hill, hill.start(), gain=1e-3)
    with np.errstate(invalid="ignore"):
        bend = curvature(hill, top.at, width=0.05)
    if not (math.isfinite(top.value) and np.all(np.isfinite(bend))):
        return None
    places, distance, weights = star(top.at, bend)
    logs = np.array([hill(place) for place in places])
    weights = weights * np.exp(logs - top.value + distance / 2)
    weights /= weights.sum()
    points = [_Point(w, *hill.parted(at), hill.settled(at)) for w, at in zip(weights, places, strict=True) if w > 0]
    return _Found(hill.prior.centre, hill.ladder, tuple(points))


def _told(rows: Waits, found: _Found, bare: Fit) -> Fit | None:
    weights = np.array([point.weight for point in found.points])
    known = [row for level in range(len(found.ladder.levels) + 1) for row in _known(rows, found, weights, level)]
    fitted = Fit(
        n=int(np.count_nonzero(np.isfinite(rows.seen_by))),
        shipped=bare.shipped,
        never=_short(weights @ np.array([point.never for point in found.points])),
        known=tuple(known),
        doubts=tuple(_doubts(found, weights)),
        spreads=tuple(_spreads(found, weights)),
    )
    return fitted if np.all(np.isfinite([row[2:] for row in known])) else None


def _known(rows: Waits, found: _Found, weights: Floats, level: int) -> list[Known]:
    """The known groups of a level, their moments mixed over the points."""
    ladder = found.ladder
    name, ids = ("nursery", np.array([-1])) if not level else (ladder.levels[level - 1], ladder.ids[level - 1])
    means, variances, shifts, shift_vars = [], [], [], []
    for point in found.points:
        node, nursery = point.settled.nodes[level], point.settled.nodes[0]
        means.append(node.mean)
        variances.append(node.var)
        shifts.append(node.mean - nursery.mean)
        shift_vars.append(node.own + (1 - node.follows) ** 2 * nursery.var)
    mean, var = _mixed(weights, np.array(means), np.array(variances))
    shift, shift_var = _mixed(weights, np.array(shifts), np.array(shift_vars))
    counts = _counts(rows, name, ids)
    columns = zip(ids, counts, mean + found.centre, var, shift, shift_var, strict=True)
    return [Known(name, int(i), int(n), *map(_short, rest)) for i, n, *rest in columns if i >= 0 or not level]


def _mixed(weights: Floats, means: Floats, variances: Floats) -> tuple[Floats, Floats]:
    """Mean and variance of a mixture."""
    mean = weights @ means
    return mean, weights @ (variances + (means - mean) ** 2)


def _counts(rows: Waits, level: str, ids: np.ndarray) -> np.ndarray:
    ended = np.isfinite(rows.seen_by)
    if level == "nursery":
        return np.array([np.count_nonzero(ended)])
    groups = np.asarray(getattr(rows, level), dtype=int)[ended]
    return np.array([np.count_nonzero(groups == one) for one in ids])


def _doubts(found: _Found, weights: Floats) -> list[tuple[str, tuple[tuple[float, float], ...]]]:
    """For a new wait below each level: the variances that it meets further down, thinned to a few."""
    within = np.array([point.within**2 for point in found.points])
    between = np.array([point.between**2 for point in found.points])
    names = ("nursery", *found.ladder.levels)
    below = [within + between[:, level:].sum(axis=1) for level in range(len(names))]
    return [(name, _thinned(weights, variances)) for name, variances in zip(names, below, strict=True)]


def _thinned(weights: Floats, variances: Floats) -> tuple[tuple[float, float], ...]:
    """A few (weight, variance) of about equal weight, with the same mean variance."""
    order = np.argsort(variances)
    weights, variances = weights[order], variances[order]
    bins = np.minimum((np.cumsum(weights) - weights / 2) * _PARTS, _PARTS - 1).astype(int)
    total = np.bincount(bins, weights)
    mean = np.bincount(bins, weights * variances)[total > 0] / total[total > 0]
    return tuple((_short(w), _short(v)) for w, v in zip(total[total > 0], mean, strict=True))


def _spreads(found: _Found, weights: Floats) -> list[Spread]:
    logs = np.log([[*point.between, point.within] for point in found.points])
    mean, var = _mixed(weights, logs, np.zeros_like(logs))
    rows = zip((*found.ladder.levels, "within"), mean, TENTH * np.sqrt(var), strict=True)
    return [Spread(name, *(_short(math.exp(m + way * reach)) for way in (0, -1, 1))) for name, m, reach in rows]


def _short(number: float) -> float:
    return float(f"{number:.{_DIGITS}g}")
