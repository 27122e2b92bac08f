from datetime import date
from typing import Any

from breeding.science.pollen import best_before
from nursery.milestones import birth_of, last_of, watching
from nursery.seen import Seen


def pollen_lot(seen: list[Seen]) -> dict[str, Any]:
    """Day collected, storage, best before; closed when it is finished."""
    birth = birth_of(seen)
    stored = [one for one in seen if one.kind == "pollen_stored" or one.birth]
    columns = watching(seen) | {
        "collected_first": birth.first if birth else None,
        "collected_last": birth.last if birth else None,
        "storage": stored[-1].data["storage"] if stored else "unknown",
        "best_before": _best_before(birth, stored),
        "last_look": max((one.last for one in stored if one.last), default=None),
        "stage": "kept" if birth else "",
    }
    finished = last_of(seen, "pollen_finished")
    if finished:
        columns |= {"closed_on": finished.last or finished.recorded_on, "closed_why": "finished"}
    return columns


def _best_before(birth: Seen | None, stored: list[Seen]) -> date | None:
    """None where the day of collecting is not known: nothing is guessed from it."""
    if birth is None or birth.first is None:
        return None
    changes = [(one.first, one.data["storage"]) for one in stored if one.first and not one.birth]
    return best_before(birth.first, birth.data["storage"], changes)
