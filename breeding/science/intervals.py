"""How well a log-normal explains what was seen of a wait: between two looks, not yet, or anything in between.

A look tells a whole day only. "Not yet" on day 40 and "it has come" on day 47 after the start is taken as an event in
(40, 47]: later than the one, no later than the other. Nothing is ever seen to a fraction of a day.
"""

from __future__ import annotations

from typing import NamedTuple

import numpy as np

from breeding.science.normal import Floats, log_density, tail, tail_fall

# A vague start is tried on so many days of its interval at most, evenly spaced.
_STARTS = 12


class Terms(NamedTuple):
    """The log chance of each row, its slope in the row's centre, and its curvature (negative second derivative)."""

    log: Floats
    slope: Floats
    bend: Floats


class Pieces(NamedTuple):
    """Rows as weighted sums of intervals: one a possible start, and one for never where that may be.

    ``first`` is each row's first piece; ``low`` and ``high`` are log ages (minus and plus infinity allowed); ``weight``
    is the log share of the piece among its row's starts; ``never`` marks the pieces that stand for never.
    """

    first: np.ndarray
    row: np.ndarray
    low: Floats
    high: Floats
    weight: Floats
    never: np.ndarray


def interval_terms(low: Floats, high: Floats, centre: Floats, spread: float) -> Terms:
    """Log chance that a normal around ``centre`` falls into (low, high], with its derivatives in ``centre``.

    Each interval is turned to the upper side, where Q keeps its digits: P = Q(a) (1 - Q(b) / Q(a)). The curvature lies
    between 0 and 1 / spread²: it is one less the variance of what the interval leaves of the normal.

    Source: Turnbull 1976, J. R. Stat. Soc. B 38:290-295 for the likelihood; derivatives by hand.
    """
    with np.errstate(all="ignore"):
        left, right = (low - centre) / spread, (high - centre) / spread
        turned = left + right < 0
        near, far = np.where(turned, -right, left), np.where(turned, -left, right)
        here, there = tail(near), tail(far)
        log = here.log + np.log(-np.expm1(tail_fall(here, there, far - near)))
        at_left, at_right = (np.exp(log_density(z) - log) for z in (left, right))
        slope = (at_left - at_right) / spread
        turn = np.where(np.isfinite(left), left * at_left, 0) - np.where(np.isfinite(right), right * at_right, 0)
        bend = np.clip(slope**2 - turn / spread**2, 0, 1 / spread**2)
    return Terms(log, slope, bend)


def row_terms(pieces: Pieces, centre: Floats, spread: float, never: float = 0.0) -> Terms:
    """The terms of each row; ``centre`` is the mean log age of each row, ``never`` the share that never comes."""
    each = interval_terms(pieces.low, pieces.high, centre[pieces.row], spread)
    weight = pieces.weight + (_share_logs(pieces, never) if never else 0)
    if len(pieces.first) == len(pieces.row):
        return Terms(each.log + weight, each.slope, each.bend)
    return _summed(pieces, Terms(each.log + weight, each.slope, each.bend))


def _share_logs(pieces: Pieces, never: float) -> Floats:
    return np.where(pieces.never, np.log(never), np.log1p(-never))


def _summed(pieces: Pieces, each: Terms) -> Terms:
    """Log of the sum over a row's pieces; the pieces' disagreement on the slope is taken off the curvature."""
    first, row = pieces.first, pieces.row
    most = np.maximum.reduceat(each.log, first)
    part = np.exp(each.log - most[row])
    whole = np.add.reduceat(part, first)
    part /= whole[row]
    slope = np.add.reduceat(part * each.slope, first)
    bend = np.add.reduceat(part * (each.bend - each.slope**2), first) + slope**2
    return Terms(most + np.log(whole), slope, np.maximum(bend, 0))


def pieces_of(start_first: Floats, start_last: Floats, not_yet: Floats, seen_by: Floats, *, may_never: bool) -> Pieces:
    """The rows' pieces from clean day numbers (``seen_by`` nan: not seen).

    The start is any day from ``start_first`` to ``start_last`` alike, tried on up to twelve of them. An event is at
    least a day wide, and at least a day old.
    """
    days = start_last - start_first + 1
    tries = np.minimum(days, _STARTS).astype(int)
    never = np.isnan(seen_by) & may_never
    count = tries + never
    row = np.repeat(np.arange(len(count)), count)
    first = np.cumsum(count) - count
    place = np.arange(len(row)) - first[row]
    start = start_first[row] + (place + 0.5) / tries[row] * days[row] - 0.5
    last = never[row] & (place == tries[row])
    low, high = _log_ages(start, not_yet[row], seen_by[row])
    weight = np.where(last, 0.0, -np.log(tries[row]))
    return Pieces(first, row, np.where(last, -np.inf, low), np.where(last, np.inf, high), weight, last)


def _log_ages(start: Floats, not_yet: Floats, seen_by: Floats) -> tuple[Floats, Floats]:
    high = np.where(np.isnan(seen_by), np.inf, np.maximum(seen_by - start, 1))
    low = np.maximum(np.minimum(not_yet - start, high - 1), 0)
    with np.errstate(divide="ignore"):
        return np.log(low), np.log(high)
