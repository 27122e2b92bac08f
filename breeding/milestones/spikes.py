from typing import Any

from breeding.milestones.awaited import Answer, interval
from nursery.milestones import LOOKS, birth_of, closed_by, last_in_order, watching
from nursery.seen import Seen, ending, last_told

NOT_YET = frozenset({"growing", "buds"})
OPEN = frozenset({"open", "showing"})
ENDED = frozenset({"over", "aborted"})
WORKED_ON = frozenset({"pollinated", "pollen_collected"})
"""Acts that only an open flower allows: evidence of opening even where nobody wrote a look."""


def spike(seen: list[Seen]) -> dict[str, Any]:
    """Days found, sex, opening, what was last seen; closed when it is over or aborted."""
    found = birth_of(seen)
    states = _states(seen)
    open_after, open_by = interval(_answer(state, one) for state, one in states)
    state, end = _now(states)
    looked = last_in_order(seen, "spike_found", *LOOKS, *WORKED_ON)
    columns = watching(seen) | {
        "position": found.data["position"] if found else "",
        "found_first": found.first if found else None,
        "found_last": found.last if found else None,
        "open_after": open_after,
        "open_by": open_by,
        "showing_on": max((one.last for state, one in states if state == "showing" and one.last), default=None),
        "pollen_taken_on": max((one.last for one in seen if one.kind == "pollen_collected" and one.last), default=None),
        "over_by": min((one.last for state, one in states if state == "over" and one.last), default=None),
        "last_look": max((one.last for one in seen if one.last and _is_look(one)), default=None),
        "last_seen": looked.data.get("seen", state) if looked and not end else state,
        "stage": state,
    }
    if end:
        columns |= closed_by(end, state)
    return columns | sex_read(seen)


def sex_read(seen: list[Seen]) -> dict[str, str]:
    """Open flowers are certain, buds are not: flowers decide; flowers of both sexes are contradictory."""
    flowers = [one.data["sex"] for one in seen if one.data.get("sex") and one.data["sex_from"] == "flowers"]
    buds = last_told(one for one in seen if one.data.get("sex") and one.data["sex_from"] == "buds")
    if flowers:
        return {"sex": "unclear" if len(set(flowers)) > 1 else flowers[-1], "sex_from": "flowers"}
    if buds:
        return {"sex": buds.data["sex"], "sex_from": "buds"}
    return {"sex": "", "sex_from": ""}


def _is_look(one: Seen) -> bool:
    return one.kind == "spike_found" or one.kind in LOOKS or one.kind in WORKED_ON


def _states(seen: list[Seen]) -> list[tuple[str, Seen]]:
    """What the spike was known to be at each act that tells; walking past says "as before"."""
    states: list[tuple[str, Seen]] = []
    for one in seen:
        state = states[-1][0] if states else ""
        if one.kind in {"spike_found", "spike_look"} and one.data["seen"] != "cant_tell":
            states.append((one.data["seen"], one))
        elif one.kind in WORKED_ON:
            stays = state in OPEN or (state in ENDED and not one.surely_after(states[-1][1]))
            states.append((state if stays else "open", one))
        elif one.kind == "walked_past" and state:
            states.append((state, one))
    return states


def _now(states: list[tuple[str, Seen]]) -> tuple[str, Seen | None]:
    """What it is, and the look that ended it, None while it goes on. Walking past says nothing against an ending."""
    ends = [one for state, one in states if state in ENDED and one.data.get("seen") == state]
    going_on = [one for state, one in states if state not in ENDED and one.kind != "walked_past"]
    end = ending(ends, going_on)
    if end:
        return end.data["seen"], end
    return (states[-1][0] if states else ""), None


def _answer(state: str, one: Seen) -> Answer:
    return Answer(came=state not in NOT_YET and state != "aborted", first=one.first, last=one.last)
