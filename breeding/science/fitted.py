"""What the fit of one step's waits has taught, and how it is asked: the result of ``breeding.science.phenology``."""

from __future__ import annotations

import json
import math
from dataclasses import asdict, dataclass
from functools import cached_property
from typing import NamedTuple

from breeding.science.predicted import Predicted
from breeding.science.timings import TENTH, Timing


class Learned(NamedTuple):
    """A law, and what it rests on: ``n`` waits that ended, at the finest ``level`` asked for that has any."""

    law: Predicted
    n: int
    level: str


class Group(NamedTuple):
    """A group against the nursery: factor on days (1 = as the nursery) with its 80% interval; waits that ended."""

    level: str
    id: int
    shift: float
    low: float
    high: float
    n: int


class Spread(NamedTuple):
    """A standard deviation of log days with its 80% interval: between a level's groups, or "within" the lowest."""

    level: str
    value: float
    low: float
    high: float


class Known(NamedTuple):
    """A group's mean log days with its variance; the same of its departure from the nursery's; and waits that ended."""

    level: str
    id: int
    n: int
    mean: float
    var: float
    shift: float
    shift_var: float


@dataclass(frozen=True)
class Fit:
    """What one step's waits have taught. ``n`` counts waits that ended; with none, everything is as shipped.

    ``known`` holds the nursery (level "nursery", id -1) and all its groups. ``doubts`` gives for each level the spread
    of a wait of an unknown group below it, as a few (weight, variance). ``outside`` are ids of things whose waits were
    left out as slips (``outside``), as whoever had it fitted names them.
    """

    n: int
    shipped: tuple[float, float]
    never: float = 0.0
    known: tuple[Known, ...] = ()
    doubts: tuple[tuple[str, tuple[tuple[float, float], ...]], ...] = ()
    spreads: tuple[Spread, ...] = ()
    outside: tuple[int, ...] = ()

    @cached_property
    def _by_id(self) -> dict[tuple[str, int], Known]:
        return {(row.level, row.id): row for row in self.known}

    def predicted(self, taxon: int = -1, clone: int = -1, spike: int = -1) -> Learned:
        """What to expect of a new wait; ids that are not known, or not yet learned about, are left out."""
        if not self.n:
            timing = Timing(*self.shipped)
            return Learned(Predicted(((1.0, timing.median, timing.spread),)), 0, "shipped")
        asked = (("nursery", -1), ("taxon", taxon), ("clone", clone), ("spike", spike))
        path = [self._by_id[key] for key in asked if key in self._by_id]
        told = [row for row in path if row.n] or path[:1]
        return Learned(self._law(path[-1]), told[-1].n, told[-1].level)

    def _law(self, row: Known) -> Predicted:
        median = math.exp(row.mean)
        parts = ((weight, median, math.sqrt(row.var + doubt)) for weight, doubt in dict(self.doubts)[row.level])
        return Predicted(tuple(parts), self.never)

    def groups(self, level: str) -> list[Group]:
        """The groups of a level, slowest first."""
        rows = sorted((row for row in self.known if row.level == level), key=lambda row: (-row.shift, row.id))
        return [_group(row) for row in rows if row.id >= 0]

    def to_json(self) -> str:
        """One line of text that ``from_json`` reads back as it was."""
        return json.dumps(asdict(self), separators=(",", ":"))

    @classmethod
    def from_json(cls, text: str) -> Fit:
        """The fit that ``to_json`` wrote."""
        told = json.loads(text)
        doubts = tuple((level, tuple(map(tuple, parts))) for level, parts in told["doubts"])
        known, spreads = (
            tuple(kind(*row) for row in told[key]) for kind, key in ((Known, "known"), (Spread, "spreads"))
        )
        outside = tuple(told.get("outside", ()))
        return cls(told["n"], tuple(told["shipped"]), told["never"], known, doubts, spreads, outside)


def _group(row: Known) -> Group:
    reach = TENTH * math.sqrt(row.shift_var)
    low, high = math.exp(row.shift - reach), math.exp(row.shift + reach)
    return Group(row.level, row.id, math.exp(row.shift), low, high, row.n)
