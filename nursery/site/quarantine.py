"""What is said of quarantine on the pages of a plant, of its spikes and sections, and of its clone."""

from datetime import date
from typing import Any

from nursery.models import Plant


def quarantine_notices(thing: Any, today: date) -> list[str]:
    """One sentence for what is kept apart; for a clone, how many of its plants are. At most one query."""
    match thing.kind:
        case "plant":
            return _of_plant(thing, "It is ", today)
        case "spike":
            return _of_plant(thing.plant, "Its plant is ", today)
        case "section":
            return _of_plant(thing.spike.plant, "Its plant is ", today)
        case "clone":
            return _of_clone(thing)
    return []


def _of_plant(plant: Plant, before: str, today: date) -> list[str]:
    if not plant.quarantine:
        return []
    day = plant.quarantine_day
    since = f" since {day.words(today).removeprefix('in ')}" if day else ""
    asks = "Pollen, pollination, cuttings and its leaving are asked about once."
    return [f"{before}in quarantine{since}: {plant.quarantine}. {asks}"]


def _of_clone(clone: Any) -> list[str]:
    kept = Plant.objects.filter(clone=clone, cancelled=False, closed_on__isnull=True).exclude(quarantine="")
    reasons = list(kept.values_list("quarantine", flat=True))
    if not reasons:
        return []
    plants = "1 plant of it is" if len(reasons) == 1 else f"{len(reasons)} plants of it are"
    return [f"{plants} in quarantine: {', '.join(dict.fromkeys(reasons))}."]
