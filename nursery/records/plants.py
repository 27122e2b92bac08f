from nursery.days import Day
from nursery.models import Act, Clone, Place, Plant, PlantArrived, PlantGone
from nursery.records.core import Contradiction, Entry, NewAct, recorded
from nursery.records.milestones import without
from nursery.records.quarantine import quarantine_contradictions


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
    flags = quarantine_contradictions([struck_from], entry.day)
    plant = entry.born(Plant, tag=tag, **facts)
    arrived = PlantArrived(struck_from=struck_from, **facts)
    return entry.keep(plant, arrived, touched=[clone, place, struck_from], flags=flags)


@recorded
def plant_gone(*, act: NewAct, plant: Plant, why: str) -> Act:
    """A plant died, was sold, given away or thrown away. Its story stays."""
    entry = Entry(act, "plant_gone", on=[plant], said={"why": why})
    if sent := entry.sent_before():
        return sent
    flags = leaving_contradictions(plant, why=why, day=entry.day)
    if without(plant, act.replaces).closed_on:
        flags.append(Contradiction("gone_twice", "This plant was already gone. Was the tag on another plant?"))
    return entry.keep(plant, PlantGone(why=why), flags=flags)


def leaving_contradictions(plant: Plant, *, why: str, day: Day) -> list[Contradiction]:
    """A plant that is kept apart and goes to somebody else."""
    leaves = why in {PlantGone.Why.SOLD, PlantGone.Why.GIVEN}
    return quarantine_contradictions([plant], day) if leaves else []
