from nursery.models import Act, Clone, Place, Plant, PlantArrived, PlantGone
from nursery.records.core import Contradiction, Entry, NewAct, recorded


@recorded
def plant_arrived(
    *,
    act: NewAct,
    clone: Clone,
    place: Place | None = None,
    pot: str = "",
    struck_from: Plant | None = None,
    tag: int | None = None,
) -> Act:
    """Enter one pot of a clone; the day may well be unknown."""
    facts = {"clone": clone, "place": place, "pot": pot.strip()}
    entry = Entry(
        act, "plant_arrived", on=[clone, place, struck_from], said=facts | {"struck_from": struck_from, "tag": tag}
    )
    if sent := entry.sent_before():
        return sent
    plant = entry.born(Plant, tag=tag, **facts)
    return entry.keep(plant, PlantArrived(struck_from=struck_from, **facts), touched=[clone, place, struck_from])


@recorded
def plant_gone(*, act: NewAct, plant: Plant, why: str) -> Act:
    """A plant died, was sold, given away or thrown away. Its story stays."""
    entry = Entry(act, "plant_gone", on=[plant], said={"why": why})
    if sent := entry.sent_before():
        return sent
    flags = []
    if plant.closed_on:
        flags.append(Contradiction("gone_twice", "This plant was already gone. Was the tag on another plant?"))
    return entry.keep(plant, PlantGone(why=why), flags=flags)
