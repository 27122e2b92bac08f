"""What goes away of a seed lot, and does not agree with what there is."""

from breeding.models import SeedLot
from breeding.records.contradictions.early import too_early
from nursery.days import Day
from nursery.models import Act
from nursery.records.core import Contradiction
from nursery.records.milestones import without as apart
from nursery.records.quarantine import quarantine_contradictions


def seed_sent_contradictions(
    lot: SeedLot, *, seeds: int | None, day: Day, without: Act | None = None
) -> list[Contradiction]:
    """As for pollen, by the plant that the seed was cut from."""
    kept = quarantine_contradictions([lot.section.spike.plant] if lot.section else [], day)
    return [*kept, *gone_contradictions(lot, seeds=seeds, day=day, without=without)]


def gone_contradictions(
    lot: SeedLot, *, seeds: int | None, day: Day, without: Act | None = None
) -> list[Contradiction]:
    """For what goes away of a seed lot: as for sowing it."""
    lot = apart(lot, without)
    flags = too_early(day, lot.ripe_first, "sown_before_harvest", "This is older than the harvest.")
    return flags + more_than_there_is(lot, seeds or 0)


def more_than_there_is(lot: SeedLot, seeds: int) -> list[Contradiction]:
    if lot.closed_on:
        return [Contradiction("lot_was_finished", "This lot was finished before, so its estimate was low.")]
    used = lot.seeds_sown + lot.seeds_gone + seeds
    if not seeds or lot.estimate is None or used <= lot.estimate:
        return []
    done = "sown" if not lot.seeds_gone else "sown or sent"
    sentence = f"{used} seeds {done}, but {lot.estimate} were estimated. Was that too low, or is a number wrong?"
    return [Contradiction("sown_more_than_estimated", sentence)]
