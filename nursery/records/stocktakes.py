from collections.abc import Sequence

from nursery.models import Act, LivingThing, NotFound, Place, Stocktake
from nursery.records.core import Contradiction, Entry, NewAct, recorded


@recorded
def stocktake_taken(
    *, act: NewAct, place: Place, seen: Sequence[LivingThing], missed: Sequence[LivingThing] = ()
) -> Act:
    """Somebody looked at what stands in a place: one act, linked to each thing seen.

    ``missed`` were listed and not seen. Of what was neither listed nor scanned this says nothing, and it moves nothing.
    """
    seen = sorted(seen, key=lambda thing: thing.pk)
    missed = sorted(missed, key=lambda thing: thing.pk)
    entry = Entry(act, "stocktake", on=[place, *seen], said={"missed": [thing.pk for thing in missed]})
    if sent := entry.sent_before():
        return sent
    row = entry.keep(place, Stocktake(seen=len(seen)), touched=seen, flags=stocktake_contradictions(seen))
    row.stocktake.missed.set(thing.pk for thing in missed)
    return row


@recorded
def not_found(*, act: NewAct, thing: LivingThing, place: Place | None = None) -> Act:
    """It was looked for and is not where it should stand: flagged, so that somebody sorts it out."""
    entry = Entry(act, "not_found", on=[thing, place], said={"place": place})
    if sent := entry.sent_before():
        return sent
    where = f" of {place}" if place else ""
    flag = Contradiction("not_found", f"Not found at the stocktake{where}. Gone, moved, or without its tag?")
    return entry.keep(thing, NotFound(place=place), touched=[place], flags=[flag])


def stocktake_contradictions(seen: Sequence[LivingThing]) -> list[Contradiction]:
    """What was recorded as gone cannot stand there: each such thing is flagged by itself."""
    gone = [thing for thing in seen if thing.closed_on and thing.closed_why != "stopped"]
    return [Contradiction("seen_though_gone", _still_there(thing), thing=thing.pk) for thing in gone]


def _still_there(thing: LivingThing) -> str:
    return f"Recorded as gone before, but stands here: {str(thing)[:200]}. Or another one's tag?"
