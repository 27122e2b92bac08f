from breeding.models import PotGone, PotLook, PotLoss, PotSplit, PotTrouble, SeedLot, SeedPot, Sown
from breeding.records.contradictions.pots import pot_contradictions, pot_leaving_contradictions, split_contradictions
from breeding.records.contradictions.sowing import sowing_contradictions
from breeding.records.parts import must_not_be_its_own_part
from nursery.models import Act, Place
from nursery.records.core import Entry, NewAct, recorded
from nursery.records.errors import Refused

MOST_POTS = 100
NO_SEEDLINGS = "Leave the number empty where you can't tell: a new pot holds a seedling."


@recorded
def sown(
    *,
    act: NewAct,
    lot: SeedLot,
    place: Place | None = None,
    pots: int = 1,
    seeds: int | None = None,
    pods: int | None = None,
    pot_size: str = "",
    medium: str = "",
    all_of_it: bool = False,
    tag: int | None = None,
) -> Act:
    """Seed of a lot was sown into one or more pots, the same into each. ``seeds`` and ``pods`` are per pot.

    ``all_of_it`` says that nothing of the lot is left. ``tag`` is a blank tag for the first pot.
    """
    facts = {
        "place": place,
        "pots": pots,
        "seeds": seeds,
        "pods": pods,
        "pot_size": pot_size.strip(),
        "medium": medium.strip(),
        "all_of_it": all_of_it,
    }
    entry = Entry(act, "sown", on=[lot, place], said=facts | {"tag": tag})
    if sent := entry.sent_before():
        return sent
    if not 1 <= pots <= MOST_POTS:
        raise Refused("pots_1_to_100", f"Sow 1 to {MOST_POTS} pots at a time.", field="pots")
    flags = sowing_contradictions(lot, pots=pots, seeds=seeds, pods=pods, day=entry.day, without=act.replaces)
    for number in range(pots):
        entry.born(SeedPot, tag=tag if number == 0 else None, lot=lot, place=place, seeds=seeds)
    return entry.keep(lot, Sown(**facts), touched=[place], flags=flags)


@recorded
def pot_looked_at(*, act: NewAct, pot: SeedPot, seen: str, counted: int | None = None) -> Act:
    """A look at a seed pot, with a number if somebody counted."""
    entry = Entry(act, "pot_look", on=[pot], said={"seen": seen, "counted": counted})
    if sent := entry.sent_before():
        return sent
    flags = pot_contradictions(pot, seen=seen, counted=counted, day=entry.day, without=act.replaces)
    return entry.keep(pot, PotLook(seen=seen, counted=counted), flags=flags)


@recorded
def seedlings_lost(*, act: NewAct, pot: SeedPot, lost: int, why: str = "unknown") -> Act:
    """Seedlings were lost since the last count."""
    entry = Entry(act, "pot_loss", on=[pot], said={"lost": lost, "why": why})
    return entry.sent_before() or entry.keep(pot, PotLoss(lost=lost, why=why))


@recorded
def trouble_seen(*, act: NewAct, pot: SeedPot, what: str) -> Act:
    """Algae, moss, gnats, mould, dryness, or a seedling that drifted in from another pot."""
    entry = Entry(act, "pot_trouble", on=[pot], said={"what": what})
    return entry.sent_before() or entry.keep(pot, PotTrouble(what=what))


@recorded
def pot_gone(*, act: NewAct, pot: SeedPot, why: str) -> Act:
    """A sown pot left with all that was in it: nothing came up, it was dropped, sold. Its story stays."""
    entry = Entry(act, "pot_gone", on=[pot], said={"why": why})
    if sent := entry.sent_before():
        return sent
    flags = pot_leaving_contradictions(pot, why=why, day=entry.day, without=act.replaces)
    return entry.keep(pot, PotGone(why=why), flags=flags)


@recorded
def pot_split(
    *,
    act: NewAct,
    pot: SeedPot,
    pots: int = 1,
    seedlings: int | None = None,
    extent: str = "part",
    place: Place | None = None,
    pot_size: str = "",
    medium: str = "",
    tag: int | None = None,
) -> Act:
    """Seedlings of a pot were pricked out, or it was divided, into new pots: ``seedlings`` into each, None if nobody
    counted.

    With ``extent`` "all" none stays, and the old pot is done. ``tag`` is a blank tag for the first new pot.

    Raises:
        Refused: too many pots or none, no seedling in a pot, or a correction by which a pot came out of itself.
    """
    facts = {
        "pots": pots,
        "seedlings": seedlings,
        "extent": extent,
        "place": place,
        "pot_size": pot_size.strip(),
        "medium": medium.strip(),
    }
    entry = Entry(act, "pot_split", on=[pot, place], said=facts | {"tag": tag})
    if sent := entry.sent_before():
        return sent
    _must_be_possible(pots, seedlings)
    must_not_be_its_own_part(pot, SeedPot.objects.filter(thing__born_by=act.replaces) if act.replaces else ())
    told = {"pots": pots, "seedlings": seedlings, "extent": extent}
    flags = split_contradictions(pot, **told, day=entry.day, without=act.replaces)
    for number in range(pots):
        own_tag = tag if number == 0 else None
        same = {"lot": pot.lot, "place": place, "pot_size": facts["pot_size"]}
        entry.born(SeedPot, tag=own_tag, split_from=pot, **same)
    return entry.keep(pot, PotSplit(**facts), touched=[place], flags=flags)


def _must_be_possible(pots: int, seedlings: int | None) -> None:
    if not 1 <= pots <= MOST_POTS:
        raise Refused("pots_1_to_100", f"Split a pot into 1 to {MOST_POTS} new ones at a time.", field="pots")
    if seedlings is not None and seedlings < 1:
        raise Refused("no_seedlings", NO_SEEDLINGS, field="seedlings")
