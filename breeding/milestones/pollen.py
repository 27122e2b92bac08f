from datetime import date
from typing import Any

from breeding.science.pollen import best_before
from nursery.milestones import birth_of, closed_by, last_of, watching
from nursery.seen import Seen

FROM_THE_WHOLE = frozenset({"collected_first", "collected_last", "best_before"})
"""What a split-off part has from its packet (``breeding.records.parts``)."""


def pollen_lot(seen: list[Seen]) -> dict[str, Any]:
    """Day collected, storage, best before; closed when it is finished."""
    birth = birth_of(seen)
    stored = [one for one in seen if one.kind == "pollen_stored" or one.birth]
    kept = last_of(seen, "pollen_stored") or birth
    columns = watching(seen) | {
        "collected_first": birth.first if birth else None,
        "collected_last": birth.last if birth else None,
        "storage": kept.data["storage"] if kept else "unknown",
        "best_before": _best_before(birth, stored),
        "last_look": max((one.last for one in stored if one.last), default=None),
        "stage": "kept" if birth else "",
    }
    if birth and birth.kind == "pollen_split":
        columns = {name: value for name, value in columns.items() if name not in FROM_THE_WHOLE}
    finished = last_of([one for one in seen if one.data.get("extent") != "part"], "pollen_finished", "pollen_sent")
    if finished:
        columns |= closed_by(finished, _why(finished))
    return columns


def _why(finished: Seen) -> str:
    return "sent" if finished.kind == "pollen_sent" else "finished"


def _best_before(birth: Seen | None, stored: list[Seen]) -> date | None:
    """None where the day of collecting is not known: nothing is guessed from it.

    A move counts from the last day on which it can have been, so that the last storage is the one that holds.
    """
    if birth is None or birth.first is None:
        return None
    moves = sorted((one for one in stored if not one.birth), key=lambda one: one.late_order)
    changes = [(one.latest, one.data["storage"]) for one in moves]
    return best_before(birth.first, birth.data["storage"], changes)
