"""An invented nursery for simulations: what truly happens to its pods, which no rule gets to see.

Every number here is our own choice, drawn so that no shipped timing is right for it.
"""

from __future__ import annotations

from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

YEARS = 3
DAYS = 365 * (YEARS + 2)
TAXA, CLONES_EACH = 4, 3
MEDIANS = (95, 120, 150, 185)
TAXON_SPREAD, CLONE_SPREAD, SPIKE_SPREAD, SECTION_SPREAD = 0.08, 0.10, 0.03, 0.07
GRACE_PLAIN, GRACE_BAGGED = (5.0, 14.0), (21.0, 28.0)
HOT_LEAVES = 0.6
MISSED = 0.05
"""The chance that nobody goes round on a working day."""


class World(NamedTuple):
    """Sections as arrays of one length; days are numbers from the first day on, a Monday.

    ``turns`` and ``opens`` are moments at which the first pod turns and opens. ``plain`` and ``bagged`` are days that
    its seed keeps from then on. ``rounds`` says of each day whether somebody goes round, ``working`` whether the
    nursery works on it, as everybody knows beforehand.
    """

    year: NDArray[np.int64]
    taxon: NDArray[np.int64]
    clone: NDArray[np.int64]
    spike: NDArray[np.int64]
    start: NDArray[np.int64]
    turns: NDArray[np.float64]
    opens: NDArray[np.float64]
    plain: NDArray[np.float64]
    bagged: NDArray[np.float64]
    working: NDArray[np.bool_]
    rounds: NDArray[np.bool_]


def world(seed: int) -> World:
    """Twelve seed parents of four taxa, 60 to 150 sections a year, 2 to 4 on a spike, over three years."""
    draw = np.random.default_rng(seed)
    sections = np.concatenate([_of_a_year(draw, year) for year in range(YEARS)], axis=1)
    year, clone, spike, start = sections
    taxon = clone // CLONES_EACH
    ripe = _lengths(draw, taxon, clone, spike)
    opens = start + ripe
    plain = draw.uniform(*GRACE_PLAIN, len(start))
    hot = _hot(draw)[opens.astype(int)]
    working = np.arange(DAYS) % 7 < 5
    return World(
        year=year,
        taxon=taxon,
        clone=clone,
        spike=spike,
        start=start,
        turns=opens - np.minimum(draw.lognormal(np.log(9), 0.35, len(start)), ripe / 2),
        opens=opens,
        plain=np.where(hot, plain * HOT_LEAVES, plain),
        bagged=draw.uniform(*GRACE_BAGGED, len(start)),
        working=working,
        rounds=working & (draw.random(DAYS) >= MISSED),
    )


def _of_a_year(draw: np.random.Generator, year: int) -> NDArray[np.int64]:
    """Rows of year, clone, spike and the day of pollination, a column for each section."""
    wanted, columns = draw.integers(60, 151), []
    likes = draw.dirichlet(np.full(TAXA * CLONES_EACH, 3.0))
    while len(columns) < wanted:
        clone, day = draw.choice(len(likes), p=likes), int(np.clip(draw.normal(130, 40), 0, 364))
        spike = year * 1000 + len(columns)
        columns += [(year, clone, spike, 365 * year + day + 3 * turn) for turn in range(draw.integers(2, 5))]
    return np.array(columns[:wanted]).T


def _lengths(draw: np.random.Generator, taxon: NDArray, clone: NDArray, spike: NDArray) -> NDArray[np.float64]:
    """Log-normal lengths from pollination to the first open pod, with effects of taxon, clone and spike."""
    by_taxon = np.log(MEDIANS) + draw.normal(0, TAXON_SPREAD, TAXA)
    by_clone = draw.normal(0, CLONE_SPREAD, TAXA * CLONES_EACH)
    by_spike = draw.normal(0, SPIKE_SPREAD, spike.max() + 1)
    return np.exp(by_taxon[taxon] + by_clone[clone] + by_spike[spike] + draw.normal(0, SECTION_SPREAD, len(spike)))


def _hot(draw: np.random.Generator) -> NDArray[np.bool_]:
    """Three hot spells of 4 to 10 days in each summer."""
    hot = np.zeros(DAYS, dtype=bool)
    for year in range(YEARS + 1):
        for first in draw.integers(365 * year + 150, 365 * year + 240, 3):
            hot[first : first + draw.integers(4, 11)] = True
    return hot
