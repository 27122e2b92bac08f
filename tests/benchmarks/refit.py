"""One fit over 2,000 looks in 60 groups, against one plain lifelines fit per group in the same run.

Start with ``python -m tests.benchmarks.refit``, in an environment that has lifelines (``pip install lifelines``; it is
large, and nothing else here needs it). Both see the same intervals; ours also shares between the groups, integrates
over the spreads. CPU time of this process; target: at least 20 times faster.
"""

import math
import sys
import warnings
from collections.abc import Callable
from time import process_time

import numpy as np

from breeding.science.fitted import Fit
from breeding.science.phenology import Waits, fit
from tests.breeding.science.nurseries import SHIPPED, any_nursery, log_of

SEED, CLONES, LOOKS, ROUNDS = 5, 60, (33, 34), 3
FASTER = 20.0


def ours(waits: Waits) -> Fit:
    """All groups at once."""
    return fit(waits, shipped=SHIPPED)


def one_by_one(waits: Waits) -> dict[int, tuple[float, float]]:
    """lifelines, group by group; groups that it cannot fit are left out."""
    from lifelines import LogNormalFitter  # so that the module can be looked at where it is not installed

    found = {}
    low, high = waits.not_yet - waits.start_first, waits.seen_by - waits.start_first
    high = np.where(np.isnan(high), math.inf, high)
    for clone in np.unique(waits.clone):
        rows = waits.clone == clone
        fitter = LogNormalFitter().fit_interval_censoring(low[rows], high[rows])
        found[int(clone)] = (fitter.mu_, fitter.sigma_)
    return found


def seconds(work: Callable[[Waits], object], waits: Waits) -> float:
    """The least CPU time of some rounds."""
    times = []
    for _ in range(ROUNDS):
        start = process_time()
        work(waits)
        times.append(process_time() - start)
    return min(times)


def main() -> int:
    """Print times, the ratio and how far the estimates lie apart; the exit code is 1 if the target is missed."""
    warnings.simplefilter("ignore")
    rng = np.random.default_rng(SEED)
    waits = log_of(any_nursery(rng), rng, clones=CLONES, looks=LOOKS, per_taxon=3)
    quick, slow = seconds(ours, waits), seconds(one_by_one, waits)
    plain, shrunk = one_by_one(waits), ours(waits)
    apart = [math.log(shrunk.predicted(clone=clone).law.median) - mean for clone, (mean, _) in plain.items()]
    print(f"{len(waits.not_yet)} looks in {CLONES} clones: {quick:.3f} s, lifelines one by one {slow:.3f} s,", end=" ")
    print(f"{slow / quick:.1f} x faster; medians apart by {np.std(apart):.3f} log days")
    return int(slow / quick < FASTER)


if __name__ == "__main__":
    sys.exit(main())
