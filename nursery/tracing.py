"""What a virus scare asks: who stood in one place with a plant, and who was cut after it. Pure.

Tools carry sap from cut to cut. Nobody notes the hour, so on one day the order in which things were recorded stands
for the order in which they were done; the page says so.
"""

from __future__ import annotations

from collections.abc import Collection, Iterable, Sequence
from dataclasses import dataclass
from datetime import date, datetime
from uuid import UUID

from nursery.standing import Stay, days_of, together


@dataclass(frozen=True)
class Shared:
    """One place that two things shared, with the fewest and most days of it, and the times themselves."""

    place: int
    fewest: int
    most: int
    times: tuple[Stay, ...]


def shared(one: Iterable[Stay], other: Iterable[Stay], places: Collection[int], today: date) -> list[Shared]:
    """The places, of those given, in which both stood at the same time, the longest first."""
    times: dict[int, list[Stay]] = {}
    others = [stay for stay in other if stay.place in places]
    for mine in one:
        for theirs in others:
            if mine.place == theirs.place and (both := together(mine, theirs)) is not None:
                times.setdefault(mine.place, []).append(both)
    found = [_shared(place, stays, today) for place, stays in times.items()]
    return sorted(found, key=lambda one: (-one.most, one.place))


def _shared(place: int, stays: list[Stay], today: date) -> Shared:
    days = [days_of(stay, today) for stay in stays]
    return Shared(place, sum(fewest for fewest, _ in days), sum(most for _, most in days), tuple(stays))


@dataclass(frozen=True)
class Touch:
    """A tool went into a plant: one act, on a day from ``first`` to ``last``."""

    act: UUID
    plant: int
    first: date
    last: date
    recorded_at: datetime

    @property
    def is_exact(self) -> bool:
        return self.first == self.last


@dataclass(frozen=True)
class After:
    """Another plant that was cut after ``hers``; ``sure`` that it was the same day.

    ``turn`` 1 is the next plant, 2 the one after; 0 was cut in the very same act, before it or after.
    """

    touch: Touch
    hers: Touch
    turn: int
    sure: bool


def cut_after(plant: int, touches: Sequence[Touch]) -> list[After]:
    """Every other plant that was cut on a day on which this one was, and recorded later, by her last cut before it.

    A plant stands once for each of her cuts, the sure ones and the nearest first.
    """
    ordered = sorted(touches, key=lambda one: (one.recorded_at, one.act.int, one.plant))
    hers = [one for one in ordered if one.plant == plant]
    found = [after for turn, one in enumerate(hers) for after in _after(one, hers[turn + 1 :], ordered)]
    return sorted(found, key=lambda one: (not one.sure, -one.touch.first.toordinal(), one.turn))


def _after(hers: Touch, her_next: list[Touch], ordered: list[Touch]) -> Iterable[After]:
    """Those after one of her cuts, up to her next one that can have been on the same day."""
    found = {one.plant: After(one, hers, 0, True) for one in ordered if one.act == hers.act and one.plant != hers.plant}
    end = next((one for one in her_next if _may_be_one_day(one, hers)), None)
    for one in ordered[ordered.index(hers) + 1 :]:
        if end is not None and one == end:
            break
        if one.plant not in {hers.plant, *found} and _may_be_one_day(one, hers):
            turn = 1 + sum(after.turn > 0 for after in found.values())
            found[one.plant] = After(one, hers, turn, one.is_exact and hers.is_exact)
    return found.values()


def _may_be_one_day(one: Touch, other: Touch) -> bool:
    return one.first <= other.last and other.first <= one.last
