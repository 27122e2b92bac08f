"""The rows of a thing on a page of the round, as they are once something was recorded of it, or was undone.

A page names its rows ("sections-12-bag"), and each answer and each undo brings the names along: first of the row that
is answered, then of the others that are about the same thing. What they say is by the rules of the round, afresh.
"""

import re
import uuid
from dataclasses import dataclass, replace

from django.http import Http404, HttpRequest
from django.utils import timezone

from breeding.rounds.tasks import Task, tasks_now
from breeding.rounds.together import together
from nursery.models import LivingThing
from nursery.site import fetch

MOST_ROWS = 8
NAMED = re.compile(r"([a-z]+)-(\d{1,18})-[a-z_]+", re.ASCII)

WALK = re.compile(r"[a-z]+-\d{1,18}-walk", re.ASCII)


@dataclass(frozen=True)
class Row:
    """A row by its name; without a task where nothing is asked there any more."""

    name: str
    task: Task | None = None


def names_sent(request: HttpRequest) -> list[str]:
    """The names that came with an answer or an undo, none where it was not given on a round."""
    names = request.POST.getlist("rows")[:MOST_ROWS]
    return names if all(NAMED.fullmatch(name) for name in names) else []


def walk_sent(request: HttpRequest) -> str:
    """What the form is called that walks past the bench of the row; empty where there is none."""
    name = request.POST.get("walk", "")
    return name if WALK.fullmatch(name) else ""


def rows_of(names: list[str], things: list[LivingThing] | None = None) -> list[Row]:
    """These rows as they are now; ``things`` where the first is about several, for one row may have become two."""
    shown = _asked(things or _thing_of(names[0]))
    if things:
        return [Row(name, task) for name, task in shown.items()]
    asked = [name for name in names if name in shown]
    return [Row(name, _beside(shown.get(name), asked)) for name in names]


def rows_after(names: list[str]) -> tuple[list[Row], list[Task]]:
    """The other rows of the thing that was answered by the first, and what is asked of it by today only since then."""
    shown = _asked(_thing_of(names[0]))
    asked = [name for name in shown if name != names[0]]
    others = [Row(name, _beside(shown.get(name), asked)) for name in names[1:]]
    return others, [_beside(shown[name], asked) for name in asked if name not in names]


def _asked(things: list[LivingThing]) -> dict[str, Task]:
    """The rows in which something is asked of these things today, by their names."""
    tasks = together(tasks_now(things, timezone.localdate()))
    return {task.row: replace(task, act_id=uuid.uuid4()) for task in tasks}


def _beside(task: Task | None, asked: list[str]) -> Task | None:
    return task and replace(task, others=tuple(name for name in asked if name != task.row))


def _thing_of(name: str) -> list[LivingThing]:
    slug, pk = NAMED.fullmatch(name).groups()
    try:
        return [fetch.thing_or_404(fetch.kind_of_slug(slug).code, int(pk))]
    except Http404:
        return []
