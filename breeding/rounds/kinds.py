"""The kinds of task, each with its words, icon and usual minutes. ``look`` ones are answered by walking past."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True)
class TaskKind:
    code: str
    title: str
    many: str
    then: str
    icon: str
    minutes: int
    look: bool = False


TASK_KINDS = (
    TaskKind("spikes", "Look at spike", "Spikes", "look at it", "spike", 1, look=True),
    TaskKind("pollen", "Take pollen", "Take pollen", "take pollen", "brush", 4),
    TaskKind("pollinate", "Pollinate", "Pollinate", "pollinate", "flower", 8),
    TaskKind("take", "Read the take", "Take", "read the take", "pod-green", 1, look=True),
    TaskKind("pods", "Look at pods", "Pods", "look at the pods", "pod-green", 1, look=True),
    TaskKind("bag", "Bag the pods", "Bag", "bag it", "bag", 3),
    TaskKind("harvest", "Harvest", "Harvest", "harvest", "pod-cracked", 6),
    TaskKind("sow", "Sow", "Sow", "sow", "packet", 20),
    TaskKind("pots", "Look for seedlings", "Seedlings", "look for seedlings", "seedling", 1, look=True),
    TaskKind("routine", "Routine", "Routines", "do it", "check", 5),
    TaskKind("old_pollen", "Old pollen", "Old pollen", "see to the old pollen", "drop", 1),
    TaskKind("retag", "Print a new tag", "New tags", "print new tags", "tag", 3),
)
"""The minutes are our guesses; no source."""

BY_CODE = {kind.code: kind for kind in TASK_KINDS}
