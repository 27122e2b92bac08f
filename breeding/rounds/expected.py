"""How long a step takes and how it is watched, as the rules use it."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from functools import cached_property

from breeding.science.shipped import SHIPPED, Shipped, shipped
from breeding.science.timings import Timing

SAID = {
    "P": "a paper",
    "G": "an official text",
    "H": "one grower's page",
    "C": "common practice",
    "M": "from memory",
}
_OWN = "set here"


@dataclass(frozen=True)
class Expected:
    """One step: its 80% window, graces, accepted risk and longest gap; ``said`` tells where that comes from."""

    step: str
    low: int
    high: int
    grace_plain: int
    grace_bagged: int
    risk: float
    longest_gap: int
    said: str

    @cached_property
    def timing(self) -> Timing:
        return Timing(self.low, self.high)

    def grace(self, bagged: bool) -> int:
        """Days from the event to the loss."""
        return self.grace_bagged if bagged else self.grace_plain

    @property
    def usual(self) -> str:
        """
        >>> from_shipped("ripe").usual
        'usual is day 80 to 240, middle 139 (shipped, from memory)'
        """
        return f"usual is day {self.low} to {self.high}, middle {round(self.timing.median)} ({self.said})"


class Expectations:
    """The nursery's own rows; the one for the seed parent's taxon wins, then the one for all, then what is shipped."""

    def __init__(self, rows: Iterable[tuple[int | None, Expected]] = ()):
        self._rows = {(row.step, taxon_id): row for taxon_id, row in rows}

    def of(
        self, step: str, taxon_id: int | None = None, clone_id: int | None = None, spike_id: int | None = None
    ) -> Expected:
        """For a thing of this taxon, of this mother (of a spike: this clone), on this spike, as far as known."""
        rows = self._rows
        return rows.get((step, taxon_id)) or rows.get((step, None)) or from_shipped(step)


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
