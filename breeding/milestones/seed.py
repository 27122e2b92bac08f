from typing import Any

from nursery.milestones import birth_of, last_of, watching
from nursery.seen import Seen, last_told


def seed_lot(seen: list[Seen]) -> dict[str, Any]:
    """Day of ripeness, storage, estimate, what was sown; closed when all is sown or it is finished."""
    birth = birth_of(seen)
    sowings = [one for one in seen if one.kind == "sown"]
    columns = watching(seen) | _estimate(seen)
    columns |= {
        "ripe_first": birth.first if birth else None,
        "ripe_last": birth.last if birth else None,
        "storage": _storage(seen),
        "seeds_sown": sum((one.data["seeds"] or 0) * one.data["pots"] for one in sowings),
        "pots_sown": sum(one.data["pots"] for one in sowings),
        "last_look": max((one.last for one in seen if one.last and one.kind in {"seed_cleaned", "sown"}), default=None),
        "stage": _stage(birth, seen, sowings),
    }
    ended = last_of(seen, "seed_finished") or next((one for one in sowings if one.data["all_of_it"]), None)
    if ended:
        why = "finished" if ended.kind == "seed_finished" else "sown"
        columns |= {"closed_on": ended.latest, "closed_why": why}
    return columns


def _estimate(seen: list[Seen]) -> dict[str, Any]:
    told = last_told(one for one in seen if one.kind == "seed_cleaned" and one.data["seeds"] is not None)
    if told:
        return {"estimate": told.data["seeds"], "estimate_from": told.data["estimate_from"]}
    received = last_of(seen, "seed_received")
    if received and received.data["seeds"] is not None:
        return {"estimate": received.data["seeds"], "estimate_from": "guessed"}
    return {"estimate": None, "estimate_from": ""}


def _storage(seen: list[Seen]) -> str:
    """Harvested seed lies at room temperature until somebody says otherwise."""
    told = last_of(seen, "seed_stored") or last_of(seen, "seed_received")
    if told:
        return told.data["storage"]
    return "room" if last_of(seen, "harvested") else "unknown"


def _stage(birth: Seen | None, seen: list[Seen], sowings: list[Seen]) -> str:
    if birth is None:
        return ""
    if sowings:
        return "part_sown"
    return "cleaned" if last_of(seen, "seed_cleaned") else "waiting"
