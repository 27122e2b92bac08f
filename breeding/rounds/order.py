"""Which tasks come today: by risk, as many as the owner's minutes hold; then by place, in walking order."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import date
from typing import Protocol, TypeVar

from breeding.rounds.place_order import Walked
from breeding.rounds.task import Task

PACKETS = "Packets"
NO_PLACE = "Place not noted"


class Weighed(Protocol):
    """What ordering and cutting need to know of a task."""

    @property
    def kind(self) -> str: ...
    @property
    def thing_id(self) -> int: ...
    @property
    def due(self) -> date: ...
    @property
    def urgency(self) -> float: ...
    @property
    def minutes(self) -> int: ...


W = TypeVar("W", bound=Weighed)


@dataclass(frozen=True)
class Group:
    """The tasks at one place; ``place_id`` None for packets, and for what stands nobody knows where."""

    place_id: int | None
    house: str
    within: str
    tasks: tuple[Task, ...]

    @property
    def looks(self) -> tuple[Task, ...]:
        """The tasks that walking past answers: looks only, never jobs."""
        return tuple(task for task in self.tasks if task.look)


def by_urgency(tasks: Iterable[W]) -> list[W]:
    """The most urgent first; equal ones by what is due first, then by number, so that the order never jumps."""
    return sorted(tasks, key=lambda task: (-task.urgency, task.due, task.thing_id, task.kind))


def cut(tasks: Iterable[W], minutes: int, *, began_with: Iterable[W] | None = None) -> tuple[list[W], list[W]]:
    """Today's list and what rolls over, by urgency. The most urgent task is always in, however long it takes.

    ``began_with`` are the tasks as they stood when the day began, where something was recorded since: the line is drawn
    under those. So minutes that were worked count against the day's, and whatever is answered, by any answer, what else
    stood above the line stays there and nothing moves up. What was not asked when the day began, because an answer
    brought it, is above the line where it would have been among those; it pushes nothing out.
    """
    ordered = by_urgency(tasks)
    if began_with is None:
        above = _above(ordered, minutes)
    else:
        began = {_key(task): task for task in began_with}
        above = _above(by_urgency(began.values()), minutes)
        came = [task for task in ordered if _key(task) not in began]
        if came:
            above |= _above(by_urgency([*began.values(), *came]), minutes) - began.keys()
    return [task for task in ordered if _key(task) in above], [task for task in ordered if _key(task) not in above]


def answered(tasks: Iterable[W], minutes: int, *, began_with: Iterable[W]) -> int:
    """The minutes of what stood above the line when the day began and is asked no more: so much of the day is used."""
    began, asked = by_urgency(began_with), {_key(task) for task in tasks}
    above = _above(began, minutes) - asked
    return sum(task.minutes for task in began if _key(task) in above)


def _key(task: Weighed) -> tuple[int, str]:
    return task.thing_id, task.kind


def _above(ordered: Iterable[Weighed], minutes: int) -> set[tuple[int, str]]:
    above: set[tuple[int, str]] = set()
    left = minutes
    for task in ordered:
        if task.minutes <= left or not above:
            above.add(_key(task))
            left -= task.minutes
    return above


def grouped(tasks: Iterable[Task], places: Mapping[int, Walked]) -> list[Group]:
    """The tasks by place, in walking order; packets, and things without a place, come last."""
    found: dict[tuple, list[Task]] = {}
    for task in by_urgency(tasks):
        found.setdefault(_where(task, places), []).append(task)
    return [_group(found[where], places) for where in sorted(found)]


def _where(task: Task, places: Mapping[int, Walked]) -> tuple[int, str]:
    walked = places.get(task.place_id)
    if walked:
        return walked.turn, ""
    return len(places), PACKETS if task.slug in {"pollen", "seed", "sowings"} or not task.thing_id else NO_PLACE


def _group(tasks: list[Task], places: Mapping[int, Walked]) -> Group:
    walked = places.get(tasks[0].place_id)
    if walked:
        return Group(walked.pk, walked.house, walked.within, tuple(tasks))
    return Group(None, _where(tasks[0], places)[1], "", tuple(tasks))
