"""Acts as the pure functions take them, in one short line each."""

from datetime import UTC, date, datetime, time, timedelta
from typing import Any
from uuid import NAMESPACE_OID, uuid5

from nursery.days import Day
from nursery.seen import Seen

START = date(2026, 3, 1)

DEFAULTS: dict[str, dict[str, Any]] = {
    "spike_found": {"seen": "growing", "sex": "", "sex_from": "", "position": ""},
    "spike_look": {"seen": "growing", "sex": "", "sex_from": ""},
    "pollinated": {"lot_id": 1, "from_spike_id": None, "order": 1, "tie": "", "size": "", "flowers": None},
    "take_look": {"brown": "", "swelling": "", "pods": None},
    "pod_look": {"seen": "green", "extent": "all", "bagged": None, "pods_left": None},
    "harvested": {"what": "section", "pods": None, "pods_open": None},
    "seed_received": {"words": "", "storage": "unknown", "seeds": None},
    "seed_cleaned": {"seeds": None, "estimate_from": "", "filled_percent": None},
    "sown": {"place_id": 1, "pots": 1, "seeds": None, "pods": None, "all_of_it": False},
    "pot_look": {"seen": "nothing", "counted": None},
    "pot_split": {"pots": 2, "seedlings": None, "extent": "part", "place_id": 4},
    "pot_loss": {"lost": 1, "why": "unknown"},
    "pollen_collected": {"storage": "bench"},
    "pollen_received": {"storage": "unknown", "clone_id": None, "words": ""},
}


def on(number: int) -> date:
    """The day that many days after the first of March 2026."""
    return START + timedelta(days=number)


def told(
    kind: str, day: int | Day, *, birth: bool = False, main: bool = True, recorded: int = 275, **data: Any
) -> Seen:
    """One act on a day counted from the start; acts told later in a list need not be on later days.

    All are recorded on the first of December 2026 unless ``recorded`` names another day.
    """
    when = day if isinstance(day, Day) else Day.on(on(day))
    return Seen(
        id=uuid5(NAMESPACE_OID, f"{kind} {when} {sorted(data.items())}"),
        kind=kind,
        first=when.first,
        last=when.last,
        said=when.said,
        recorded_at=datetime.combine(on(recorded), time(), UTC),
        recorded_on=on(recorded),
        birth=birth,
        main=main,
        data=DEFAULTS.get(kind, {}) | data,
    )


def born(kind: str, day: int | Day = 0, **data: Any) -> Seen:
    return told(kind, day, birth=True, **data)


def in_order(*acts: Seen) -> list[Seen]:
    """As the books hand them over: by their day."""
    return sorted(acts, key=lambda one: one.order)
