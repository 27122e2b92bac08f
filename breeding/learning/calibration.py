"""Observed against predicted: each wait is held against what was known before it began. Pure.

A wait is known only as an interval, so it says no single share of its predicted law but a stretch of it; over all waits
the mean of these stretches is even where the predictions were right (the probability integral transform of data that
are known in intervals: Czado, Gneiting & Held 2009, Biometrics 65:1254-1261).
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from datetime import date
from typing import NamedTuple

from breeding.learning.waits import Wait, known_by
from breeding.science.fitted import Fit
from breeding.science.predicted import Law
from breeding.science.shares import wilson

SHARES = (0.1, 0.25, 0.5, 0.75, 0.9)
FEWEST = 8
"""Waits that must have come before anything is held against them; our choice."""
CUTS = (0.4, 0.6, 0.8)
"""Shares of the waits, in the order in which they began, at which is asked anew what was known by then."""


class Stretch(NamedTuple):
    """From which to which share of its predicted law a wait lies; with how much weight, if it may never come."""

    low: float
    high: float
    came: bool
    weight: float = 1.0

    def up_to(self, share: float) -> float:
        """How much of it lies up to this share."""
        if self.high <= self.low:
            return float(self.low <= share)
        return min(max((share - self.low) / (self.high - self.low), 0.0), 1.0)


class Held(NamedTuple):
    """By the day for which a share was predicted, the share that had come, with an 80% interval."""

    predicted: float
    had_come: float
    low: float
    high: float


class Calibration(NamedTuple):
    """``inside`` is the share that came within the 80% windows; ``came`` and ``waiting`` count what was held against
    its prediction; ``since`` is the day from which on waits began that were predicted from what was known before."""

    since: date
    came: int
    waiting: int
    held: tuple[Held, ...]
    inside: Held


def stretches(waits: Sequence[Wait], fitted: Callable[[Sequence[Wait]], Fit]) -> tuple[date, list[Stretch]] | None:
    """The stretch of each wait by what was known on the last of a few days before it began; None of too few.

    The first waits are not held against anything: they are what the first prediction was learned from.
    """
    if sum(wait.seen_by is not None for wait in waits) < FEWEST:
        return None
    cuts = _cuts(waits)
    found: list[Stretch] = []
    for cut, until in zip(cuts, [*cuts[1:], date.max], strict=True):
        before = [known for wait in waits if (known := known_by(wait, cut)) is not None]
        later = [wait for wait in waits if cut < wait.start_first <= until]
        if before and later:
            found += stretched(later, fitted(before))
    return (cuts[0], found) if found else None


def stretched(waits: Iterable[Wait], fit: Fit) -> list[Stretch]:
    return [stretch(wait, fit.predicted(wait.taxon, wait.clone, wait.spike).law) for wait in waits]


def stretch(wait: Wait, law: Law) -> Stretch:
    """Of what is still waited for, the share that a law leaves; the longer, the likelier it is never to come."""
    fewest = max((wait.not_yet - wait.start_last).days, 0)
    left = law.survival(fewest)
    if wait.seen_by is not None:
        return Stretch(1 - left, 1 - law.survival((wait.seen_by - wait.start_first).days), True)
    never = getattr(law, "never", 0.0)
    comes = (1 - never) * left
    return Stretch(1 - left, 1.0, False, comes / (comes + never) if comes + never > 0 else 0.0)


def calibrated(since: date, found: Sequence[Stretch]) -> Calibration:
    came = sum(one.came for one in found)
    inside = _held(found, 0.8, lambda one: one.up_to(SHARES[-1]) - one.up_to(SHARES[0]))
    held = tuple(_held(found, share, lambda one, share=share: one.up_to(share)) for share in SHARES)
    return Calibration(since, came, len(found) - came, held, inside)


def _held(found: Sequence[Stretch], predicted: float, part: Callable[[Stretch], float]) -> Held:
    n = sum(one.weight for one in found)
    hits = sum(one.weight * part(one) for one in found)
    return Held(predicted, hits / n if n else 0.0, *wilson(hits, n))


def _cuts(waits: Sequence[Wait]) -> list[date]:
    """Different days, so that those that began later can be held against what was known by then."""
    starts = sorted(wait.start_last for wait in waits)
    return sorted({starts[int(share * (len(starts) - 1))] for share in CUTS})
