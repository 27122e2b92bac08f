"""Fits of the nursery's own timings: worked out once for the same records, kept, and never in the round's way.

A fit that fails, or takes too long, is logged, and the last good one holds; where there is none, the shipped window.
"""

from __future__ import annotations

import hashlib
import logging
from collections.abc import Iterable, Sequence
from concurrent.futures import Future, ThreadPoolExecutor
from concurrent.futures import TimeoutError as TooSlow
from dataclasses import dataclass, field, replace
from functools import cache
from pathlib import Path
from threading import Lock
from time import monotonic
from typing import NamedTuple

from django.db import DatabaseError

from breeding.learning import keeping
from breeding.learning.finds import Find
from breeding.learning.gather import MAY_NEVER, STEPS, Records, records_until
from breeding.learning.graces import LearnedGrace, learned_grace
from breeding.learning.stamp import Stamp
from breeding.learning.waits import LEVELS, NOT_KNOWN, Wait, arranged, written
from breeding.science import climb, fitted, intervals, ladder, outside, phenology, predicted
from breeding.science.fitted import Fit, Learned
from breeding.science.outside import fit_without_slips
from breeding.science.predicted import Law
from breeding.science.shipped import shipped
from breeding.science.timings import Timing

log = logging.getLogger(__name__)

PATIENCE = 2.0
"""Seconds that one request waits for all fits together; what takes longer is ready for a later one."""
REMEMBERED = 8


class Prior(NamedTuple):
    """A window that is learned on top of: of a step, for one taxon or for all (None).

    ``grace`` are the days that a bare thing keeps, where these are learned too; else 0.
    """

    step: str
    taxon: int | None
    low: int
    high: int
    grace: int = 0

    @property
    def name(self) -> str:
        return self.step if self.taxon is None else f"{self.step}-{self.taxon}"

    @property
    def window(self) -> tuple[str, int | None, int, int]:
        """What its fit rests on, apart from the waits."""
        return self[:4]


@dataclass(frozen=True)
class Learning:
    """What was learned, by step and taxon of the window that it was learned on top of; and from which waits, by step.

    ``graces`` are those of bare ripe pods, by the taxon of the row, from ``finds``. ``kinds`` are of clones that have
    no taxon of their own; ``failed`` are names of windows whose last good fit holds. ``laws`` and ``seen`` remember
    what was asked.
    """

    fits: dict[tuple[str, int | None], Fit] = field(default_factory=dict)
    kinds: dict[int, int] = field(default_factory=dict)
    failed: frozenset[str] = frozenset()
    waits: dict[str, list[Wait]] = field(default_factory=dict)
    graces: dict[int | None, LearnedGrace] = field(default_factory=dict)
    finds: tuple[Find, ...] = ()
    laws: dict[tuple[str, int | None, tuple[int, ...]], Learned] = field(default_factory=dict)
    seen: dict[tuple[str, int | None], tuple[frozenset[int], ...]] = field(default_factory=dict)

    def kind(self, taxon: int | None, clone: int | None) -> int | None:
        """The kind of a clone: its taxon, or its formula where it has none."""
        return taxon if taxon is not None else self.kinds.get(clone) if clone is not None else None

    def of(
        self, step: str, taxon: int | None, *, kind: int | None, clone: int | None, spike: int | None
    ) -> Learned | None:
        """What is expected of one thing; None where nothing is learned on top of this window."""
        fitted = self.fits.get((step, taxon))
        if fitted is None:
            return None
        ids = (kind, clone, spike)
        seen = self._seen(step, taxon, fitted)
        known = tuple(one if one in group else NOT_KNOWN for one, group in zip(ids, seen, strict=True))
        key = (step, taxon, known)
        if key not in self.laws:
            self.laws[key] = fitted.predicted(*known)
        return self.laws[key]

    def _seen(self, step: str, taxon: int | None, fitted: Fit) -> tuple[frozenset[int], ...]:
        """The groups, by level, of which the fit has seen anything: all others are predicted alike."""
        key = (step, taxon)
        if key not in self.seen:
            self.seen[key] = tuple(frozenset(one.id for one in fitted.groups(level)) for level in LEVELS)
        return self.seen[key]


NOTHING = Learning()
_memory: dict[tuple[Stamp, tuple[Prior, ...]], Learning] = {}
_working: dict[str, Future] = {}
_one_at_a_time = Lock()
_aside = ThreadPoolExecutor(1, thread_name_prefix="fits")


def learned(stamp: Stamp, priors: Iterable[Prior]) -> Learning:
    """What the records up to last midnight say on top of these windows; from memory where nothing changed."""
    priors = tuple(sorted((one for one in priors if one.step in STEPS), key=str))
    if stamp.last is None or not priors:
        return NOTHING
    key = (stamp, priors)
    found = _memory.get(key)
    if found is None:
        found = _learned_now(stamp, priors)
        if len(_memory) >= REMEMBERED:
            _memory.clear()
        _memory[key] = found
    return found


def forget() -> None:
    """Empty the memory, so that the next question goes to the records and to the disk."""
    _memory.clear()


def _learned_now(stamp: Stamp, priors: Sequence[Prior]) -> Learning:
    try:
        records = records_until(stamp.midnight, stamp.day)
    except DatabaseError:
        raise
    except Exception:
        log.exception("The records could not be read for learning. What was learned last is used.")
        return _from_disk(priors)
    return learned_from(records, priors)


def learned_from(records: Records, priors: Iterable[Prior]) -> Learning:
    """A fit for each window that has waits, waiting at most ``PATIENCE`` for all of them."""
    until = monotonic() + PATIENCE
    priors = list(priors)
    fits, failed = {}, set()
    for prior in priors:
        waits = waits_for(prior, records)
        if not waits:
            continue
        found, good = _fitted(prior, waits, until)
        if found is not None:
            fits[(prior.step, prior.taxon)] = found
        if not good:
            failed.add(prior.name)
    found = {prior.taxon: _grace(prior, records, fits) for prior in priors if prior.grace}
    graces = {taxon: one for taxon, one in found.items() if one is not None}
    return Learning(fits, records.kinds, frozenset(failed), records.waits, graces, records.finds)


def _grace(prior: Prior, records: Records, fits: dict[tuple[str, int | None], Fit]) -> LearnedGrace | None:
    name = prior._replace(step="grace").name
    return learned_grace(name, prior.grace, finds_for(prior, records), turning_of(fits))


def finds_for(prior: Prior, records: Records | Learning) -> list[Find]:
    """All bare pods that were found open, or those of its taxon."""
    return [one for one in records.finds if prior.taxon is None or one.taxon == prior.taxon]


def turning_of(fits: dict[tuple[str, int | None], Fit]) -> Law:
    """How long pods take from turning to open, by all that was seen here."""
    fitted = fits.get(("turning", None))
    return shipped("turning").timing if fitted is None else fitted.predicted().law


def waits_for(prior: Prior, records: Records | Learning) -> list[Wait]:
    """All of its step, or those of its taxon."""
    waits = records.waits.get(prior.step, [])
    return waits if prior.taxon is None else [wait for wait in waits if wait.taxon == prior.taxon]


def _from_disk(priors: Sequence[Prior]) -> Learning:
    found = {(one.step, one.taxon): _last_good(one) for one in priors}
    fits = {key: fitted for key, fitted in found.items() if fitted is not None}
    return Learning(fits, {}, frozenset(one.name for one in priors))


def _fitted(prior: Prior, waits: list[Wait], until: float) -> tuple[Fit | None, bool]:
    """The fit to these waits, or the last good one; and whether it is to these waits."""
    key = key_of(prior, waits)
    before = keeping.kept(prior.name)
    if before is not None and before.key == key and (same := _read(prior, before)) is not None:
        return same, True
    try:
        return _worked_out(prior, waits, key, until), True
    except TooSlow:
        log.warning("Learning %s takes long. What was learned last is used until it is done.", prior.name)
    except Exception:
        log.exception("Learning %s failed. What was learned last is used.", prior.name)
    return _last_good(prior), False


def _worked_out(prior: Prior, waits: list[Wait], key: str, until: float) -> Fit:
    """In a thread beside, which goes on where this one waits no longer, and keeps what it found."""
    with _one_at_a_time:
        if key not in _working:
            _working[key] = _aside.submit(_fit_and_keep, prior, waits, key)
        work = _working[key]
    try:
        return work.result(timeout=max(until - monotonic(), 0))
    except TooSlow:
        work.add_done_callback(lambda _: _late(key))
        raise
    finally:
        if work.done():
            _working.pop(key, None)


def _late(key: str) -> None:
    """A fit that nobody waited for is done: whoever asks next finds it on the disk."""
    _working.pop(key, None)
    forget()


def fitted_now(prior: Prior, waits: Sequence[Wait]) -> Fit:
    """The fit to these waits on top of a window, worked out here and now; it names those that it left out."""
    shipped, may_never = Timing(prior.low, prior.high), prior.step in MAY_NEVER
    found, slips = fit_without_slips(arranged(waits), shipped=shipped, may_never=may_never)
    things = sorted(wait.thing for wait, slip in zip(waits, slips, strict=True) if slip)
    return replace(found, outside=tuple(things)) if things else found


def _fit_and_keep(prior: Prior, waits: list[Wait], key: str) -> Fit:
    found = fitted_now(prior, waits)
    keeping.keep(prior.name, key, found.to_json())
    return found


def _last_good(prior: Prior) -> Fit | None:
    before = keeping.kept(prior.name)
    return None if before is None else _read(prior, before)


def _read(prior: Prior, before: keeping.Kept) -> Fit | None:
    try:
        return Fit.from_json(before.told)
    except Exception:
        log.exception("What was learned of %s cannot be read. It is worked out again.", prior.name)
        return None


def key_of(prior: Prior, waits: Iterable[Wait]) -> str:
    """The same for the same waits, window and way of fitting."""
    told = hashlib.sha256(f"{_way_of_fitting()} {prior.window}".encode())
    told.update(written(waits))
    return told.hexdigest()


@cache
def _way_of_fitting() -> str:
    """Changes with the code that fits, so that an upgrade learns afresh."""
    modules = (climb, fitted, intervals, ladder, outside, phenology, predicted)
    code = (Path(str(module.__file__)).read_bytes() for module in modules)
    return hashlib.sha256(b"".join(code)).hexdigest()
