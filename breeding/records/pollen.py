from collections.abc import Sequence

from breeding.models import PollenCollected, PollenLot, PollenReceived, PollenStored, Spike
from breeding.records.contradictions.spikes import pollen_contradictions
from nursery.models import Act, Clone
from nursery.records.core import Entry, NewAct, recorded
from nursery.records.errors import Refused


@recorded
def pollen_collected(*, act: NewAct, spikes: Sequence[Spike], storage: str = "bench", tag: int | None = None) -> Act:
    """Pollen was taken from one or more spikes into one packet."""
    spikes = list(spikes)
    entry = Entry(act, "pollen_collected", on=spikes, said={"storage": storage, "tag": tag})
    if sent := entry.sent_before():
        return sent
    if not spikes:
        raise Refused("no_spike", "Say which spike the pollen came from.", field="spikes")
    clones = {spike.plant.clone_id: spike.plant.clone for spike in spikes}
    lot = entry.born(PollenLot, tag=tag, clone=next(iter(clones.values())) if len(clones) == 1 else None)
    if len(clones) > 1 or act.replaces:
        lot.candidates.set(clones if len(clones) > 1 else [])
    flags = pollen_contradictions(spikes, day=entry.day, without=act.replaces)
    return entry.keep(lot, PollenCollected(storage=storage), touched=[*spikes, *clones.values()], flags=flags)


@recorded
def pollen_received(
    *,
    act: NewAct,
    clone: Clone | None = None,
    words: str = "",
    storage: str = "unknown",
    tag: int | None = None,
) -> Act:
    """Pollen came from elsewhere: from a clone entered here, or from one known only by ``words``.

    The act's day is the day it was collected, as told; often that is not known.
    """
    facts = {"clone": clone, "words": words.strip()}
    entry = Entry(act, "pollen_received", on=[clone], said=facts | {"storage": storage, "tag": tag})
    if sent := entry.sent_before():
        return sent
    if clone is None and not words.strip():
        raise Refused("whose_pollen", "Say whose pollen it is, in words if need be.", field="words")
    lot = entry.born(PollenLot, tag=tag, **facts)
    return entry.keep(lot, PollenReceived(storage=storage, **facts), touched=[clone])


@recorded
def pollen_stored(*, act: NewAct, lot: PollenLot, storage: str) -> Act:
    """Pollen went into another storage; out of the freezer is a thaw."""
    entry = Entry(act, "pollen_stored", on=[lot], said={"storage": storage})
    return entry.sent_before() or entry.keep(lot, PollenStored(storage=storage))


@recorded
def pollen_finished(*, act: NewAct, lot: PollenLot) -> Act:
    """Pollen is used up or thrown away."""
    entry = Entry(act, "pollen_finished", on=[lot], said={})
    return entry.sent_before() or entry.keep(lot)
