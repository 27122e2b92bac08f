from typing import Any

from breeding.milestones.awaited import Answer, interval
from nursery.milestones import LOOKS, birth_of, last_in_order, standing, watching
from nursery.seen import Seen, last_told

UP = frozenset({"first", "few", "plenty", "carpet"})


def seed_pot(seen: list[Seen]) -> dict[str, Any]:
    """Day sown, first seedling, how many; never closed by itself."""
    birth = birth_of(seen)
    first_after, first_by = interval(_answers(seen))
    told = [one for one in seen if one.kind == "pot_look" and one.data["seen"] != "cant_tell"]
    count = last_told(one for one in told if one.data["counted"] is not None)
    looked = last_in_order(seen, *LOOKS)
    amount = told[-1].data["seen"] if told else ""
    return watching(seen) | {
        "place_id": standing(seen),
        "seeds": birth.data["seeds"] if birth else None,
        "sown_first": birth.first if birth else None,
        "sown_last": birth.last if birth else None,
        "first_after": first_after,
        "first_by": first_by,
        "amount": amount,
        "counted": count.data["counted"] if count else None,
        "lost": sum(one.data["lost"] for one in seen if one.kind == "pot_loss"),
        "last_look": max((one.last for one in seen if one.last and one.kind in LOOKS), default=None),
        "last_seen": looked.data.get("seen", amount) if looked else "",
        "stage": _stage(birth, told),
    }


def _stage(birth: Seen | None, told: list[Seen]) -> str:
    if any(one.data["seen"] in UP for one in told):
        return "up"
    return "sown" if birth else ""


def _answers(seen: list[Seen]) -> list[Answer]:
    answers, up = [], False
    for one in seen:
        came = one.kind == "pot_look" and one.data["seen"] in UP
        up = up or came
        if came or one.birth or (one.kind == "pot_look" and one.data["seen"] == "nothing"):
            answers.append(Answer(came, one.first, one.last))
        elif one.kind == "walked_past" and not up:
            answers.append(Answer(False, one.first, one.last))
    return answers
