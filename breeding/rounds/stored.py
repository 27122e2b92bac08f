"""The timings as stored, and what was learned on top of them."""

from __future__ import annotations

from datetime import date, tzinfo
from typing import NamedTuple

from django.db.models import QuerySet, Subquery
from django.utils import timezone

from breeding.learning import stamp
from breeding.learning.fits import Learning, learned
from breeding.learning.stamp import Stamp
from breeding.models import Expectation
from breeding.rounds import heat
from breeding.rounds.books import EVERY_DAY
from breeding.rounds.expected import FACTS, Expectations, Expected, expected_of, priors_of
from nursery.models import House
from nursery.records.prepared import Asked


class Stored(NamedTuple):
    """The nursery's rows, each with its taxon or None for all; up to when is known; the kinds of task that are off;
    the weekdays on which people look; and where it is hot."""

    rows: tuple[tuple[int | None, Expected], ...]
    stamp: Stamp
    off: frozenset[str]
    working: frozenset[int] = EVERY_DAY
    heat: heat.Heat = heat.NO_HEAT

    def expectations(self) -> Expectations:
        """The rows with what was learned on top of them."""
        return Expectations(self.rows, self.learning(), self.heat)

    def learning(self) -> Learning:
        return learned(self.stamp, priors_of(self.rows))


def stored() -> Stored:
    """One query for all of it, and four more while it is hot: the page of every thing asks it."""
    today = timezone.localdate()
    found = _OF_DAY.rows((today, timezone.get_current_timezone()))
    behind = len(_SAID) + len(stamp.NAMES)
    off, working, hot, *known_by = found[0][:behind] if found else ((), (), False)
    rows = ((row[behind], expected_of(*row[behind + 1 :])) for row in found)
    spells = heat.heat_lately(today) if hot else heat.NO_HEAT
    return Stored(tuple(rows), Stamp(today, *known_by), frozenset(off or ()), frozenset(working or EVERY_DAY), spells)


def _of_day(over: tuple[date, tzinfo]) -> QuerySet[Expectation]:
    """Over a day, which begins at another moment in another zone."""
    today, _ = over
    house = House.objects.filter(pk=1)
    said = {name: Subquery(house.values(name)[:1]) for name in _SAID[:-1]} | {"hot": heat.told_lately(today)}
    asked = Expectation.objects.annotate(**said, **stamp.columns(today))
    return asked.values(*_SAID, *stamp.NAMES, "taxon_id", *FACTS)


_SAID = ("tasks_off", "looks_on", "hot")
_OF_DAY = Asked(_of_day)


def settings() -> tuple[Expectations, frozenset[str], frozenset[int]]:
    """The timings with what was learned on top of them, the kinds of task that are off, and the weekdays on which
    people look. No more queries than for the timings alone, where nothing changed since last midnight."""
    found = stored()
    return found.expectations(), found.off, found.working
