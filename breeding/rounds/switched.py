"""Which kinds of task are on. A new nursery is asked six; the others come with the first thing they ask about."""

from __future__ import annotations

from dataclasses import dataclass

from django.db.models import Exists, QuerySet

from breeding.milestones.sections import OPENED
from breeding.models import PodLook, PollenLot, Routine, SeedLot, SeedPot
from breeding.rounds.kinds import TASK_KINDS, TaskKind
from nursery.models import House, Tag


@dataclass(frozen=True)
class Switch:
    """One kind of task: ``on`` unless an owner switched it off; ``waits`` says in words for what first thing it waits,
    empty where it is asked from the start or since that thing is there."""

    kind: TaskKind
    on: bool
    waits: str = ""


WAITS_FOR: dict[str, tuple[str, QuerySet]] = {
    "harvest": ("the first pod seen open", PodLook.objects.filter(seen__in=sorted(OPENED))),
    "sow": ("the first seed", SeedLot.objects.all()),
    "pots": ("the first sown pot", SeedPot.objects.all()),
    "old_pollen": ("the first packet of pollen", PollenLot.objects.all()),
    "routine": ("the first routine", Routine.objects.all()),
    "retag": ("the first tag on what is known to fade", Tag.objects.filter(lasts_until__isnull=False)),
}
"""Nothing can be asked before: that is why these are off in a new nursery, and why they need no switching on."""


def switches() -> list[Switch]:
    """Every kind of task as it stands now, in one query."""
    seen = {code: Exists(first) for code, (_, first) in WAITS_FOR.items()}
    row = House.objects.filter(pk=1).annotate(**seen).values("tasks_off", *seen).get()
    return [Switch(kind, kind.code not in row["tasks_off"], _waits(kind, row)) for kind in TASK_KINDS]


def _waits(kind: TaskKind, row: dict[str, object]) -> str:
    return WAITS_FOR[kind.code][0] if row.get(kind.code) is False else ""
