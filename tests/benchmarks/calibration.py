"""How often 80% windows hold in simulated nurseries. Start with ``python -m tests.benchmarks.calibration [NURSERIES]``.

Each nursery has a mean, spreads and parents of its own, drawn afresh; its log holds looks five to eleven days apart and
waits that were cut short. The window is held against the true distribution, so that no luck of the draw comes in after
the log. *known* is a new spike of a parent in the log, *new* a parent (and taxon) that is not.

Germination is drawn with pots that never come up, and with pots given up early: there the window is of those that do
come up, and the share that never does is printed beside the true one.

Targets: 80 +- 3% for known parents, and for a new one once eight others are known; with fewer 75 to 90%, never
narrow (after a single look the window is still nearly the shipped one, so wide for the parent it came from).
"""

import sys
from time import process_time

import numpy as np

from breeding.science.phenology import fit
from breeding.science.timings import Timing
from tests.breeding.science.nurseries import SHIPPED, any_nursery, holds, log_of

SEED = 20261125
# name, parents, parents a taxon, looks of each (fewest, most), lowest and highest share for known and for new parents.
RIGHT, WIDE = (0.77, 0.83), (0.75, 0.90)
CASES = (
    ("1 parent, 1 look", 1, 1, (1, 1), (0.75, 1.0), WIDE),
    ("1 parent, 10 looks", 1, 1, (10, 10), WIDE, WIDE),
    ("2 parents, 2 to 6 looks each", 2, 1, (2, 6), WIDE, WIDE),
    ("4 parents, 2 to 6 looks each", 4, 1, (2, 6), WIDE, WIDE),
    ("8 parents, 2 to 6 looks each", 8, 1, (2, 6), RIGHT, RIGHT),
    ("8 parents of 4 taxa, 2 to 6 looks each", 8, 2, (2, 6), RIGHT, WIDE),
    ("16 parents, 1 look each", 16, 1, (1, 1), RIGHT, RIGHT),
    ("16 parents of 8 taxa, 5 to 20 looks each", 16, 2, (5, 20), RIGHT, RIGHT),
    ("40 parents of 10 taxa, 3 to 30 looks each", 40, 4, (3, 30), RIGHT, RIGHT),
)

POTS = Timing(28, 112)
"""Fresh seed, as shipped. Between a tenth and half of all pots never come up, a third is given up before a year."""
POT_CASES = (
    ("4 mothers, 2 to 6 pots each", 4, 1, (2, 6), WIDE, WIDE),
    ("8 mothers, 4 to 12 pots each", 8, 1, (4, 12), RIGHT, RIGHT),
    ("24 mothers of 8 taxa, 5 to 20 pots each", 24, 3, (5, 20), RIGHT, RIGHT),
)


def shares(case: tuple, nurseries: int, seed: int = SEED) -> tuple[list[float], list[float]]:
    """The true chances that the windows hold: for all known parents, and for a new one, one number a nursery."""
    _, clones, per_taxon, looks, _, _ = case
    rng = np.random.default_rng(seed)
    known, new = [], []
    for _ in range(nurseries):
        nursery = any_nursery(rng)
        waits = log_of(nursery, rng, clones=clones, looks=looks, per_taxon=per_taxon)
        found = fit(waits, shipped=SHIPPED)
        laws = [(found.predicted(clone // per_taxon, clone).law, clone) for clone in range(clones)]
        known.append(np.mean([holds(law.window(), nursery.of_clone(clone)) for law, clone in laws]))
        new.append(holds(found.predicted().law.window(), nursery.of_a_new_parent()))
    return known, new


def pot_shares(case: tuple, nurseries: int, seed: int = SEED) -> tuple[list[float], list[float], list[float]]:
    """The same for pots, of which some never come up; and by how much the share of those was missed."""
    _, clones, per_taxon, looks, _, _ = case
    rng = np.random.default_rng(seed)
    known, new, missed = [], [], []
    for _ in range(nurseries):
        nursery = any_nursery(rng, POTS, never=rng.uniform(0.1, 0.5))
        waits = log_of(nursery, rng, clones=clones, looks=looks, per_taxon=per_taxon, cut=1 / 3, stops=(30, 365))
        found = fit(waits, shipped=POTS, may_never=True)
        laws = [(found.predicted(clone // per_taxon, clone).law, clone) for clone in range(clones)]
        known.append(np.mean([holds(law.window(), nursery.of_clone(clone)) for law, clone in laws]))
        new.append(holds(found.predicted().law.window(), nursery.of_a_new_parent()))
        missed.append(found.never - nursery.never)
    return known, new, missed


def main() -> int:
    """Print the shares; the exit code is 1 if one is outside its target."""
    nurseries, missed = int(sys.argv[1]) if len(sys.argv) > 1 else 400, 0
    for of, cases, simulate in (("pods", CASES, shares), ("pots", POT_CASES, pot_shares)):
        for case in cases:
            start = process_time()
            found = simulate(case, nurseries)
            words = [_said(*row) for row in zip(("known", "new"), found, case[4:], strict=False)]
            missed += sum(not low <= np.mean(one) <= high for one, (low, high) in zip(found, case[4:], strict=False))
            words += [f"never comes missed by {np.mean(one):+.3f} +- {np.std(one):.3f}" for one in found[2:]]
            spent = (process_time() - start) / nurseries
            print(f"{of}, {case[0]}: {', '.join(words)}; {spent:.3f} s CPU a nursery", flush=True)
    return int(missed > 0)


def _said(who: str, found: list[float], target: tuple[float, float]) -> str:
    error = np.std(found) / np.sqrt(len(found))
    return f"{who} {np.mean(found):.1%} +- {error:.1%} (target {target[0]:.0%} to {target[1]:.0%})"


if __name__ == "__main__":
    sys.exit(main())
