from collections.abc import Iterable
from typing import Any

from breeding.milestones.awaited import Answer, interval
from nursery.milestones import LOOKS, birth_of, closed_by, last_in_order, last_of, standing, watching
from nursery.seen import Seen, ending, last_told

UP = frozenset({"first", "few", "plenty", "carpet"})
POT_LOOKS = LOOKS | {"pot_split"}
"""Who splits a pot has its seedlings in hand."""
FROM_THE_WHOLE = frozenset({"sown_first", "sown_last"})
"""What a pot that was split off has from the one it came from (``breeding.records.parts``)."""


def seed_pot(seen: list[Seen]) -> dict[str, Any]:
    """Day sown, first seedling, how many, when it was split.

    A sown pot is closed when all its seedlings went into other pots or it is gone, a prepared one when it is cleared.
    The first seedling of a pot that was split off came up in the pot it came from, so it has no such day.
    """
    sown, splits = sowing_of(seen), _of_kind(seen, "pot_split")
    part = is_part(seen)
    first_after, first_by = interval([] if part else _answers(seen))
    told = [one for one in seen if one.kind == "pot_split" or _tells(one)]
    looked, split = last_in_order(seen, *POT_LOOKS), last_told(splits)
    amount = told[-1].data.get("seen", "") if told else ""
    columns = watching(seen, looks=POT_LOOKS) | {
        "place_id": standing(seen),
        "seeds": sown.data["seeds"] if sown else None,
        "sown_first": sown.first if sown else None,
        "sown_last": sown.last if sown else None,
        "first_after": first_after,
        "first_by": first_by,
        "amount": amount,
        "lost": sum(one.data["lost"] for one in seen if one.kind == "pot_loss"),
        "split_first": split.first if split else None,
        "split_last": split.latest if split else None,
        "last_look": max((one.last for one in seen if one.last and one.kind in POT_LOOKS), default=None),
        "last_seen": looked.data.get("seen", amount) if looked else "",
        "unsown": _prepared(seen) and sown is None,
        "stage": _stage(seen, sown),
    }
    columns |= _counts(seen)
    if part:
        columns = {name: value for name, value in columns.items() if name not in FROM_THE_WHOLE}
    return columns | _ended(seen, filled=part or sown is not None)


def sowing_of(seen: list[Seen]) -> Seen | None:
    """The act that put seed into a pot: the one that made it, or the first that told so of a prepared one."""
    birth = birth_of(seen)
    if birth and birth.kind == "sown":
        return birth
    return next((one for one in seen if one.kind == "pot_sown"), None)


def is_part(seen: list[Seen]) -> bool:
    """Whether it was split off from another pot."""
    birth = birth_of(seen)
    return birth is not None and birth.kind == "pot_split"


def _prepared(seen: list[Seen]) -> bool:
    birth = birth_of(seen)
    return birth is not None and birth.kind == "sowing_planned"


def _stage(seen: list[Seen], sown: Seen | None) -> str:
    """Where there was something to split, seedlings had come up."""
    if any(one.kind == "pot_split" or _came_up(one) for one in seen):
        return "up"
    if sown:
        return "sown"
    return "prepared" if _prepared(seen) else ""


def _ended(seen: list[Seen], *, filled: bool) -> dict[str, Any]:
    """All of it split into others, or gone, unless it was seen surely later; or cleared, with nothing ever in it."""
    out = [one for one in _of_kind(seen, "pot_split") if not one.birth]
    some_left = [one for one in seen if _came_up(one)] + [one for one in out if one.data["extent"] == "part"]
    emptied = ending([one for one in out if one.data["extent"] == "all"], some_left)
    gone = ending(_of_kind(seen, "pot_gone"), [one for one in seen if one.kind in POT_LOOKS and not one.birth])
    cleared = last_of(seen, "pot_cleared")
    if gone and (emptied is None or gone.late_order > emptied.late_order):
        return closed_by(gone, gone.data["why"])
    if emptied:
        return closed_by(emptied, "split")
    return closed_by(cleared, "cleared") if cleared and not filled else {}


def _counts(seen: list[Seen]) -> dict[str, Any]:
    """``counted``: what is in it by the last count, without what was moved since; ``raised``: all that it gave.

    Neither is told where nobody counted what was moved.
    """
    counted, raised, gone = None, None, 0
    for one in sorted(_of_kind(seen, "pot_look", "pot_split"), key=lambda one: one.late_order):
        if one.kind == "pot_look":
            if _tells(one) and one.data["counted"] is not None:
                counted = one.data["counted"]
                raised = raised if gone is None else counted + gone
            continue
        each, pots = one.data["seedlings"], one.data["pots"]
        if one.birth:
            counted = each
            continue
        gone = None if gone is None or each is None else gone + each * pots
        if one.data["extent"] == "all":
            counted, raised = None, raised if gone is None else gone
        else:
            counted = None if counted is None or each is None else max(counted - each * pots, 0)
            raised = raised if raised is None or gone is None else max(raised, gone)
    return {"counted": counted, "raised": None if is_part(seen) else raised}


def _tells(one: Seen) -> bool:
    return one.kind == "pot_look" and one.data["seen"] != "cant_tell"


def _came_up(one: Seen) -> bool:
    return one.kind == "pot_look" and one.data["seen"] in UP


def _nothing_up(one: Seen) -> bool:
    looked = one.kind == "pot_look" and one.data["seen"] == "nothing"
    return looked or (one.kind == "pot_gone" and one.data["why"] == "nothing_up")


def _of_kind(seen: Iterable[Seen], *kinds: str) -> list[Seen]:
    return [one for one in seen if one.kind in kinds]


def _answers(seen: list[Seen]) -> list[Answer]:
    answers, up, sown = [], False, sowing_of(seen)
    for one in seen:
        came = one.kind == "pot_split" or _came_up(one)
        up = up or came
        if came or one is sown or _nothing_up(one):
            answers.append(Answer(came, one.first, one.last))
        elif one.kind == "walked_past" and not up:
            answers.append(Answer(False, one.first, one.last))
    return answers
