"""What the rules may read: the open rows, the timings, and the pollen that is about."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field
from datetime import date
from typing import NamedTuple

from breeding.rounds.expected import Expectations
from breeding.rounds.rows import PollenRow, Row, SpikeRow

EVERY_DAY = frozenset(range(7))


@dataclass(frozen=True)
class Books:
    """``pollen`` are the packets in store and ``males`` the male spikes in flower, for whoever can be pollinated;
    ``females`` are the female spikes, for whoever gives pollen.

    ``off`` are the codes of the kinds of task that the owner switched off, ``working`` the weekdays on which people
    look (0 for Monday). ``good`` keeps what pollen is good on a day, once that is worked out.
    """

    rows: tuple[Row, ...] = ()
    expectations: Expectations = field(default_factory=Expectations)
    pollen: tuple[PollenRow, ...] = ()
    males: tuple[SpikeRow, ...] = ()
    females: tuple[SpikeRow, ...] = ()
    off: frozenset[str] = frozenset()
    working: frozenset[int] = EVERY_DAY
    good: dict[date, tuple[Partner, ...]] = field(default_factory=dict, compare=False)


class Partner(NamedTuple):
    """The other side of a cross: pollen that is good that day, with its age and storage in words; or a female spike,
    with when she is receptive."""

    source: PollenRow | SpikeRow
    words: str


@dataclass(frozen=True)
class Told:
    """What a task says of itself, worked out only where it is shown.

    ``until`` is the last day that serves as well; ``window`` are the words for it where the day alone does not tell.
    ``serves`` are the female spikes that pollen taken then could serve, each with when.
    """

    reason: str
    until: date | None = None
    window: str = ""
    title: str = ""
    partners: tuple[Partner, ...] = ()
    serves: tuple[Partner, ...] = ()
    cautions: tuple[str, ...] = ()


class Next(NamedTuple):
    """The next task of one kind for one thing, with the day it is due, whether that has come or not.

    ``weigh`` gives its urgency on a day: how many times the accepted risk is run by waiting until the day after. It is
    asked of all that is due; ``tell`` only of what is shown. ``minutes`` where they are not the usual ones.
    """

    kind: str
    due: date
    weigh: Callable[[date], float]
    tell: Callable[[date], Told]
    minutes: int | None = None
