"""Waits so far outside all the others that they are no waits but slips, such as a year typed wrong: left out."""

from __future__ import annotations

import numpy as np

from breeding.science.fitted import Fit
from breeding.science.normal import Floats
from breeding.science.phenology import Waits, fit
from breeding.science.predicted import Predicted
from breeding.science.timings import Timing

NEVER_BY_CHANCE = 1e-4
"""What the other waits give less of a chance than this, counts as a slip; our choice."""
FEWEST = 3
"""Waits that ended, before one can stand apart from the others."""
MOST = 0.1
"""Of more of the waits than this share (or than one) none is a slip: that is how it is here."""
_SUSPECT = 4.0
_MAD = 1.4826
# Scales are no narrower than these shares of the shipped spread, lest a few waits that are all alike make suspects.
_LEAST_IN_A_GROUP, _LEAST_OF_ALL = 0.25, 0.5

Mask = np.ndarray


def fit_without_slips(waits: Waits, *, shipped: Timing, may_never: bool = False) -> tuple[Fit, Mask]:
    """``phenology.fit`` to all waits but those far outside, and which those are.

    A wait is suspected if its log days lie more than four robust spreads from the median of its clone, else of its
    taxon, else of the nursery. It is left out if the fit to all that is not suspected gives less than one chance in
    ten thousand to so long a wait, or to so short a one. Others that are much like it are no suspects, so two alike in
    one group both count. What is only waited for can be too long, and that only where it must come in the end.

    Source: median and median absolute deviation as in Hampel 1974, J. Am. Stat. Assoc. 69:383-393 (from memory);
    judging a wait by a fit that has not seen it: leave-one-out prediction. The limits are our choice.
    """
    suspects = suspected(waits, shipped)
    out = np.zeros(len(suspects), dtype=bool)
    if not suspects.any():
        return fit(waits, shipped=shipped, may_never=may_never), out
    found = fit(_only(waits, ~suspects), shipped=shipped, may_never=may_never)
    out[suspects] = [_is_slip(waits, row, found, may_never) for row in np.flatnonzero(suspects)]
    if not np.array_equal(out, suspects):
        found = fit(_only(waits, ~out), shipped=shipped, may_never=may_never)
    return found, out


def suspected(waits: Waits, shipped: Timing) -> Mask:
    """The waits that stand apart, cheaply told; none where few ended, or where many would."""
    fewest, most = _ages(waits)
    ended = np.isfinite(most) & (most > 0)
    waited = ~np.isfinite(waits.seen_by) & np.isfinite(fewest)
    none = np.zeros(len(ended), dtype=bool)
    if np.count_nonzero(ended) < FEWEST:
        return none
    age = np.log(np.maximum(np.where(ended, (fewest + most) / 2, fewest), 0.5), where=ended | waited, out=none * np.nan)
    apart, scale = _apart(age, ended, waits, shipped)
    found = (ended & (np.abs(apart) > _SUSPECT * scale)) | (waited & (apart > _SUSPECT * scale))
    return found if np.count_nonzero(found) <= max(1, MOST * np.count_nonzero(ended)) else none


def _ages(waits: Waits) -> tuple[Floats, Floats]:
    """Fewest and most days that each can have taken; nan where it was not seen."""
    first, last, not_yet, seen = (
        np.asarray(getattr(waits, name), dtype=float) for name in ("start_first", "start_last", "not_yet", "seen_by")
    )
    return np.fmax(np.fmin(not_yet, seen) - last, 0), seen - first


def _apart(age: Floats, ended: Mask, waits: Waits, shipped: Timing) -> tuple[Floats, Floats]:
    """How far each is from the median of the narrowest group that has two, and the robust spread it is held against."""
    middle = np.full(len(age), np.median(age[ended]))
    apart = np.abs(age - middle)[ended]
    scale = np.full(len(age), max(_MAD * np.median(apart), _LEAST_OF_ALL * shipped.spread))
    grouped = np.zeros(len(age), dtype=bool)
    for ids in (waits.taxon, waits.clone):
        groups, of = np.unique(ids, return_inverse=True)
        for group in np.flatnonzero((groups >= 0) & (np.bincount(of[ended], minlength=len(groups)) >= 2)):
            rows = of == group
            middle[rows], grouped[rows] = np.median(age[rows & ended]), True
    if np.any(grouped & ended):
        within = _MAD * np.median(np.abs(age - middle)[grouped & ended])
        scale[grouped] = max(within, _LEAST_IN_A_GROUP * shipped.spread)
    return age - middle, scale


def _is_slip(waits: Waits, row: int, others: Fit, may_never: bool) -> bool:
    ids = (int(column[row]) for column in (waits.taxon, waits.clone, waits.spike))
    law: Predicted = others.predicted(*ids).law
    fewest, most = (float(column[row]) for column in _ages(waits))
    if np.isnan(most):
        return not may_never and law.survival(fewest) < NEVER_BY_CHANCE
    return min(law.survival(fewest), 1 - law.survival(most)) < NEVER_BY_CHANCE


def _only(waits: Waits, rows: Mask) -> Waits:
    return Waits(*(np.asarray(getattr(waits, name))[rows] for name in Waits.__dataclass_fields__))
