"""Seed pots of one sowing that are due on the same day, as one task that is answered for all of them."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable
from dataclasses import replace

from breeding.answers import Answer
from breeding.rounds.answers import Link, in_rows
from breeding.rounds.task import Task


def together(tasks: Iterable[Task]) -> list[Task]:
    """The tasks in their order; those of one sowing, day and set of answers as one, where the first of them stood."""
    alike: dict[tuple, list[Task]] = defaultdict(list)
    for task in tasks:
        alike[_key(task)].append(task)
    return [_as_one(found) if len(found) > 1 else found[0] for found in alike.values()]


def _key(task: Task) -> tuple:
    """A pot with a remark of its own stands alone, or with those that it was made about."""
    if task.sowing is None:
        return (task.thing_id, task.kind, task.due)
    return (
        task.sowing,
        task.name_parts,
        task.kind,
        task.due,
        task.title,
        task.remark,
        tuple(_said(answer) for answer in task.answers),
    )


def _said(answer: Answer) -> tuple[str, str, str]:
    """What an answer records, whatever the thing."""
    return answer.label, answer.name, answer.value


def _as_one(tasks: list[Task]) -> Task:
    """The most urgent of them speaks for all; of what comes next, only what is the same for all is said. What opens the
    form of one pot is no answer for all."""
    first = max(tasks, key=lambda task: task.urgency)
    alike = zip(*((answer for answer in task.answers if answer.url) for task in tasks), strict=True)
    return replace(
        first,
        number=None,
        sub=f"{len(tasks)} pots",
        minutes=sum(task.minutes for task in tasks),
        things=tuple(task.thing_id for task in tasks),
        beside=tuple(one for task in tasks for one in task.beside),
        answers=in_rows([replace(_answer(first.slug, same), size="") for same in alike]),
        extra_links=(Link("Answer each, or all but some", f"/acts/{first.sowing}/several/"),),
    )


def _answer(slug: str, same: tuple[Answer, ...]) -> Answer:
    act = same[0].url.rstrip("/").rpartition("/")[2]
    hints = {answer.hint for answer in same}
    return replace(same[0], url=f"/several/{slug}/{act}/", hint=hints.pop() if len(hints) == 1 else "")
