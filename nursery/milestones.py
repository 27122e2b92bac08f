"""The cached columns of the nursery's own kinds, from their acts. Pure: no database, no clock."""

from collections.abc import Collection
from typing import Any

from nursery.seen import Seen, last_told

LOOKS = frozenset({"spike_look", "take_look", "pod_look", "pot_look", "walked_past"})
HEEDED_BY_PLACES = frozenset(
    {"place_made", "place_renamed", "place_moved", "room_told", "postponed", "stopped", "resumed"}
)
NOT_CLOSED = {"closed_first": None, "closed_on": None, "closed_said": "", "closed_why": ""}


def last_of(seen: list[Seen], *kinds: str) -> Seen | None:
    """Of acts of these kinds, each of which replaces what was before, the one that holds now."""
    return last_told(one for one in seen if one.kind in kinds)


def last_in_order(seen: list[Seen], *kinds: str) -> Seen | None:
    """The last look of one of these kinds in the order of the days as told: one on a day not known is no news."""
    return next((one for one in reversed(seen) if one.kind in kinds), None)


def birth_of(seen: list[Seen]) -> Seen | None:
    return next((one for one in seen if one.birth), None)


def watching(seen: list[Seen], *, looks: Collection[str] = LOOKS) -> dict[str, Any]:
    """What every kind caches: whether its birth still counts, until when it is postponed, whether it was stopped.

    A postponement holds until its day, or until the thing is looked at again by an act of one of the kinds ``looks``.
    """
    later = None
    for one in sorted(seen, key=lambda one: one.late_order):
        if one.kind == "postponed":
            later = one.data["until"]
        elif one.kind in looks:
            later = None
    switch = last_of(seen, "stopped", "resumed")
    stopped = switch is not None and switch.kind == "stopped"
    return {
        "cancelled": birth_of(seen) is None,
        "later_until": later,
        **(closed_by(switch, "stopped") if stopped else NOT_CLOSED),
    }


def closed_by(end: Seen, why: str) -> dict[str, Any]:
    """That a thing ended with this act: by ``closed_on`` at the latest, and when as it was told."""
    return {"closed_first": end.first, "closed_on": end.latest, "closed_said": end.said, "closed_why": why}


def place(seen: list[Seen]) -> dict[str, Any]:
    """By what is told of the place itself: who walks past looks at what stands there, and so answers nothing of it."""
    seen = [one for one in seen if one.kind in HEEDED_BY_PLACES]
    own = [one for one in seen if one.main]
    named = last_of(own, "place_renamed") or last_of(own, "place_made")
    facts = {"name": named.data["name"], "order": named.data["order"]} if named else {}
    put = last_of(own, "place_moved") or birth_of(seen)
    inside = {"inside_id": put.data["inside_id"]} if put else {}
    counted = last_of(own, "room_told")
    room = {"room": counted.data["pots"] if counted else None}
    return watching(seen) | facts | inside | room


def clone(seen: list[Seen]) -> dict[str, Any]:
    """What it is thought to be: as last redetermined, else as entered. What nobody entered any more stays as it was."""
    thought = last_thought(seen)
    if thought is not None:
        return watching(seen) | _identity(thought.data, thought.data["words"])
    birth = birth_of(seen)
    return watching(seen) | (_identity(birth.data, "") if birth else {})


def last_thought(seen: list[Seen]) -> Seen | None:
    """The redetermination that holds."""
    return last_of([one for one in seen if one.main], "redetermined")


def _identity(told: Any, words: str) -> dict[str, Any]:
    columns = {name: told[name] for name in ("taxon_id", "seed_parent_id", "pollen_parent_id")}
    return columns | {"thought": words}


def plant(seen: list[Seen]) -> dict[str, Any]:
    columns = watching(seen)
    gone = last_of(seen, "plant_gone")
    if gone:
        columns |= closed_by(gone, gone.data["why"])
    return columns | {"place_id": standing(seen)} | _quarantine(seen)


def _quarantine(seen: list[Seen]) -> dict[str, Any]:
    """Why and since when a plant is kept apart: from the first day that it can have been, and as it was told."""
    last = last_of(seen, "quarantined", "released")
    if last is None or last.kind == "released":
        return {"quarantine": "", "quarantine_on": None, "quarantine_last": None, "quarantine_said": ""}
    days = {"quarantine_on": last.first, "quarantine_last": last.last, "quarantine_said": last.said}
    return {"quarantine": last.data["reason"]} | days


def standing(seen: list[Seen]) -> int | None:
    """The id of the place where a thing stands: its last move, or where it began."""
    moved = last_of(seen, "moved")
    if moved:
        return moved.data["place_id"]
    start = birth_of(seen)
    return start.data["place_id"] if start else None
