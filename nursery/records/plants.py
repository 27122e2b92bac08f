from collections.abc import Iterable

from nursery.days import Day
from nursery.models import Act, ActLink, Clone, Place, Plant, PlantArrived, PlantGone
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
    """Enter one pot of a clone; the day may well be unknown. A cutting is of the clone that its mother plant is."""
    facts = {"clone": clone, "place": place, "pot": pot.strip()}
    entry = Entry(
        act, "plant_arrived", on=[clone, place, struck_from], said=facts | {"struck_from": struck_from, "tag": tag}
    )
    if sent := entry.sent_before():
        return sent
    if struck_from:  # asked now that it is held: it may have been corrected while we waited
        facts["clone"] = struck_from.clone
    flags = quarantine_contradictions([struck_from], entry.day)
    plant = entry.born(Plant, tag=tag, **facts)
    arrived = PlantArrived(struck_from=struck_from, **facts)
    return entry.keep(plant, arrived, touched=[facts["clone"], place, struck_from], flags=flags)


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


def with_cuttings(plant: Plant) -> list[Plant]:
    """This plant and all that was struck from it, at any remove, mothers first."""
    found, last = {plant.pk: plant}, [plant.pk]
    while last:
        struck = Plant.objects.filter(thing__born_by__plantarrived__struck_from__in=last).order_by("pk")
        cuttings = {cutting.pk: cutting for cutting in struck if cutting.pk not in found}
        found |= cuttings
        last = list(cuttings)
    return list(found.values())


def cuttings_of(plant: Plant) -> list[Plant]:
    return with_cuttings(plant)[1:]


def resettle_plant(plant: Plant) -> None:
    """Let a cutting be of the clone that its mother plant is now: nobody told another."""
    birth = plant.thing.born_by
    mother = birth.plantarrived.struck_from
    if mother is None or mother.clone_id == plant.clone_id:
        return
    plant.clone = mother.clone
    plant.save(update_fields=["clone"])
    PlantArrived.objects.filter(act=birth).update(clone=mother.clone)
    touches_clones(birth, [mother.clone])


def touches_clones(birth: Act, clones: Iterable[Clone]) -> None:
    """Let the act that made something touch the clones of which that is now, and no other."""
    now = {clone.pk for clone in clones}
    links = ActLink.objects.filter(act=birth, thing__kind="clone")
    before = set(links.values_list("thing", flat=True))
    links.filter(thing__in=before - now).delete()
    ActLink.objects.bulk_create(ActLink(act=birth, thing_id=pk) for pk in sorted(now - before))
