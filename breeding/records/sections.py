from django.db.models import Max

from breeding.models import PollenLot, Pollinated, Section, Spike
from breeding.records.contradictions.pollination import pollination_contradictions, tie_contradictions
from breeding.records.corrected import dabs_follow
from breeding.records.crosses import cross_for, dab_fathers, existing_cross
from nursery.models import Act
from nursery.records import locks
from nursery.records.core import Entry, NewAct, recorded


@recorded
def section_pollinated(
    *,
    act: NewAct,
    spike: Spike,
    lot: PollenLot | None = None,
    from_spike: Spike | None = None,
    tie: str = "",
    size: str = "",
    flowers: int | None = None,
    covered_before: bool | None = None,
    covered_after: bool | None = None,
    tag: int | None = None,
) -> Act:
    """The first dabbing of a section, which makes the section: with a lot, straight from a spike, or father unknown."""
    dab = {"lot": lot, "from_spike": from_spike, "covered_before": covered_before, "covered_after": covered_after}
    facts = {"tie": tie.strip(), "size": size, "flowers": flowers}
    foreseen = existing_cross(spike.plant.clone, dab_fathers(lot, from_spike))
    entry = Entry(act, "pollinated", on=[spike, lot, from_spike], also=foreseen, said=dab | facts | {"tag": tag})
    if sent := entry.sent_before():
        return sent
    told = {"lot": lot, "from_spike": from_spike, "day": entry.day}
    before = act.replaces and act.replaces.thing  # a section that has dabs already
    flags = pollination_contradictions(spike, **told, section=before, without=act.replaces)
    flags += tie_contradictions(spike, tie, without=act.replaces)
    # Asked again now that they are held: the pollen or the plant may have been corrected while we waited.
    fathers = dab_fathers(lot, from_spike)
    cross = cross_for(spike.plant.clone, fathers, born_by_id=act.id, made_at=entry.recorded_at)
    order, before = _order(act, spike), _spike_before(act)
    section = entry.born(Section, tag=tag, spike=spike, cross=cross, order=order, **facts)
    if before is not None:
        dabs_follow(section, before, act.replaces)
    touched = [spike, lot, from_spike, cross]
    return entry.keep(section, Pollinated(order=order, **dab, **facts), touched=touched, flags=flags)


@recorded
def section_dabbed(
    *,
    act: NewAct,
    section: Section,
    lot: PollenLot | None = None,
    from_spike: Spike | None = None,
    covered_before: bool | None = None,
    covered_after: bool | None = None,
) -> Act:
    """Another dabbing of the same section, usually some days later."""
    dab = {"lot": lot, "from_spike": from_spike, "covered_before": covered_before, "covered_after": covered_after}
    known = section.spike
    entry = Entry(act, "pollinated", on=[section, lot, from_spike], also=known, said=dab)
    if sent := entry.sent_before():
        return sent
    # Asked again now that it is held: its first dabbing may have been corrected while we waited.
    spike = section.spike
    if spike.pk != known.pk:
        locks.lock([spike])
    told = {"lot": lot, "from_spike": from_spike, "day": entry.day}
    flags = pollination_contradictions(spike, **told, section=section, without=act.replaces)
    return entry.keep(section, Pollinated(**dab), touched=[spike, lot, from_spike], flags=flags)


def _spike_before(act: NewAct) -> Spike | None:
    """The spike on which the section was, where this corrects its first dabbing."""
    return Section.objects.select_related("spike").get(pk=act.replaces.thing_id).spike if act.replaces else None


def _order(act: NewAct, spike: Spike) -> int:
    """Counted from the bottom. A correction keeps its turn on its spike; on another one it is the next there."""
    others = Section.objects.filter(spike=spike, cancelled=False)
    if act.replaces is not None:
        before = act.again.version if act.again else act.replaces
        others = others.exclude(pk=before.thing_id)
        turn = before.pollinated.order or 1
        if _was_on(before, spike) and not others.filter(order=turn).exists():
            return turn
    return (others.aggregate(highest=Max("order"))["highest"] or 0) + 1


def _was_on(act: Act, spike: Spike) -> bool:
    """Whether it made its section on this spike; that link comes before the one to a spike the pollen came from."""
    first = act.links.filter(thing__kind="spike").order_by("pk").values_list("thing_id", flat=True).first()
    return first == spike.pk
