"""What the round asks of one thing, beside what may be recorded of it at any time."""

from dataclasses import dataclass, replace
from datetime import date

from breeding.answers import Answer
from breeding.rounds.tasks import Outlook, Task, tasks_for
from nursery.models import LivingThing
from nursery.site.cards.parts import Card

ASKED_OF = frozenset({"plant", "spike", "section", "pollenlot", "seedlot", "seedpot", "sowingsession", "routine"})
MOST_TASKS = 3


@dataclass(frozen=True)
class AskedNow:
    """The tasks of a thing, soonest first, and why nothing is asked where nothing is.

    ``off`` names the questions whose kind is switched off.
    """

    tasks: tuple[Task, ...] = ()
    why_not: str = ""
    off: str = ""


def asked_now(thing: LivingThing, today: date) -> AskedNow:
    """By the rules of the round; of kinds that the round never asks about, nothing."""
    if thing.kind not in ASKED_OF:
        return AskedNow()
    outlook: Outlook = tasks_for(thing, today)
    quiet = not outlook.tasks and not outlook.off
    return AskedNow(outlook.tasks[:MOST_TASKS], outlook.why_not if quiet else "", outlook.off)


def with_hints(card: Card, asked: AskedNow, today: date) -> Card:
    """The card whose answers say what will be asked next, wherever the round has worked that out.

    "Later" is among them where something is asked by now.
    """
    hints = {_key(answer): answer.hint for task in asked.tasks for answer in task.answers if answer.hint}
    answers = tuple(_with_hint(answer, hints) for answer in card.asked.answers)
    later = card.asked.later if any(task.due <= today for task in asked.tasks) else ()
    more = tuple(_with_hint(answer, hints) for answer in (*card.asked.more, *later))
    return replace(card, asked=replace(card.asked, answers=answers, more=more))


def _key(answer: Answer) -> tuple[str, str, str]:
    return answer.url, answer.name, answer.value


def _with_hint(answer: Answer, hints: dict[tuple[str, str, str], str]) -> Answer:
    """What tells answers apart ("longer than wide") stays before what comes next."""
    hint = hints.get(_key(answer), "") if answer.url else ""
    return replace(answer, hint=hint) if hint and not answer.hint else answer
