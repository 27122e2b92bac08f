"""How often 80% windows hold in simulated nurseries. Start with ``python -m tests.benchmarks.calibration [NURSERIES]``.

Each nursery has a mean, spreads and parents of its own, drawn afresh; its log holds looks five to eleven days apart and
waits that were cut short. The window is held against the true distribution, so that no luck of the draw comes in after
the log. *known* is a new spike of a parent in the log, *new* a parent (and taxon) that is not.

Targets: 80 +- 3% for known parents, and for a new one once eight others are known; with fewer 75 to 90%, never
narrow (after a single look the window is still nearly the shipped one, so wide for the parent it came from).
"""

import sys
from time import process_time

import numpy as np

from breeding.science.phenology import fit
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


def main() -> int:
    """Print the shares; the exit code is 1 if one is outside its target."""
    nurseries, missed = int(sys.argv[1]) if len(sys.argv) > 1 else 400, 0
    for case in CASES:
        start = process_time()
        words = []
        for who, found, (low, high) in zip(("known", "new"), shares(case, nurseries), case[4:], strict=True):
            mean, error = np.mean(found), np.std(found) / np.sqrt(nurseries)
            missed += not low <= mean <= high
            words.append(f"{who} {mean:.1%} +- {error:.1%} (target {low:.0%} to {high:.0%})")
        print(f"{case[0]}: {', '.join(words)}; {(process_time() - start) / nurseries:.3f} s CPU a nursery", flush=True)
    return int(missed > 0)


if __name__ == "__main__":
    sys.exit(main())
