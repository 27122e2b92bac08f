from breeding.models import Harvested, PodLook, Section, SeedLot, TakeLook
from breeding.records.contradictions.pods import harvest_contradictions, section_contradictions
from nursery.models import Act
from nursery.records.core import Entry, NewAct, recorded


@recorded
def take_read(*, act: NewAct, section: Section, brown: str = "", swelling: str = "", pods: int | None = None) -> Act:
    """Take was read: brown stigmas (a hint), swelling (the answer), pods counted if somebody did."""
    look = {"brown": brown, "swelling": swelling, "pods": pods}
    entry = Entry(act, "take_look", on=[section], said=look)
    if sent := entry.sent_before():
        return sent
    flags = section_contradictions(section, day=entry.day, pods=pods, without=act.replaces)
    return entry.keep(section, TakeLook(**look), flags=flags)


@recorded
def pods_looked_at(
    *,
    act: NewAct,
    section: Section,
    seen: str,
    extent: str = "all",
    bagged: bool | None = None,
    pods_left: int | None = None,
) -> Act:
    """A look at the pods of a section, at all that remain or only at some."""
    look = {"seen": seen, "extent": extent, "bagged": bagged, "pods_left": pods_left}
    entry = Entry(act, "pod_look", on=[section], said=look)
    if sent := entry.sent_before():
        return sent
    flags = section_contradictions(section, day=entry.day, pods=pods_left, without=act.replaces)
    return entry.keep(section, PodLook(**look), flags=flags)


@recorded
def bagged(*, act: NewAct, section: Section) -> Act:
    """A mesh or paper bag was put over the pods of a section."""
    entry = Entry(act, "bagged", on=[section], said={})
    if sent := entry.sent_before():
        return sent
    flags = section_contradictions(section, day=entry.day, without=act.replaces)
    return entry.keep(section, flags=flags)


@recorded
def harvested(
    *,
    act: NewAct,
    section: Section,
    what: str = "section",
    pods: int | None = None,
    pods_open: int | None = None,
    tag: int | None = None,
) -> Act:
    """Pods, or the whole section, were cut into a paper bag: a seed lot from that moment. Several are normal."""
    facts = {"what": what, "pods": pods, "pods_open": pods_open}
    entry = Entry(act, "harvested", on=[section], said=facts | {"tag": tag})
    if sent := entry.sent_before():
        return sent
    flags = harvest_contradictions(section, day=entry.day, pods=pods, without=act.replaces)
    lot = entry.born(SeedLot, tag=tag, cross=section.cross, section=section)
    return entry.keep(lot, Harvested(**facts), touched=[section], flags=flags)
