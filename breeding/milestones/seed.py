from typing import Any

from breeding.milestones.sowing import once_a_pot
from nursery.milestones import birth_of, closed_by, last_of, watching
from nursery.seen import Seen, last_told

ENDS = {"seed_finished": "finished", "sown": "sown", "pot_sown": "sown", "seed_sent": "sent"}
LAST_LOOKS = frozenset({"seed_cleaned", "sown", "pot_sown"})
FROM_THE_WHOLE = frozenset({"ripe_first", "ripe_last"})
"""What a split-off part has from its lot (``breeding.records.parts``)."""


def seed_lot(seen: list[Seen]) -> dict[str, Any]:
    """Day of ripeness, storage, estimate, what was sown; closed when all is sown or it is finished."""
    birth = birth_of(seen)
    sowings = [one for one in seen if one.kind == "sown"]
    potted = list(once_a_pot(seen, "pot_sown").values())
    columns = watching(seen) | _estimate(seen)
    columns |= {
        "ripe_first": birth.first if birth else None,
        "ripe_last": birth.last if birth else None,
        "storage": _storage(seen),
        "seeds_sown": sum((one.data["seeds"] or 0) * one.data.get("pots", 1) for one in [*sowings, *potted]),
        "seeds_gone": sum(_gone(one) for one in seen),
        "pots_sown": sum(one.data["pots"] for one in sowings) + len(potted),
        "last_look": max((one.last for one in seen if one.last and one.kind in LAST_LOOKS), default=None),
        "stage": _stage(birth, seen, [*sowings, *potted]),
    }
    if birth and birth.kind == "seed_split":
        columns = {name: value for name, value in columns.items() if name not in FROM_THE_WHOLE}
    ended = _ended(seen)
    if ended:
        columns |= closed_by(ended, ENDS[ended.kind])
    return columns


def _ended(seen: list[Seen]) -> Seen | None:
    """The act after which nothing is left: finished; else all of it sown, or all of it sent."""
    sown = next((one for one in seen if one.kind in {"sown", "pot_sown"} and one.data["all_of_it"]), None)
    sent = next((one for one in seen if one.kind == "seed_sent" and one.data["extent"] == "all"), None)
    return last_of(seen, "seed_finished") or sown or sent


def _gone(one: Seen) -> int:
    """Seeds that an act took out of a lot without sowing them, where somebody said how many."""
    away = one.kind == "seed_sent" or (one.kind == "seed_split" and not one.birth)
    return (one.data["seeds"] or 0) if away else 0


def _estimate(seen: list[Seen]) -> dict[str, Any]:
    told = last_told(one for one in seen if one.kind == "seed_cleaned" and one.data["seeds"] is not None)
    if told:
        return {"estimate": told.data["seeds"], "estimate_from": told.data["estimate_from"]}
    received = last_of([one for one in seen if one.birth], "seed_received", "seed_split")
    if received and received.data["seeds"] is not None:
        return {"estimate": received.data["seeds"], "estimate_from": "guessed"}
    return {"estimate": None, "estimate_from": ""}


def _storage(seen: list[Seen]) -> str:
    """Harvested seed lies at room temperature until somebody says otherwise."""
    came = [one for one in seen if one.birth]
    told = last_of(seen, "seed_stored") or last_of(came, "seed_received", "seed_split")
    if told:
        return told.data["storage"]
    return "room" if last_of(seen, "harvested") else "unknown"


def _stage(birth: Seen | None, seen: list[Seen], sowings: list[Seen]) -> str:
    if birth is None:
        return ""
    if sowings:
        return "part_sown"
    return "cleaned" if last_of(seen, "seed_cleaned") else "waiting"
