"""Pollen and seed sent elsewhere, split into a second packet, and what came of what was sent."""

from collections.abc import Iterable

from breeding.models import OutcomeTold, PollenLot, PollenSent, PollenSplit, SeedLot, SeedSent, SeedSplit
from breeding.records.contradictions.packets import packet_contradictions, pollen_sent_contradictions
from breeding.records.contradictions.seed import gone_contradictions, seed_sent_contradictions
from breeding.records.parts import must_not_be_its_own_part
from nursery.models import Act
from nursery.records import registry
from nursery.records.core import Entry, NewAct, recorded
from nursery.records.errors import Refused

SENT = ("pollen_sent", "seed_sent")


@recorded
def pollen_sent(*, act: NewAct, lot: PollenLot, to_whom: str, extent: str = "part", document: str = "") -> Act:
    """Pollen went to somebody, part or all of the packet."""
    facts = {"to_whom": to_whom.strip(), "extent": extent, "document": document.strip()}
    entry = Entry(act, "pollen_sent", on=[lot], said=facts)
    if sent := entry.sent_before():
        return sent
    _must_say_to_whom(facts["to_whom"])
    flags = pollen_sent_contradictions(lot, entry.day, without=act.replaces)
    return _with_its_outcomes(entry.keep(lot, PollenSent(**facts), flags=flags))


@recorded
def seed_sent(
    *,
    act: NewAct,
    lot: SeedLot,
    to_whom: str,
    extent: str = "part",
    seeds: int | None = None,
    document: str = "",
) -> Act:
    """Seed went to somebody, part or all of the lot; with a number if one was said."""
    facts = {"to_whom": to_whom.strip(), "extent": extent, "seeds": seeds, "document": document.strip()}
    entry = Entry(act, "seed_sent", on=[lot], said=facts)
    if sent := entry.sent_before():
        return sent
    _must_say_to_whom(facts["to_whom"])
    flags = seed_sent_contradictions(lot, seeds=seeds, day=entry.day, without=act.replaces)
    return _with_its_outcomes(entry.keep(lot, SeedSent(**facts), flags=flags))


@recorded
def pollen_split(*, act: NewAct, lot: PollenLot, storage: str = "unknown", tag: int | None = None) -> Act:
    """Part of a packet became a packet of its own, as old as the first and of the same clones."""
    entry = Entry(act, "pollen_split", on=[lot], said={"storage": storage, "tag": tag})
    if sent := entry.sent_before():
        return sent
    must_not_be_its_own_part(lot, _made_before(act, PollenLot))
    flags = packet_contradictions(lot, entry.day, without=act.replaces)
    part = entry.born(PollenLot, tag=tag, clone=lot.clone, words=lot.words, split_from=lot)
    part.candidates.set(lot.candidates.all())
    return entry.keep(part, PollenSplit(storage=storage), touched=[lot, lot.clone], flags=flags)


@recorded
def seed_split(
    *, act: NewAct, lot: SeedLot, storage: str = "unknown", seeds: int | None = None, tag: int | None = None
) -> Act:
    """Part of a seed lot became a lot of its own, of the same harvest."""
    entry = Entry(act, "seed_split", on=[lot], said={"storage": storage, "seeds": seeds, "tag": tag})
    if sent := entry.sent_before():
        return sent
    must_not_be_its_own_part(lot, _made_before(act, SeedLot))
    flags = gone_contradictions(lot, seeds=seeds, day=entry.day, without=act.replaces)
    same = {"cross": lot.cross, "section": lot.section, "words": lot.words}
    part = entry.born(SeedLot, tag=tag, split_from=lot, **same)
    return entry.keep(part, SeedSplit(storage=storage, seeds=seeds), touched=[lot], flags=flags)


@recorded
def outcome_told(*, act: NewAct, sent: Act, words: str, told_by: str = "") -> Act:
    """Somebody told what came of what we sent; the act's day is when we heard it."""
    lot = registry.instance_of(sent.thing)
    said = {"sent": sent.pk, "words": words.strip(), "told_by": told_by.strip()}
    entry = Entry(act, "outcome_told", on=[lot], said=said)
    if known := entry.sent_before():
        return known
    if sent.kind not in SENT:
        raise Refused("not_sent", "That was not sent anywhere. Choose what was sent.", field="sent")
    if not words.strip():
        raise Refused("no_words", "Write what came of it.", field="words")
    return entry.keep(lot, OutcomeTold(sent=sent, words=words.strip(), told_by=told_by.strip()))


def _with_its_outcomes(sent: Act) -> Act:
    """What came of a sending that is corrected came of it all the same."""
    if sent.replaces_id:
        OutcomeTold.objects.filter(sent=sent.replaces_id).update(sent=sent)
    return sent


def _must_say_to_whom(to_whom: str) -> None:
    if not to_whom:
        raise Refused("to_whom", "Say to whom it went, in words.", field="to_whom")


def _made_before(act: NewAct, model: type[PollenLot | SeedLot]) -> Iterable[PollenLot | SeedLot]:
    """The part that the act made which this one corrects."""
    return model.objects.filter(pk=act.replaces.thing_id) if act.replaces else ()
