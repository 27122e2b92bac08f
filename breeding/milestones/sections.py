from collections.abc import Iterable
from datetime import date
from typing import Any

from breeding.milestones.awaited import Answer, interval
from nursery.milestones import LOOKS, birth_of, closed_by, last_in_order, watching
from nursery.seen import Seen, ending, last_told

SWOLLEN = frozenset({"third", "half", "most", "all"})
OPENED = frozenset({"opening", "split"})
ENDED = frozenset({"harvested", "lost"})
NOT_SWOLLEN = frozenset({"", "no_take"})


def section(seen: list[Seen]) -> dict[str, Any]:
    """Day 0, take, ripening, harvest; closed when all of it was harvested or has fallen."""
    dabs = [one for one in seen if one.kind == "pollinated"]
    open_after, open_by = interval(_answers(seen))
    turning = [one.last for one in seen if one.data.get("seen") == "turning" and one.last]
    stage, end = _stage(seen)
    looked = last_in_order(seen, *LOOKS)
    columns = watching(seen) | {
        "day0_first": min((one.first for one in dabs if one.first), default=None),
        "day0_last": max((one.last for one in dabs if one.last), default=None),
        "take": _take(seen),
        "bagged": _bagged(seen),
        "turning_by": min(turning, default=None),
        "open_after": open_after,
        "open_by": open_by,
        "harvested_on": _harvested_on(seen, end),
        "last_look": max((one.last for one in seen if one.last and _is_look(one)), default=None),
        "last_seen": _last_seen(looked, stage),
        "stage": stage,
    }
    if end:
        columns |= closed_by(end, stage)
    return columns | _facts(birth_of(seen))


def _facts(birth: Seen | None) -> dict[str, Any]:
    if birth is None:
        return {}
    return {
        "order": birth.data["order"] or 1,
        "tie": birth.data["tie"],
        "size": birth.data["size"],
        "flowers": birth.data["flowers"],
    }


def _harvested_on(seen: list[Seen], end: Seen | None) -> date | None:
    """The last day of cutting. While pods are left, a cut of unknown day is taken to be of the day it was told.

    So the pods that were open by then are no longer asked for; once all is cut, a day nobody knows is none.
    """
    cuts = [one for one in seen if one.kind == "harvested"]
    return max((one.last or one.latest for one in cuts if one.last or not end), default=None)


def _is_look(one: Seen) -> bool:
    return one.kind in LOOKS or one.kind in {"pollinated", "bagged"}


def _last_seen(looked: Seen | None, stage: str) -> str:
    """The code of the last answer; walking past repeats the state."""
    if looked is None or looked.kind == "walked_past":
        return stage
    if looked.kind == "take_look":
        return looked.data["swelling"] or f"brown_{looked.data['brown']}"
    return looked.data.get("seen", stage)


def _take(seen: list[Seen]) -> str:
    """Swelling is the answer; brown stigmas are a hint and no take."""
    readings = [one.data["swelling"] for one in seen if one.kind == "take_look" and one.data["swelling"]]
    told = [reading for reading in readings if reading != "cant_tell"]
    return told[-1] if told else ""


def _bagged(seen: list[Seen]) -> bool:
    told = last_told(
        one for one in seen if one.kind == "bagged" or (one.kind == "pod_look" and one.data["bagged"] is not None)
    )
    return told is not None and (told.kind == "bagged" or told.data["bagged"])


def _stage(seen: list[Seen]) -> tuple[str, Seen | None]:
    """How far its evidence goes, and the act that ended it, None while it goes on."""
    told = [(said, one) for one in _as_it_went(seen) if (said := _stage_told(one))]
    going_on = [(said, one) for said, one in told if said not in ENDED]
    end = ending((one for said, one in told if said in ENDED), (one for _, one in going_on))
    return (_stage_told(end), end) if end else (_stage_reached(said for said, _ in going_on), None)


def _stage_reached(told: Iterable[str]) -> str:
    """The last stage that was told; another dab takes back only that nothing was swelling.

    >>> [_stage_reached(["pollinated", read, "pollinated"]) for read in ("swelling", "no_take")]
    ['swelling', 'pollinated']
    """
    stage = ""
    for said in told:
        if said != "pollinated" or stage in NOT_SWOLLEN:
            stage = said
    return stage


def _as_it_went(seen: list[Seen]) -> list[Seen]:
    """Days not known come first in the order of days, but pods, seen whenever, come after the first dabbing."""
    undated = [one for one in seen if one.first is None and one.kind != "pollinated"]
    dated = [one for one in seen if one not in undated]
    begin = next((at for at, one in enumerate(dated, 1) if one.kind == "pollinated"), 0)
    return [*dated[:begin], *undated, *dated[begin:]]


def _stage_told(one: Seen) -> str:
    if one.kind == "pollinated":
        return "pollinated"
    if one.kind == "take_look":
        return {"none": "no_take", "": "", "cant_tell": ""}.get(one.data["swelling"], "swelling")
    if one.kind == "pod_look":
        if one.data["seen"] == "split" and one.data["pods_left"] == 0:
            return "lost"
        return {"green": "swelling", "cant_tell": ""}.get(one.data["seen"], one.data["seen"])
    if one.kind == "harvested" and one.data["what"] == "section":
        return "harvested"
    return ""


def _answers(seen: list[Seen]) -> list[Answer]:
    """What each look said of the first opening. Some green pods do not say that none has opened."""
    answers, opened = [], False
    for one in seen:
        came = _came(one)
        opened = opened or came
        if came or _says_not_yet(one, opened):
            answers.append(Answer(came, one.first, one.last))
    return answers


def _came(one: Seen) -> bool:
    if one.kind == "harvested":
        return bool(one.data["pods_open"])
    return one.kind == "pod_look" and one.data["seen"] in OPENED


def _says_not_yet(one: Seen, opened: bool) -> bool:
    if one.kind == "pod_look":
        return one.data["seen"] in {"green", "turning"} and one.data["extent"] == "all"
    return not opened and one.kind in {"pollinated", "take_look", "walked_past"}
