"""A mean that is shared along a ladder: nursery > taxon > clone > spike > the single wait.

Each rung's mean is normal around the mean of the rung above. Such a tree of normals is solved exactly by one pass up,
which sums what the waits say, and one pass down, which spreads it: the Kalman smoother on a tree. No matrix is built,
so 2,000 waits take a fraction of a millisecond.

Source: Chou, Willsky & Benveniste 1994, IEEE Trans. Autom. Control 39:464-478; any text on normal message passing.
"""

from __future__ import annotations

from typing import NamedTuple

import numpy as np

from breeding.science.intervals import Pieces, row_terms
from breeding.science.normal import Floats

LEVELS = ("taxon", "clone", "spike")

_ROUNDS = 30
_STILL = 1e-5


class Ladder(NamedTuple):
    """Which group hangs from which. ``parent[k]`` gives for each group of level k its group of level k - 1.

    Level 0 is the nursery alone, then come those of ``levels``, then the waits. ``ids[k]`` are the groups' ids, -1 for
    one that stands for an unknown parent of a single wait.
    """

    levels: tuple[str, ...]
    parent: tuple[np.ndarray, ...]
    ids: tuple[np.ndarray, ...]


class Node(NamedTuple):
    """What is known of every group's mean at one level, as departures from the prior mean.

    ``follows`` is how much of a change of the nursery's mean the group's would share; ``own`` is the variance that the
    nursery's mean has no part in.
    """

    mean: Floats
    var: Floats
    follows: Floats
    own: Floats


class Settled(NamedTuple):
    """The log chance of all that was seen, group means integrated out, and what is then known of the groups."""

    log: float
    nodes: tuple[Node, ...]
    centre: Floats


def ladder_of(columns: dict[str, np.ndarray]) -> Ladder:
    """The ladder of the waits, from one id a wait and level (-1: not known).

    A level on which no known group has two waits is left out: nothing would tell its groups from single waits. An
    unknown parent is a group of its own, for nothing says that two unknown parents are the same.
    """
    known = _nested(columns)
    levels = tuple(level for level in LEVELS if _repeats(known[level]))
    count = len(known["taxon"])
    above, parents, ids = np.zeros(count, dtype=int), [], []
    for level in levels:
        key = np.where(known[level] >= 0, known[level], -1 - np.arange(count))
        groups, first, index = np.unique(key, return_index=True, return_inverse=True)
        parents.append(above[first])
        ids.append(np.maximum(groups, -1))
        above = index
    return Ladder(levels, (*parents, above), tuple(ids))


def _nested(columns: dict[str, np.ndarray]) -> dict[str, np.ndarray]:
    """Each spike under one clone and each clone under one taxon: where rows disagree, under the one of highest id."""
    known = {level: np.array(columns[level], dtype=int) for level in LEVELS}
    for upper, lower in (("clone", "spike"), ("taxon", "clone")):
        has = known[lower] >= 0
        _, index = np.unique(known[lower][has], return_inverse=True)
        highest = np.full(index.max(initial=-1) + 1, -1)
        np.maximum.at(highest, index, known[upper][has])
        known[upper][has] = highest[index]
    return known


def _repeats(ids: np.ndarray) -> bool:
    known = ids[ids >= 0]
    return np.unique(known).size < known.size


def settle(
    ladder: Ladder, pieces: Pieces, *, within: float, between: Floats, doubt: float, never: float, start: Floats
) -> Settled:
    """Integrate the group means out around their most likely values (Laplace's method).

    Args:
        ladder, pieces: the waits; log ages as departures from the prior mean.
        within: standard deviation of log days within a group of the lowest level.
        between: that of the groups' means, one a level of the ladder.
        doubt: that of the nursery's own mean around 0.
        never: the share that never comes.
        start: each wait's mean to begin from.

    Source: Laplace's method as in Tierney & Kadane 1986, J. Am. Stat. Assoc. 81:82-86.
    """
    centre, moved = start, np.inf
    variances = (doubt**2, *np.square(between))
    for _ in range(_ROUNDS):
        terms = row_terms(pieces, centre, within, never)
        log, nodes = _passes(ladder, variances, terms.bend, terms.slope + terms.bend * centre)
        following = nodes[-1].mean[ladder.parent[-1]]
        last, moved = moved, np.max(np.abs(following - centre))
        if moved < _STILL:
            break
        if moved > last:  # Newton's step overshot: take the steepest curvature there can be, which never does.
            steep = np.full_like(centre, within**-2)
            following = _passes(ladder, variances, steep, terms.slope + steep * centre)[1][-1].mean[ladder.parent[-1]]
        centre = following
    flat = terms.log - terms.slope * centre - terms.bend * centre**2 / 2
    return Settled(float(np.sum(flat)) + log, nodes, centre)


def _passes(ladder: Ladder, variances: tuple[float, ...], precise: Floats, pull: Floats) -> tuple[float, tuple]:
    """Up and down the ladder, for waits that say exp(pull m - precise m² / 2) of their mean m.

    Up: integrating a group's mean m over its normal around the mean above, of variance v, leaves the same form for
    the mean above, with both numbers times k = 1 / (1 + v precise). Down: m = k (mean above + v pull).
    """
    log, kept = 0.0, []
    sizes = (1, *(len(ids) for ids in ladder.ids))
    for level in range(len(variances) - 1, -1, -1):
        above = ladder.parent[level]
        precise = np.bincount(above, precise, sizes[level])
        pull = np.bincount(above, pull, sizes[level])
        spread = variances[level]
        keep = 1 / (1 + spread * precise)
        log += float(np.sum(np.log(keep) + spread * pull**2 * keep)) / 2
        kept.append((keep, pull))
        precise, pull = precise * keep, pull * keep
    return log, _down(ladder, variances, kept[::-1])


def _down(ladder: Ladder, variances: tuple[float, ...], kept: list[tuple[Floats, Floats]]) -> tuple[Node, ...]:
    (keep, pull), spread = kept[0], variances[0]
    nodes = [Node(keep * spread * pull, keep * spread, np.ones(1), np.zeros(1))]
    for (keep, pull), spread, up in zip(kept[1:], variances[1:], ladder.parent, strict=False):
        above = Node(*(column[up] for column in nodes[-1]))
        mean = keep * (above.mean + spread * pull)
        own = keep**2 * above.own + keep * spread
        nodes.append(Node(mean, keep**2 * above.var + keep * spread, keep * above.follows, own))
    return tuple(nodes)
