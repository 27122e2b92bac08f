"""One cross at a time: a pot of another one is scanned before the cross in hand is done."""

from datetime import date
from typing import Any

from breeding.models import PotSown, SeedLot, SeedPot
from breeding.words.ages import plural
from breeding.words.names import FETCH, name_parts
from nursery.models import Person


def other_in_hand(thing: Any, by: Person, today: date) -> list[str]:
    """One sentence on a prepared pot where this person sows another cross of its session today.

    Two people may have a cross each in hand. As many queries however many pots there are, and none for any other thing.
    """
    if thing.kind != "seedpot" or not thing.unsown or not thing.is_open or not by.may_record:
        return []
    sown = PotSown.objects.filter(act__by=by, act__voided_by__isnull=True, act__day_last=today)
    of_session = SeedPot.objects.filter(session=thing.session_id, cancelled=False)
    last = sown.filter(pot__in=of_session).select_related("pot__lot").order_by("act__recorded_at").last()
    if last is None or _same(last.pot.lot, thing.lot):
        return []
    waiting = list(
        of_session.filter(lot=last.pot.lot, unsown=True, closed_on__isnull=True)
        .select_related(*FETCH["seedpot"])
        .prefetch_related("lot__cross__candidates")
    )
    if not waiting:
        return []
    name = "".join(part.text for part in name_parts(waiting[0]))
    pots = plural(len(waiting), "pot")
    return [
        f"Another cross: you are sowing {name}, {pots} to go. Sow those first, or take clean paper and clean hands."
    ]


def _same(one: SeedLot, other: SeedLot) -> bool:
    """Whether it harms nothing if seed of one drifts into a pot of the other."""
    return one.pk == other.pk or (one.cross_id is not None and one.cross_id == other.cross_id)
