from breeding.models import Spike, SpikeFound, SpikeLook
from breeding.records.contradictions.spikes import found_contradictions, spike_look_contradictions
from nursery.models import Act, Plant
from nursery.records.core import Entry, NewAct, recorded


@recorded
def spike_found(
    *,
    act: NewAct,
    plant: Plant,
    position: str = "",
    seen: str = "growing",
    sex: str = "",
    sex_from: str = "",
    tag: int | None = None,
) -> Act:
    """A flower spike was found on a plant; what it showed counts as the first look."""
    look = {"seen": seen, "sex": sex, "sex_from": sex_from}
    entry = Entry(act, "spike_found", on=[plant], said=look | {"position": position, "tag": tag})
    if sent := entry.sent_before():
        return sent
    flags = found_contradictions(plant, sex=sex, without=act.replaces)
    spike = entry.born(Spike, tag=tag, plant=plant, position=position.strip())
    return entry.keep(spike, SpikeFound(position=position.strip(), **look), touched=[plant], flags=flags)


@recorded
def spike_looked(*, act: NewAct, spike: Spike, seen: str, sex: str = "", sex_from: str = "") -> Act:
    """A look at a spike: how far it is, and its sex if the grower judged it."""
    look = {"seen": seen, "sex": sex, "sex_from": sex_from}
    entry = Entry(act, "spike_look", on=[spike], said=look)
    if sent := entry.sent_before():
        return sent
    flags = spike_look_contradictions(spike, day=entry.day, **look, without=act.replaces)
    return entry.keep(spike, SpikeLook(**look), flags=flags)
