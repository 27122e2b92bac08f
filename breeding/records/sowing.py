"""Sowing sessions: planning prepares pots with their tags, and each pot is sown or cleared by itself.

Nothing is taken from a seed lot before a pot is told of as sown.
"""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import date, timedelta
from decimal import Decimal
from itertools import groupby
from typing import Any

from breeding.models import PotCleared, PotSown, SeedLot, SeedPot, SowingChanged, SowingPlanned, SowingSession
from breeding.records.contradictions.sowing import (
    clearing_contradictions,
    planning_contradictions,
    pot_sowing_contradictions,
    putting_off_contradictions,
)
from nursery.days import EARLIEST
from nursery.models import Act, Place
from nursery.records.core import Entry, NewAct, recorded
from nursery.records.errors import Refused

MOST_POTS_A_SESSION = 300
FURTHEST = timedelta(days=366)


@dataclass(frozen=True)
class Line:
    """So many pots of one size for seed of one lot; ``seeds`` and ``pods`` are per pot."""

    lot: SeedLot
    pots: int
    pot_size: str = ""
    seeds: int | None = None
    pods: int | None = None


@recorded
def sowing_planned(
    *,
    act: NewAct,
    lines: Sequence[Line],
    planned_for: date | None = None,
    place: Place | None = None,
    medium: str = "",
    sterilised: str = "unknown",
    sterilised_words: str = "",
    density: Decimal | None = None,
) -> Act:
    """A sowing session was planned: its pots are prepared, each with the next number, in the order of the lines.

    ``planned_for`` None means the day of the act; ``density`` is in seeds to a cm2. Nothing is taken from the lots.

    Raises:
        Refused: no pots or too many, a day out of reach, a lot that is finished, a correction with other pots;
            ``field`` says which.
    """
    lines = list(lines)
    facts = _facts(medium=medium, sterilised=sterilised, sterilised_words=sterilised_words)
    said = facts | {"planned_for": planned_for, "density": density, "lines": [_said(line) for line in lines]}
    entry = Entry(act, "sowing_planned", on=[place, *_lots(lines)], said=said)
    if sent := entry.sent_before():
        return sent
    facts |= {"planned_for": _possible_day(entry, planned_for), "place": place, "density": density}
    pots = _possible_pots(lines, prepared=act.replaces is not None)
    if act.replaces:
        _must_keep_its_pots(lines, act.replaces)
    flags = planning_contradictions(planned_for, day=entry.day, today=entry.today)
    session = entry.born(SowingSession, **facts)
    for line in lines:
        _prepare(entry, session, line, place)
    return entry.keep(session, SowingPlanned(pots=pots, **facts), touched=[place, *_lots(lines)], flags=flags)


def lines_of(act: Act) -> list[Line]:
    """The lines of a plan, as the pots that it prepared stand in the books: to tell it again, for they never change."""
    rows = SeedPot.objects.filter(session=act.thing_id, thing__born_by__kind="sowing_planned").select_related("lot")
    alike = groupby(rows.order_by("pk"), key=lambda pot: (pot.lot, pot.pot_size, pot.planned_seeds, pot.planned_pods))
    return [Line(lot, len(list(pots)), size, seeds, pods) for (lot, size, seeds, pods), pots in alike]


@recorded
def sowing_changed(
    *,
    act: NewAct,
    session: SowingSession,
    planned_for: date | None = None,
    medium: str = "",
    sterilised: str = "unknown",
    sterilised_words: str = "",
) -> Act:
    """The session is for another day, or of another medium; its pots stay as they are. No day: the day stays."""
    facts = _facts(medium=medium, sterilised=sterilised, sterilised_words=sterilised_words)
    entry = Entry(act, "sowing_changed", on=[session], said=facts | {"planned_for": planned_for})
    if sent := entry.sent_before():
        return sent
    day = _possible_day(entry, planned_for or session.planned_for)
    flags = putting_off_contradictions(session, day, on=entry.day, today=entry.today, without=act.replaces)
    return entry.keep(session, SowingChanged(planned_for=day, **facts), flags=flags)


@recorded
def pot_sown(
    *, act: NewAct, pot: SeedPot, seeds: int | None = None, pods: int | None = None, all_of_it: bool = False
) -> Act:
    """Seed went into a prepared pot. ``all_of_it`` says that nothing of the lot is left.

    What two people tell of one pot is kept twice and flagged, and counts once.

    Raises:
        Refused: the pot was never prepared: a sowing made it.
    """
    facts = {"seeds": seeds, "pods": pods, "all_of_it": all_of_it}
    entry = Entry(act, "pot_sown", on=[pot], also=pot.session, said=facts)
    if sent := entry.sent_before():
        return sent
    if pot.session is None:
        raise Refused("not_prepared", "This pot was sown when it was made. Sow more from the page of its seed lot.")
    flags = pot_sowing_contradictions(pot, seeds=seeds, pods=pods, day=entry.day, without=act.replaces)
    return entry.keep(pot, PotSown(pot=pot, **facts), touched=[pot.lot, pot.session], flags=flags)


@recorded
def pot_cleared(*, act: NewAct, pot: SeedPot, why: str, why_words: str = "") -> Act:
    """A prepared pot was put away without seed. Its number stays its own: it is never given to another pot."""
    facts = {"why": why, "why_words": why_words.strip()}
    entry = Entry(act, "pot_cleared", on=[pot], also=pot.session, said=facts)
    if sent := entry.sent_before():
        return sent
    if why == "other" and not facts["why_words"]:
        raise Refused("why_cleared", "Say in words why it was cleared.", field="why_words")
    flags = clearing_contradictions(pot, without=act.replaces)
    return entry.keep(pot, PotCleared(pot=pot, **facts), touched=[pot.session], flags=flags)


def _facts(*, medium: str, sterilised: str, sterilised_words: str) -> dict[str, Any]:
    words = sterilised_words.strip()
    if sterilised == "other" and not words:
        raise Refused("sterilised_how", "Say in words how the medium was sterilised.", field="sterilised_words")
    return {"medium": medium.strip(), "sterilised": sterilised, "sterilised_words": words}


def _said(line: Line) -> list[Any]:
    return [line.lot.pk, line.pots, line.pot_size, line.seeds, line.pods]


def _lots(lines: Sequence[Line]) -> list[SeedLot]:
    return list({line.lot.pk: line.lot for line in lines}.values())


def _possible_day(entry: Entry, planned_for: date | None) -> date:
    day = planned_for or entry.day.last or entry.today
    if not EARLIEST <= day <= entry.today + FURTHEST:
        raise Refused("sowing_day", "Plan a sowing for a day within a year from now.", field="planned_for")
    return day


def _possible_pots(lines: Sequence[Line], *, prepared: bool) -> int:
    """How many they are. Where they were ``prepared`` before, their seed may be in them by now."""
    pots = sum(line.pots for line in lines)
    if not lines or any(line.pots < 1 for line in lines):
        raise Refused("no_pots", "Say for at least one seed lot into how many pots it goes.", field="lines")
    if pots > MOST_POTS_A_SESSION:
        raise Refused(
            "too_many_pots",
            f"{pots} pots are too many for one session. Plan {MOST_POTS_A_SESSION} at most, and a second session.",
            field="lines",
        )
    gone = [line.lot for line in lines if not line.lot.is_open]
    if gone and not prepared:
        raise Refused("lot_gone", f"Of {gone[0]} nothing is left by now. Take it out of the plan.", field="lines")
    return pots


def _must_keep_its_pots(lines: Sequence[Line], plan: Act) -> None:
    """Their tags are on them, and seed of that lot may be in them by now."""
    if _pot_by_pot(lines) != _pot_by_pot(lines_of(plan)):
        raise Refused(
            "pots_prepared",
            "The pots of this plan are prepared. Clear what is too much, and plan what is missing as a second session.",
            field="lines",
        )


def _pot_by_pot(lines: Sequence[Line]) -> list[Line]:
    return [replace(line, pots=1, pot_size=line.pot_size.strip()) for line in lines for _ in range(line.pots)]


def _prepare(entry: Entry, session: SowingSession, line: Line, place: Place | None) -> None:
    for _ in range(line.pots):
        entry.born(
            SeedPot,
            lot=line.lot,
            place=place,
            session=session,
            pot_size=line.pot_size.strip(),
            planned_seeds=line.seeds,
            planned_pods=line.pods,
        )
