"""Crosses: found by their canonical pairing, made when first needed."""

from collections.abc import Iterable

from breeding.models import Cross, CrossPlanned, Pollinated, Section, SeedLot, Spike
from nursery.models import Act, ActLink, Clone, Thing
from nursery.records import locks, milestones
from nursery.records.core import Contradiction, Entry, NewAct, recorded
from nursery.records.errors import Refused
from nursery.records.mind import thing_in_mind
from nursery.records.prepared import Prepared

_PAIRED = Prepared(lambda keys: Cross.objects.filter(key__in=keys))
_WITH_CLONE = Prepared(lambda ids: Spike.objects.filter(pk__in=ids).select_related("plant__clone"))
_DABS = Prepared(
    lambda ids: Pollinated.objects.filter(act__thing_id__in=ids, act__voided_by__isnull=True).select_related(
        "lot", "from_spike__plant"
    )
)


def pairing_key(seed_parent: Clone | None, fathers: Iterable[int]) -> str:
    """The one name of a pairing: ids, female first; several possible fathers in order; ? where unknown."""
    seed = seed_parent.pk if seed_parent else "?"
    return f"{seed}x{'|'.join(str(pk) for pk in sorted(set(fathers))) or '?'}"


def existing_cross(seed_parent: Clone | None, fathers: Iterable[int]) -> Cross | None:
    known = next(iter(_PAIRED.objects([pairing_key(seed_parent, fathers)])), None)
    return known and (thing_in_mind(known.pk) or known)


def cross_for(seed_parent: Clone | None, fathers: Iterable[int], *, born_by_id, made_at) -> Cross:
    """The cross of this pairing, held for this transaction; made now if it is the first time."""
    fathers = sorted(set(fathers))
    known = existing_cross(seed_parent, fathers)
    if known:
        locks.lock([known])
        return known
    thing = Thing.objects.create(kind="cross", made_at=made_at, born_by_id=born_by_id)
    cross = Cross(
        thing=thing,
        seed_parent=seed_parent,
        pollen_parent_id=fathers[0] if len(fathers) == 1 else None,
        key=pairing_key(seed_parent, fathers),
    )
    cross.save(force_insert=True)
    if len(fathers) > 1:
        cross.candidates.set(fathers)
    return cross


@recorded
def cross_planned(
    *,
    act: NewAct,
    seed_parent: Clone,
    pollen_parent: Clone,
    wanted: int | None = None,
    aim: str = "",
    family: str = "",
) -> Act:
    """Wish for a cross: what for, and how many plants of it. Wishing again for the same pairing changes the wish."""
    known = existing_cross(seed_parent, [pollen_parent.pk])
    said = {"wanted": wanted, "aim": aim, "family": family}
    entry = Entry(act, "cross_planned", on=[seed_parent, pollen_parent], also=known, said=said)
    if sent := entry.sent_before():
        return sent
    if seed_parent.pk == pollen_parent.pk:
        raise Refused("same_parent", "A plant is male or female, so a clone cannot be crossed with itself.")
    cross = known or cross_for(seed_parent, [pollen_parent.pk], born_by_id=act.id, made_at=entry.recorded_at)
    flags = wrong_sexes(seed_parent, pollen_parent)
    return entry.keep(cross, CrossPlanned(**said), touched=[seed_parent, pollen_parent], flags=flags)


def wrong_sexes(seed_parent: Clone, pollen_parent: Clone | None) -> list[Contradiction]:
    """Contradictions between the parts that two clones play and the sex their spikes showed."""
    flags = []
    if seed_parent.sex == "male":
        flags.append(Contradiction("seed_parent_male", f"{seed_parent} is the seed parent, but its spikes were male."))
    if pollen_parent is not None and pollen_parent.sex == "female":
        flags.append(
            Contradiction("pollen_parent_female", f"{pollen_parent} is the pollen parent, but its spikes were female.")
        )
    return flags


def settle_cross(section: Section) -> None:
    """Let a section belong to the cross that its dabs say: another father, or "one of these" after two.

    Runs whenever a dab came or went, so that undoing or correcting one is followed too.
    """
    fathers = fathers_of(section)
    if fathers is None:
        return
    [spike] = _WITH_CLONE.objects([section.spike_id])
    seed_parent = spike.plant.clone
    if section.cross.key == pairing_key(seed_parent, fathers):
        return
    before = section.cross
    section.cross = cross_for(seed_parent, fathers, born_by_id=section.thing.born_by_id, made_at=section.thing.made_at)
    section.save(update_fields=["cross"])
    ActLink.objects.filter(act=section.thing.born_by_id, thing=before.pk).update(thing=section.cross_id)
    for lot in SeedLot.objects.filter(section=section):
        lot.cross = section.cross
        lot.save(update_fields=["cross"])
    milestones.summarise([before, section.cross])


def fathers_of(section: Section | Thing, without: Act | None = None) -> set[int] | None:
    """Ids of the clones whose pollen went on, by the dabs that count; empty: unknown; None: no dab counts any more.

    One dab of unknown pollen makes the father unknown, whatever the others brought.
    """
    counted = [dab for dab in _DABS.objects([section.pk]) if without is None or dab.pk != without.pk]
    fathers = [dab_fathers(dab.lot, dab.from_spike) for dab in counted]
    if not fathers:
        return None
    return set().union(*fathers) if all(fathers) else set()


def dab_fathers(lot, from_spike) -> set[int]:
    """Ids of the clones that one dabbing may have brought; empty when nobody knows."""
    if from_spike is not None:
        return {from_spike.plant.clone_id}
    if lot is None:
        return set()
    if lot.clone_id:
        return {lot.clone_id}
    return set(lot.candidates.values_list("pk", flat=True))
