from breeding.models import Cross, SeedCleaned, SeedLot, SeedReceived, SeedStored
from breeding.records.crosses import cross_for, existing_cross
from nursery.models import Act, Clone
from nursery.records.core import Entry, NewAct, recorded
from nursery.records.errors import Refused


@recorded
def seed_received(
    *,
    act: NewAct,
    seed_parent: Clone | None = None,
    pollen_parent: Clone | None = None,
    words: str = "",
    storage: str = "unknown",
    seeds: int | None = None,
    tag: int | None = None,
) -> Act:
    """Seed came from elsewhere, of parents entered here (perhaps by words only) or unknown.

    The act's day is the day it was harvested, as told; often that is not known.
    """
    fathers = [pollen_parent.pk] if pollen_parent else []
    known = existing_cross(seed_parent, fathers)
    facts = {"words": words.strip(), "storage": storage, "seeds": seeds}
    said = facts | {"seed_parent": seed_parent, "pollen_parent": pollen_parent, "tag": tag}
    entry = Entry(act, "seed_received", on=[seed_parent, pollen_parent], also=known, said=said)
    if sent := entry.sent_before():
        return sent
    if seed_parent is None and pollen_parent is None and not words.strip():
        raise Refused("whose_seed", "Say whose seed it is, in words if need be.", field="words")
    cross: Cross = cross_for(seed_parent, fathers, born_by_id=act.id, made_at=entry.recorded_at)
    lot = entry.born(SeedLot, tag=tag, cross=cross, words=words.strip())
    return entry.keep(lot, SeedReceived(cross=cross, **facts), touched=[cross, seed_parent, pollen_parent])


@recorded
def seed_cleaned(
    *,
    act: NewAct,
    lot: SeedLot,
    seeds: int | None = None,
    estimate_from: str = "",
    filled_percent: int | None = None,
) -> Act:
    """Seed was cleaned, and estimated if somebody did; again for a better estimate."""
    facts = {"seeds": seeds, "estimate_from": estimate_from, "filled_percent": filled_percent}
    entry = Entry(act, "seed_cleaned", on=[lot], said=facts)
    return entry.sent_before() or entry.keep(lot, SeedCleaned(**facts))


@recorded
def seed_stored(*, act: NewAct, lot: SeedLot, storage: str) -> Act:
    """Seed went into another storage."""
    entry = Entry(act, "seed_stored", on=[lot], said={"storage": storage})
    return entry.sent_before() or entry.keep(lot, SeedStored(storage=storage))


@recorded
def seed_finished(*, act: NewAct, lot: SeedLot) -> Act:
    """Nothing is left of a lot: given away, thrown away, mouldy."""
    entry = Entry(act, "seed_finished", on=[lot], said={})
    return entry.sent_before() or entry.keep(lot)
