"""The kinds of task, each with its words, icon and usual minutes. ``look`` ones are answered by walking past.

``acts`` are what its answers record in one tap, which is what it cautions of.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property

from breeding.care import care_of


@dataclass(frozen=True)
class TaskKind:
    code: str
    title: str
    many: str
    then: str
    icon: str
    minutes: int
    look: bool = False
    acts: tuple[str, ...] = ()

    @cached_property
    def cautions(self) -> tuple[str, ...]:
        return care_of(*self.acts)


TASK_KINDS = (
    TaskKind("spikes", "Look at spike", "Spikes", "look at it", "spike", 1, look=True, acts=("spike_look",)),
    TaskKind("pollen", "Take pollen", "Take pollen", "take pollen", "brush", 4, acts=("pollen_collected",)),
    TaskKind("pollinate", "Pollinate", "Pollinate", "pollinate", "flower", 8, acts=("pollinated",)),
    TaskKind("take", "Read the take", "Take", "read the take", "pod-green", 1, look=True, acts=("take_look",)),
    TaskKind("pods", "Look at pods", "Pods", "look at the pods", "pod-green", 1, look=True, acts=("pod_look",)),
    TaskKind("bag", "Bag the pods", "Bag", "bag it", "bag", 3, acts=("bagged",)),
    TaskKind("harvest", "Harvest", "Harvest", "harvest", "pod-cracked", 6, acts=("harvested",)),
    TaskKind("sow", "Sow", "Sow", "sow", "packet", 20, acts=("sown",)),
    TaskKind(
        "pots", "Look for seedlings", "Seedlings", "look for seedlings", "seedling", 1, look=True, acts=("pot_look",)
    ),
    TaskKind("routine", "Routine", "Routines", "do it", "check", 5),
    TaskKind("old_pollen", "Old pollen", "Old pollen", "see to the old pollen", "drop", 1, acts=("pollen_finished",)),
    TaskKind("retag", "Print a new tag", "New tags", "print new tags", "tag", 3),
)
"""The minutes are our guesses; no source."""

BY_CODE = {kind.code: kind for kind in TASK_KINDS}
