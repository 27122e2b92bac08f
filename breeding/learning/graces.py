"""How long an open pod keeps, as the nursery's own finds say it on top of the days set: kept as the fits are."""

from __future__ import annotations

import hashlib
import logging
from collections.abc import Sequence
from functools import cache
from pathlib import Path
from typing import NamedTuple

from breeding.learning import keeping
from breeding.learning.finds import Find, as_found
from breeding.science import grace as grace_module
from breeding.science.grace import Grace, learned
from breeding.science.predicted import Law
from breeding.science.shipped import graces

log = logging.getLogger(__name__)


class LearnedGrace(NamedTuple):
    """Days from open to spilt of bare pods, from ``n`` sections found open, ``split`` of which had spilt by then."""

    grace: Grace
    n: int
    split: int


def learned_grace(name: str, days: int, finds: Sequence[Find], turning: Law) -> LearnedGrace | None:
    """What the finds say on top of a grace of so many days, worked out once for the same finds and law.

    None where nothing was found, or where it fails and nothing is kept from before.
    """
    if not finds:
        return None
    key = _key(days, finds, turning)
    before = _read(keeping.kept(name))
    if before is not None and before[0] == key:
        return before[1]
    try:
        found = grace_now(days, finds, turning)
    except Exception:
        log.exception("Learning %s failed. What was learned last is used.", name)
        return before[1] if before is not None else None
    keeping.keep(name, key, [found.grace.days, found.grace.shares, found.n, found.split])
    return found


def grace_now(days: int, finds: Sequence[Find], turning: Law) -> LearnedGrace:
    """The same, worked out here and now, and not kept."""
    found = learned(graces("ripe", days, bagged=False), as_found(finds), turning=turning)
    return LearnedGrace(found, len(finds), sum(one.split for one in finds))


def _read(before: keeping.Kept | None) -> tuple[str, LearnedGrace] | None:
    try:
        days, shares, n, split = before.told
        return before.key, LearnedGrace(Grace(tuple(days), tuple(shares)), n, split)
    except (AttributeError, TypeError, ValueError):
        return None


def _key(days: int, finds: Sequence[Find], turning: Law) -> str:
    told = f"{_way_of_learning()} {days} {as_found(finds)} {turning}"
    return hashlib.sha256(told.encode()).hexdigest()


@cache
def _way_of_learning() -> str:
    return hashlib.sha256(Path(str(grace_module.__file__)).read_bytes()).hexdigest()
