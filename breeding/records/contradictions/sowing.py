"""What is planned, sown and cleared, and does not agree with the seed there is or with the pot."""

from dataclasses import replace
from datetime import date

from breeding.models import (
    PotSown,
    SeedLot,
    SeedPot,
    SowingSession,
    Sown,
)
from breeding.records.contradictions.early import too_early
from breeding.records.contradictions.seed import more_than_there_is
from nursery.days import Day
from nursery.models import Act
from nursery.records.core import Contradiction
from nursery.records.milestones import without as apart


def planning_contradictions(planned_for: date | None, *, day: Day, today: date) -> list[Contradiction]:
    """For a sowing that is planned on ``day``."""
    if planned_for is None or day.last is None or planned_for >= day.last:
        return []
    sentence = f"It is planned for {Day.on(planned_for).words(today)}, a day that was over. A slip?"
    return [Contradiction("planned_for_past", sentence)]


def putting_off_contradictions(
    session: SowingSession, planned_for: date, *, on: Day, today: date, without: Act | None = None
) -> list[Contradiction]:
    """As for planning it; the day that it is planned for already may be over by now."""
    if planned_for == apart(session, without).planned_for:
        return []
    return planning_contradictions(planned_for, day=on, today=today)


def sowing_contradictions(
    lot: SeedLot, *, pots: int, seeds: int | None, day: Day, pods: int | None = None, without: Act | None = None
) -> list[Contradiction]:
    """``seeds`` and ``pods`` are those in each pot."""
    lot = apart(lot, without)
    flags = too_early(day, lot.ripe_first, "sown_before_harvest", "This is older than the harvest.")
    return flags + more_than_there_is(lot, pots * (seeds or 0)) + _more_pods_than_cut(lot, pots * (pods or 0), without)


def _more_pods_than_cut(
    lot: SeedLot, pods: int, without: Act | None, into: SeedPot | None = None
) -> list[Contradiction]:
    """Only of a lot that was cut here, and whole: of its parts nobody counts the pods."""
    harvest = getattr(lot.thing.born_by, "harvested", None) if pods else None
    if harvest is None or harvest.pods is None:
        return []
    total = _pods_sown(lot.pk, without, into) + pods
    if total <= harvest.pods:
        return []
    told = f"{total} pods sown in all" if total > pods else f"{total} pods sown"
    return [Contradiction("more_pods_than_cut", f"{told}, but {harvest.pods} cut for this lot.")]


def _pods_sown(lot: int, without: Act | None, into: SeedPot | None) -> int:
    """How many pods its sowings counted; what two people tell of one prepared pot is one, so what is told of it again
    is left out.
    """
    own, counted = without and without.pk, {"act__voided_by__isnull": True, "pods__isnull": False}
    sown = Sown.objects.filter(act__thing=lot, **counted).exclude(pk=own).values_list("pots", "pods")
    prepared = PotSown.objects.filter(pot__lot=lot, **counted).exclude(pk=own).values_list("pot", "pods")
    by_pot = {pot: pods for pot, pods in prepared if into is None or pot != into.pk}
    return sum(pots * pods for pots, pods in sown) + sum(by_pot.values())


def pot_sowing_contradictions(
    pot: SeedPot, *, seeds: int | None, day: Day, pods: int | None = None, without: Act | None = None
) -> list[Contradiction]:
    """For seed that goes into a prepared pot: sown before, cleared before, or more seed than there is."""
    before = apart(pot, without)
    flags = []
    if not before.unsown:
        flags.append(Contradiction("pot_sown_before", _sown_before(pot, without)))
    if before.closed_why == "cleared":
        flags.append(Contradiction("pot_was_cleared", "This pot was cleared before, as never sown."))
    of_lot = sowing_contradictions(pot.lot, pots=1, seeds=seeds, day=day, without=without)
    of_lot += _more_pods_than_cut(pot.lot, pods or 0, without, into=pot)
    return flags + [replace(one, thing=pot.lot_id) for one in of_lot]


def _sown_before(pot: SeedPot, without: Act | None) -> str:
    """Says who told it, so that two people on two phones know of each other."""
    told = Act.objects.filter(thing=pot.pk, kind="pot_sown", voided_by__isnull=True).select_related("by")
    first = told.exclude(pk=without.pk if without else None).order_by("recorded_at").first()
    who = f", as {first.by.name} has told" if first else ""
    return f"This pot was sown before{who}. Once again, or another pot's tag?"


def clearing_contradictions(pot: SeedPot, *, without: Act | None = None) -> list[Contradiction]:
    if apart(pot, without).unsown:
        return []
    return [Contradiction("cleared_though_sown", "This pot was sown, so it is not cleared as one that never was.")]
