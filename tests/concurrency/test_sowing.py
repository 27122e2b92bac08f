"""Two people sow one session on two phones at once."""

import uuid

import pytest

from breeding.models import SeedLot, SeedPot, SowingSession
from breeding.records.sowing import Line, pot_cleared, pot_sown
from nursery.models import Act
from nursery.records import milestones
from nursery.records.together import recorded_together
from tests.concurrency.together import together
from tests.making import Nursery

TIMES = 3


def _sown(nursery: Nursery, pot: SeedPot, **more) -> Act:
    return pot_sown(act=nursery.act(**more), pot=SeedPot.objects.get(pk=pot.pk), seeds=30)


def _as_worked_out(*things) -> bool:
    fresh = [type(thing).objects.get(pk=thing.pk) for thing in things]
    return all(milestones.worked_out(one).items() <= vars(one).items() for one in fresh)


@pytest.mark.parametrize("_", range(TIMES))
def test_one_pot_told_by_two_at_once_is_kept_twice_flagged_once_and_counted_once(_: int, nursery: Nursery) -> None:
    lot = nursery.seed(estimate=90, days_ago=9)
    session = nursery.sowing(Line(lot, 2, seeds=30))
    pot = SeedPot.objects.filter(session=session).first()
    acts = together(*[lambda: _sown(nursery, pot)] * 2)
    codes = [list(act.flags.values_list("code", flat=True)) for act in acts]
    assert sorted(codes) == [[], ["pot_sown_before"]], "whoever came second is told"
    session.refresh_from_db()
    lot = SeedLot.objects.get(pk=lot.pk)
    assert (lot.seeds_sown, lot.pots_sown, session.pots_sown, session.is_open) == (30, 1, 1, True)
    again = nursery.act()
    one, other = together(*[lambda: pot_sown(act=again, pot=SeedPot.objects.get(pk=pot.pk), seeds=30)] * 2)
    assert one == other, "the same tap sent twice is one act"
    assert _as_worked_out(pot, lot, session)


@pytest.mark.parametrize("_", range(TIMES))
def test_the_last_pots_sown_at_once_end_the_session(_: int, nursery: Nursery) -> None:
    lot = nursery.seed(estimate=100, days_ago=9)
    session = nursery.sowing(Line(lot, 4, seeds=30))
    results = together(*[lambda pot=pot: _sown(nursery, pot) for pot in SeedPot.objects.filter(session=session)])
    assert all(isinstance(act, Act) for act in results), results
    session.refresh_from_db()
    lot = SeedLot.objects.get(pk=lot.pk)
    assert (session.pots_sown, session.closed_why, lot.seeds_sown) == (4, "sown", 120)
    over = [act for act in results if act.flags.filter(code="sown_more_than_estimated", thing_id=lot.pk).exists()]
    assert len(over) == 1, "the one that took the last of the estimate"


@pytest.mark.parametrize("_", range(TIMES))
def test_clearing_and_sowing_at_once_never_wait_in_a_circle(_: int, nursery: Nursery) -> None:
    session = nursery.sowing(Line(nursery.seed(days_ago=9), 3, seeds=30))
    pots = list(SeedPot.objects.filter(session=session).order_by("pk"))

    def cleared() -> list[Act]:
        return recorded_together(
            submit=uuid.uuid4(),
            things=list(SeedPot.objects.filter(session=session)),
            record=lambda pot, id: pot_cleared(act=nursery.act(id=id), pot=pot, why="no_time"),
        )

    *sown, gone = together(*[lambda pot=pot: _sown(nursery, pot) for pot in pots[::-1]], cleared)
    assert all(isinstance(act, Act) for act in sown)
    assert len(gone) == 3
    session = SowingSession.objects.get(pk=session.pk)
    assert (session.pots_sown, session.pots_cleared, session.closed_why) == (3, 0, "sown")
    assert _as_worked_out(*pots, session)
