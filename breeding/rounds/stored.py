"""The timings as stored, and what was learned on top of them."""

from __future__ import annotations

from typing import NamedTuple

from django.db.models import Subquery
from django.utils import timezone

from breeding.learning import stamp
from breeding.learning.fits import Learning, learned
from breeding.learning.stamp import Stamp
from breeding.models import Expectation
from breeding.rounds.expected import FACTS, Expectations, Expected, expected_of, priors_of
from nursery.models import House


class Stored(NamedTuple):
    """The nursery's rows, each with its taxon or None for all; up to when is known; the kinds of task that are off."""

    rows: tuple[tuple[int | None, Expected], ...]
    stamp: Stamp
    off: frozenset[str]

    def learning(self) -> Learning:
        return learned(self.stamp, priors_of(self.rows))


def stored() -> Stored:
    """One query for all of it: the page of every thing asks it."""
    today = timezone.localdate()
    off = Subquery(House.objects.filter(pk=1).values("tasks_off")[:1])
    asked = Expectation.objects.annotate(off=off, **stamp.columns(today))
    found = list(asked.values_list("off", *stamp.NAMES, "taxon_id", *FACTS))
    behind = 1 + len(stamp.NAMES)
    told, *known_by = found[0][:behind] if found else ((),)
    rows = ((row[behind], expected_of(*row[behind + 1 :])) for row in found)
    return Stored(tuple(rows), Stamp(today, *known_by), frozenset(told or ()))


def settings() -> tuple[Expectations, frozenset[str]]:
    """The timings with what was learned on top of them, and the kinds of task that are off. No more queries than for
    the timings alone, where nothing changed since last midnight."""
    found = stored()
    return Expectations(found.rows, found.learning()), found.off
