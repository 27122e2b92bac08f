from typing import Any

from breeding.milestones.awaited import Answer, interval
from nursery.milestones import LOOKS, birth_of, closed_by, last_in_order, last_of, standing, watching
from nursery.seen import Seen, last_told

UP = frozenset({"first", "few", "plenty", "carpet"})


def seed_pot(seen: list[Seen]) -> dict[str, Any]:
    """Day sown, first seedling, how many; a sown pot is never closed by itself, a prepared one when it is cleared."""
    sown = sowing_of(seen)
    first_after, first_by = interval(_answers(seen))
    told = [one for one in seen if one.kind == "pot_look" and one.data["seen"] != "cant_tell"]
    count = last_told(one for one in told if one.data["counted"] is not None)
    looked = last_in_order(seen, *LOOKS)
    amount = told[-1].data["seen"] if told else ""
    columns = watching(seen) | {
        "place_id": standing(seen),
        "seeds": sown.data["seeds"] if sown else None,
        "sown_first": sown.first if sown else None,
        "sown_last": sown.last if sown else None,
        "first_after": first_after,
        "first_by": first_by,
        "amount": amount,
        "counted": count.data["counted"] if count else None,
        "lost": sum(one.data["lost"] for one in seen if one.kind == "pot_loss"),
        "last_look": max((one.last for one in seen if one.last and one.kind in LOOKS), default=None),
        "last_seen": looked.data.get("seen", amount) if looked else "",
        "unsown": _prepared(seen) and sown is None,
        "stage": _stage(seen, sown, told),
    }
    cleared = last_of(seen, "pot_cleared")
    if cleared and sown is None:
        columns |= closed_by(cleared, "cleared")
    return columns


def sowing_of(seen: list[Seen]) -> Seen | None:
    """The act that put seed into a pot: the one that made it, or the first that told so of a prepared one."""
    birth = birth_of(seen)
    if birth and birth.kind == "sown":
        return birth
    return next((one for one in seen if one.kind == "pot_sown"), None)


def _prepared(seen: list[Seen]) -> bool:
    birth = birth_of(seen)
    return birth is not None and birth.kind == "sowing_planned"


def _stage(seen: list[Seen], sown: Seen | None, told: list[Seen]) -> str:
    if any(one.data["seen"] in UP for one in told):
        return "up"
    if sown:
        return "sown"
    return "prepared" if _prepared(seen) else ""


def _answers(seen: list[Seen]) -> list[Answer]:
    answers, up, sown = [], False, sowing_of(seen)
    for one in seen:
        came = one.kind == "pot_look" and one.data["seen"] in UP
        up = up or came
        if came or one is sown or (one.kind == "pot_look" and one.data["seen"] == "nothing"):
            answers.append(Answer(came, one.first, one.last))
        elif one.kind == "walked_past" and not up:
            answers.append(Answer(False, one.first, one.last))
    return answers
