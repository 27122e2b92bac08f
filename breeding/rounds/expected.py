"""How long a step takes and how it is watched, as the rules use it."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace
from functools import cached_property

from breeding.learning.fits import NOTHING, Learning, Prior
from breeding.learning.kinds import is_formula
from breeding.rounds.heat import NO_HEAT, Heat
from breeding.science.cadence import next_look, turns
from breeding.science.fitted import Learned
from breeding.science.grace import Grace
from breeding.science.predicted import Law
from breeding.science.shipped import SHIPPED, Shipped, graces, shipped
from breeding.science.timings import Timing

SAID = {
    "P": "a paper",
    "G": "an official text",
    "H": "one grower's page",
    "C": "common practice",
    "M": "from memory",
}
_OWN = "set here"
THINGS: dict[str, tuple[str, str]] = {
    "spike_open": ("spike", "spikes"),
    "spike_over": ("spike", "spikes"),
    "ripe": ("section", "sections"),
    "turning": ("section", "sections"),
    "germination": ("pot", "pots"),
    "germination_old": ("pot", "pots"),
}
GRACED = "ripe"
"""The step whose grace is learned, from bare pods found open."""
_OF = {"nursery": "here", "taxon": "of this species", "clone": "of this mother", "spike": "of this spike"}
_OF_SPIKES = {"clone": "of this clone"}
_OF_POTS = {"spike": "of this spike's seed"}


@dataclass(frozen=True)
class Expected:
    """One step: its 80% window, graces, accepted risk and longest gap; ``said`` tells where the row comes from.

    ``law`` is what was learned on top of it, from ``n`` things at a ``level`` and ``in_all`` here; None where the
    window stands alone. With a law, ``low`` and ``high`` are the law's own. ``is_hybrid``: its kind of plant is a
    formula and no species. ``kept`` is how long a bare one keeps, where that is not as set: learned from ``finds``
    things found open, or ``is_hot``.
    """

    step: str
    low: int
    high: int
    grace_plain: int
    grace_bagged: int
    risk: float
    longest_gap: int
    said: str
    as_it_stands: bool = False
    law: Law | None = None
    n: int = 0
    in_all: int = 0
    level: str = "shipped"
    is_hybrid: bool = False
    kept: Grace | None = None
    finds: int = 0
    is_hot: bool = False

    @cached_property
    def timing(self) -> Law:
        return self.law or Timing(self.low, self.high)

    def grace(self, bagged: bool) -> int:
        """Days from the event to the loss; of what differs from one thing to the next, one in ten keeps shorter."""
        if self.kept is not None and not bagged:
            return self._kept_days
        return self.grace_bagged if bagged else self.grace_plain

    def graces(self, bagged: bool) -> Grace:
        """The same with how it differs from one thing to the next."""
        if self.kept is not None and not bagged:
            return self.kept
        return graces(self.step, self.grace(bagged), bagged=bagged)

    @cached_property
    def _kept_days(self) -> int:
        return max(self.kept.keeps(but=0.1), 1) if self.kept else self.grace_plain

    @cached_property
    def in_heat(self) -> Expected:
        """The same for what stands in a hot spell, which shortens how long it keeps bare of a bag."""
        return replace(self, kept=self.graces(False).shortened(), is_hot=True)

    def grace_said(self, bagged: bool) -> str:
        """Where the days that it keeps come from.

        >>> replace(from_shipped("ripe"), kept=Grace.of(8), finds=1).grace_said(bagged=False)
        'from 1 section found open here'
        >>> [from_shipped("ripe").in_heat.grace_said(bagged) for bagged in (False, True)]
        ['shipped, from memory; less in the hot spell', 'shipped, from memory']
        """
        if bagged:
            return self.said
        said = f"from {self.finds} {THINGS[self.step][self.finds != 1]} found open here" if self.finds else self.said
        return f"{said}; less in the hot spell" if self.is_hot else said

    def next_look(self, age: int, bagged: bool) -> int:
        """The age to look again at after "not yet" at an age; kept, as thousands of things share few ages."""
        found = self._next_looks.get((age, bagged))
        if found is None:
            gap, grace = self.longest_gap, self.graces(bagged)
            found = next_look(age, self.timing, grace=grace, risk=self.risk, longest_gap=gap)
            self._next_looks[age, bagged] = found
        return found

    def turns(self, ahead: Law, bagged: bool) -> tuple[Law, Grace]:
        """What to wait for where a stage shows ``ahead`` before the end; kept, as thousands of things ask."""
        found = self._turns.get((ahead, bagged))
        if found is None:
            found = self._turns[ahead, bagged] = turns(self.timing, self.graces(bagged), ahead)
        return found

    @cached_property
    def _turns(self) -> dict[tuple[Law, bool], tuple[Law, Grace]]:
        return {}

    @cached_property
    def _next_looks(self) -> dict[tuple[int, bool], int]:
        return {}

    @cached_property
    def middle(self) -> int:
        """The median in whole days."""
        return round(self.timing.median)

    @property
    def learned_from(self) -> str:
        """
        >>> replace(from_shipped("ripe"), law=Timing(96, 128), n=14, in_all=60, level="clone").learned_from
        'from 14 sections of this mother, 60 in all'
        """
        if self.law is None:
            return self.said
        things = THINGS[self.step][self.n != 1]
        own = _OF_POTS if things.startswith("pot") else _OF_SPIKES if things.startswith("spike") else {}
        of = "of this hybrid" if self.is_hybrid and self.level == "taxon" else own.get(self.level, _OF[self.level])
        rest = f", {self.in_all} in all" if self.in_all > self.n else ""
        return f"from {self.n} {things} {of}{rest}"

    @property
    def usual(self) -> str:
        """
        >>> from_shipped("ripe").usual
        'usual is day 80 to 240, middle 139 (shipped, from memory)'
        """
        return f"usual is day {self.low} to {self.high}, middle {self.middle} ({self.learned_from})"


class Expectations:
    """What is expected of one thing: what the log says on top of the nursery's own row; the row of its kind of plant
    wins, then the one for all, then what is shipped."""

    def __init__(
        self,
        rows: Iterable[tuple[int | None, Expected]] = (),
        learning: Learning = NOTHING,
        heat: Heat = NO_HEAT,
    ):
        self._rows = {(row.step, taxon_id): row for taxon_id, row in rows}
        self._learning = learning
        self.heat = heat
        self._own: dict[tuple[str, int | None], Expected] = {}
        self._found: dict[tuple[str, int | None, int | None, int | None], Expected] = {}
        self._made: dict[tuple[str, int | None, int, int | None], Expected] = {}

    def of(
        self, step: str, taxon_id: int | None = None, clone_id: int | None = None, spike_id: int | None = None
    ) -> Expected:
        """For a thing of this kind of plant, of this mother (of a spike: this clone), on this spike, if known."""
        key = (step, taxon_id, clone_id, spike_id)
        found = self._found.get(key)
        if found is None:
            found = self._found[key] = self._work_out(*key)
        return found

    def own(self, step: str, taxon: int | None) -> Expected:
        """The row of a taxon, or for all, with how long its bare pods were found to keep; all share the one."""
        key = (step, taxon)
        if key not in self._own:
            row = self._rows.get(key) or from_shipped(step)
            found = None if step != GRACED or row.as_it_stands else self._learning.graces.get(taxon)
            self._own[key] = replace(row, kept=found.grace, finds=found.n) if found else row
        return self._own[key]

    def _work_out(self, step: str, taxon_id: int | None, clone_id: int | None, spike_id: int | None) -> Expected:
        kind = self._learning.kind(taxon_id, clone_id)
        taxon = kind if (step, kind) in self._rows else None
        row = self.own(step, taxon)
        if row.as_it_stands:
            return row
        learned = self._learning.of(step, taxon, kind=kind, clone=clone_id, spike=spike_id)
        if learned is None or learned.level == "shipped":
            return row
        # Thousands of things share a few laws, which the learning holds: one row is made for each.
        key = (step, taxon, id(learned), kind)
        if key not in self._made:
            self._made[key] = _with(row, learned, self._learning.fits[step, taxon].n, kind)
        return self._made[key]


def _with(row: Expected, learned: Learned, in_all: int, kind: int | None) -> Expected:
    """The row with what was learned on top of it."""
    low, high = (max(1, round(end)) for end in learned.law.window())
    ends = {"low": low, "high": max(high, low + 1), "is_hybrid": kind is not None and is_formula(kind)}
    return replace(row, **ends, law=learned.law, n=learned.n, in_all=in_all, level=learned.level)


def priors_of(rows: Iterable[tuple[int | None, Expected]]) -> list[Prior]:
    """The windows that are learned on top of: of each row but those that hold as they stand, and what is shipped."""
    rows = list(rows)
    for_all = {row.step for taxon_id, row in rows if taxon_id is None}
    shipped_ones = [(None, from_shipped(row.step)) for row in SHIPPED if row.step not in for_all]
    told = [(taxon_id, row) for taxon_id, row in (*rows, *shipped_ones) if not row.as_it_stands]
    return [prior_of(taxon_id, row) for taxon_id, row in told]


def prior_of(taxon_id: int | None, row: Expected) -> Prior:
    return Prior(row.step, taxon_id, row.low, row.high, row.grace_plain if row.step == GRACED else 0)


FACTS = (
    *("step", "low", "high", "grace_plain", "grace_bagged", "risk", "longest_gap"),
    *("strength", "as_it_stands"),
)
"""The columns of a stored timing, in the order in which ``expected_of`` takes them."""


def expected_of(
    step: str,
    low: int,
    high: int,
    grace_plain: int,
    grace_bagged: int,
    risk: float,
    longest_gap: int,
    strength: str,
    as_it_stands: bool,
) -> Expected:
    """A timing as stored."""
    said = source_words(step, low, high, strength)
    return Expected(step, low, high, grace_plain, grace_bagged, risk, longest_gap, said, as_it_stands)


def source_words(step: str, low: int, high: int, strength: str) -> str:
    """Where a window comes from, in a few words: shipped and how strong, or changed by somebody here.

    >>> source_words("ripe", 80, 240, "M"), source_words("ripe", 100, 130, "M")
    ('shipped, from memory', 'set here')
    """
    row = _SHIPPED.get(step)
    if row and (row.low, row.high, row.strength) == (low, high, strength):
        return f"shipped, {SAID[strength]}"
    return _OWN


def from_shipped(step: str) -> Expected:
    """What holds where a nursery has no row for a step."""
    row = shipped(step)
    return Expected(
        step=row.step,
        low=row.low,
        high=row.high,
        grace_plain=row.grace_plain,
        grace_bagged=row.grace_bagged,
        risk=row.risk,
        longest_gap=row.longest_gap,
        said=source_words(step, row.low, row.high, row.strength),
    )


_SHIPPED: dict[str, Shipped] = {row.step: row for row in SHIPPED}
