"""What is seen in a pot or done with it, and does not agree with what it holds."""

from breeding.milestones.pots import UP
from breeding.models import PotGone, SeedPot
from breeding.records.contradictions.early import too_early
from nursery.days import Day
from nursery.models import Act
from nursery.records.core import Contradiction
from nursery.records.milestones import without as apart


def pot_contradictions(
    pot: SeedPot, *, seen: str, counted: int | None, day: Day, without: Act | None = None
) -> list[Contradiction]:
    pot = apart(pot, without)
    flags = too_early(day, pot.sown_first, "before_sowing", "This look is older than the sowing.")
    if pot.unsown:
        flags.append(Contradiction("not_sown_yet", "Nobody has told that this pot was sown. Record that, too."))
    flags += _before_it_was_split_off(pot, day)
    if pot.closed_why == "split" and seen in UP:
        flags.append(_was_emptied())
    if seen == "nothing" and pot.closed_why != "split" and _were_up(pot, day):
        flags.append(
            Contradiction("seedlings_gone", "Seedlings were seen here before. All lost, or another pot's tag?")
        )
    if counted is not None and pot.seeds is not None and counted > pot.seeds:
        flags.append(Contradiction("more_seedlings_than_seeds", f"{counted} seedlings from {pot.seeds} seeds."))
    return flags


def pot_leaving_contradictions(pot: SeedPot, *, why: str, day: Day, without: Act | None = None) -> list[Contradiction]:
    """For a pot that leaves with all that is in it: it had left before, or was never sown, or something was up."""
    pot = apart(pot, without)
    flags = too_early(day, pot.sown_first, "before_sowing", "This is older than the sowing.")
    if pot.unsown:
        flags.append(Contradiction("not_sown_yet", "Nobody has told that this pot was sown. Record that, too."))
    if pot.closed_why == "split":
        flags.append(_was_emptied())
    elif pot.closed_why in PotGone.Why:
        flags.append(Contradiction("gone_twice", "This pot was already gone. Was the tag on another pot?"))
    if why == PotGone.Why.NOTHING_UP and pot.stage == "up":
        flags.append(
            Contradiction("seedlings_gone", "Seedlings were seen here before. All lost, or another pot's tag?")
        )
    return flags


def split_contradictions(
    pot: SeedPot, *, pots: int, seedlings: int | None, extent: str, day: Day, without: Act | None = None
) -> list[Contradiction]:
    """For seedlings that go into new pots: ``seedlings`` into each of ``pots``, perhaps all that there are."""
    pot = apart(pot, without)
    flags = too_early(day, pot.sown_first, "before_sowing", "This is older than the sowing.")
    flags += _before_it_was_split_off(pot, day)
    if pot.unsown:
        flags.append(Contradiction("not_sown_yet", "Nobody has told that this pot was sown. Record that, too."))
    if pot.closed_why == "split":
        flags.append(_was_emptied())
    return flags if seedlings is None else flags + _does_not_add_up(pot, pots * seedlings, extent)


def _does_not_add_up(pot: SeedPot, moved: int, extent: str) -> list[Contradiction]:
    if pot.counted is None:
        if pot.seeds is None or moved <= pot.seeds:
            return []
        return [Contradiction("more_seedlings_than_seeds", f"{moved} seedlings from {pot.seeds} seeds.")]
    if moved > pot.counted:
        sentence = f"{moved} seedlings moved, but {pot.counted} were counted in it. Did more come up since?"
        return [Contradiction("more_moved_than_counted", sentence)]
    if extent == "all" and moved + pot.lost < pot.counted:
        missing = pot.counted - pot.lost - moved
        sentence = f"{pot.counted} seedlings were counted in it and {moved} moved: were {missing} lost?"
        return [Contradiction("fewer_moved_than_counted", sentence)]
    return []


def _was_emptied() -> Contradiction:
    return Contradiction("pot_was_emptied", "All its seedlings went into other pots before. Another pot's tag?")


def _before_it_was_split_off(pot: SeedPot, day: Day) -> list[Contradiction]:
    start = pot.thing.born_by.day_first if pot.split_from_id else None
    return too_early(day, start, "before_split", "This is older than the day on which it was split off.")


def _were_up(pot: SeedPot, day: Day) -> bool:
    """Whether seedlings were in it by that day, as far as the books know."""
    up_by = pot.thing.born_by.day_last if pot.split_from_id else pot.first_by
    return up_by is not None and day.last is not None and day.last >= up_by
