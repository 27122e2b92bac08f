from collections.abc import Iterable
from typing import Any

from nursery.milestones import closed_by, last_of, watching
from nursery.seen import Seen, last_told

FACTS = ("planned_for", "medium", "sterilised", "sterilised_words")


def sowing_session(seen: list[Seen]) -> dict[str, Any]:
    """What is planned, how many pots were sown and cleared; closed once none waits any more."""
    planned = last_of(seen, "sowing_planned")
    told = last_of(seen, "sowing_changed") or planned
    sown, cleared = once_a_pot(seen, "pot_sown"), once_a_pot(seen, "pot_cleared")
    cleared = {pot: one for pot, one in cleared.items() if pot not in sown}
    columns = watching(seen) | ({name: told.data[name] for name in FACTS} if told else {})
    columns |= {
        "place_id": planned.data["place_id"] if planned else None,
        "density": planned.data["density"] if planned else None,
        "pots_planned": planned.data["pots"] if planned else 0,
        "pots_sown": len(sown),
        "pots_cleared": len(cleared),
        "stage": _stage(planned, sown),
    }
    done = {**sown, **cleared}
    if planned and len(done) >= planned.data["pots"]:
        last = last_told(done.values())
        columns |= closed_by(last, "sown" if sown else "cleared")
    return columns


def once_a_pot(seen: Iterable[Seen], kind: str) -> dict[int, Seen]:
    """By pot, the first act of this kind: what two people told of one pot happened to it once."""
    found: dict[int, Seen] = {}
    for one in seen:
        if one.kind == kind:
            found.setdefault(one.data["pot_id"], one)
    return found


def _stage(planned: Seen | None, sown: dict[int, Seen]) -> str:
    if planned is None:
        return ""
    if len(sown) >= planned.data["pots"]:
        return "sown"
    return "part_sown" if sown else "planned"
