from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from nursery.milestones import last_of, watching
from nursery.seen import Seen


@dataclass(frozen=True)
class Progress:
    """What stands below a cross: how many of its sections and lots are at which stage; its pots, and those up."""

    planned: bool
    sections: Mapping[str, int]
    lots: Mapping[str, int]
    pots: int
    pots_up: int


def cross(seen: list[Seen]) -> dict[str, Any]:
    """What was wished for, from the last plan."""
    plan = last_of(seen, "cross_planned")
    wish = {name: plan.data[name] for name in ("wanted", "aim", "family")} if plan else {}
    watched = watching(seen)
    del watched["cancelled"]  # a pairing counts as long as anything belongs to it: see progress
    return watched | {"wanted": None, "aim": "", "family": ""} | wish


def progress(below: Progress) -> dict[str, Any]:
    """A cross is a pairing: it counts as long as it is planned or anything belongs to it."""
    return {
        "cancelled": not (below.planned or below.sections or below.lots),
        "sections": sum(below.sections.values()),
        "pots": below.pots,
        "pots_up": below.pots_up,
        "stage": _stage(below),
    }


def _stage(below: Progress) -> str:
    if below.pots:
        return "up" if below.pots_up else "sown"
    if below.lots:
        return "seed"
    for stage in ("split", "opening", "turning", "swelling", "pollinated", "no_take", "lost"):
        if stage in below.sections:
            return stage
    return "planned" if below.planned else ""
