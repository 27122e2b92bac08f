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


def cut(tasks: Iterable[W], minutes: int) -> tuple[list[W], list[W]]:
    """Today's list and what rolls over. The most urgent task is always in, however long it takes."""
    today: list[W] = []
    rest: list[W] = []
    left = minutes
    for task in by_urgency(tasks):
        fits = task.minutes <= left or not today
        (today if fits else rest).append(task)
        left -= task.minutes if fits else 0
    return today, rest


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
