"""The cached columns of the nursery's own kinds, from their acts. Pure: no database, no clock."""

from typing import Any

from nursery.seen import Seen

LOOKS = frozenset({"spike_look", "take_look", "pod_look", "pot_look", "walked_past"})


def last_of(seen: list[Seen], *kinds: str) -> Seen | None:
    """The latest act of one of these kinds."""
    return next((one for one in reversed(seen) if one.kind in kinds), None)


def birth_of(seen: list[Seen]) -> Seen | None:
    return next((one for one in seen if one.birth), None)


def watching(seen: list[Seen]) -> dict[str, Any]:
    """What every kind caches: whether its birth still counts, until when it is postponed, whether it was stopped.

    A postponement holds until its day, or until the thing is looked at again.
    """
    later = None
    for one in seen:
        if one.kind == "postponed":
            later = one.data["until"]
        elif one.kind in LOOKS:
            later = None
    switch = last_of(seen, "stopped", "resumed")
    stopped = switch is not None and switch.kind == "stopped"
    return {
        "cancelled": birth_of(seen) is None,
        "later_until": later,
        "closed_on": (switch.last or switch.recorded_on) if stopped else None,
        "closed_why": "stopped" if stopped else "",
    }


def place(seen: list[Seen]) -> dict[str, Any]:
    named = last_of([one for one in seen if one.main], "place_renamed", "place_made")
    facts = {"name": named.data["name"], "order": named.data["order"]} if named else {}
    put = last_of([one for one in seen if one.main], "place_moved") or birth_of(seen)
    inside = {"inside_id": put.data["inside_id"]} if put else {}
    return watching(seen) | facts | inside


def clone(seen: list[Seen]) -> dict[str, Any]:
    """What it is thought to be: as last redetermined, else as entered. What nobody entered any more stays as it was."""
    thought = last_thought(seen)
    if thought is not None:
        return watching(seen) | _identity(thought.data, thought.data["words"])
    birth = birth_of(seen)
    return watching(seen) | (_identity(birth.data, "") if birth else {})


def last_thought(seen: list[Seen]) -> Seen | None:
    """The redetermination that holds: the latest by its day, a day not known counting as the day it was told."""
    told = [one for one in seen if one.kind == "redetermined" and one.main]
    return max(told, key=lambda one: (one.last or one.recorded_on, one.recorded_at), default=None)


def _identity(told: Any, words: str) -> dict[str, Any]:
    columns = {name: told[name] for name in ("taxon_id", "seed_parent_id", "pollen_parent_id")}
    return columns | {"thought": words}


def plant(seen: list[Seen]) -> dict[str, Any]:
    columns = watching(seen)
    gone = last_of(seen, "plant_gone")
    if gone:
        columns |= {"closed_on": gone.last or gone.recorded_on, "closed_why": gone.data["why"]}
    return columns | {"place_id": standing(seen)} | _quarantine(seen)


def _quarantine(seen: list[Seen]) -> dict[str, Any]:
    """Why and since when a plant is kept apart; from the first day that it can have been."""
    last = last_of(seen, "quarantined", "released")
    if last is None or last.kind == "released":
        return {"quarantine": "", "quarantine_on": None}
    return {"quarantine": last.data["reason"], "quarantine_on": last.first}


def standing(seen: list[Seen]) -> int | None:
    """The id of the place where a thing stands: its last move, or where it began."""
    moved = last_of(seen, "moved")
    if moved:
        return moved.data["place_id"]
    start = birth_of(seen)
    return start.data["place_id"] if start else None
