"""A planned sowing is one task from its day on, however many pots wait; prepared pots and their lots ask nothing."""

from datetime import timedelta

import pytest

from breeding.models import SeedPot
from breeding.records import sowing as records
from breeding.rounds.books import Books
from breeding.rounds.rules import nexts_for
from breeding.rounds.tasks import round_for, tasks_for
from breeding.rounds.together import together
from breeding.words import facts
from tests.breeding.rounds import rows
from tests.breeding.rounds.rows import DAY, before, due_in, next_of
from tests.making import Nursery, today


@pytest.mark.parametrize(("planned", "due"), [(before(3), -3), (DAY, 0), (DAY + timedelta(days=4), 4)])
def test_it_is_due_on_the_day_it_was_planned_for(planned, due: int) -> None:
    assert due_in("sow", rows.sowing(planned_for=planned)) == due


def test_it_says_how_many_pots_wait() -> None:
    told = next_of("sow", rows.sowing(pots_cleared=2)).tell(DAY)
    assert told.title == "Sow: 1 pot waits"
    assert told.reason.startswith("Planned for Wed 15 Jul; 2 of 5 pots sown; 2 cleared;")
    assert next_of("sow", rows.sowing()).tell(DAY).title == "Sow: 3 pots wait"
    assert next_of("sow", rows.sowing()).minutes > next_of("sow", rows.sowing(pots_cleared=2)).minutes


def test_a_prepared_pot_is_no_task_and_its_lot_waits_for_the_session() -> None:
    assert list(nexts_for(rows.pot(stage="prepared"), Books(), DAY)) == []
    assert due_in("sow", rows.seed(ripe_first=before(9), ripe_last=before(9))) == 0
    assert due_in("sow", rows.seed(ripe_first=before(9), ripe_last=before(9), prepared_for=before(2))) == 26


@pytest.mark.django_db
def test_the_round_has_one_row_for_it_until_the_last_pot_is_sown(nursery: Nursery) -> None:
    lot = nursery.seed(estimate=90, days_ago=9)
    session = nursery.sowing(records.Line(lot, 2, seeds=30))
    [task] = round_for(today(), minutes=600, kind="sow").today
    assert (task.title, task.slug, task.thing_id) == ("Sow: 2 pots wait", "sowings", session.pk)
    assert [answer.label for answer in task.answers] == [
        "Sow at the bench",
        "Print its tags",
        "Clear the rest",
        "Later",
    ]
    assert task.answers[0].href == f"/sowings/{session.pk}/bench/"
    pots = list(SeedPot.objects.filter(session=session))
    assert tasks_for(pots[0], today()).why_not == "It waits to be sown; its sowing session is in the round."
    for pot in pots:
        nursery.record(records.pot_sown, pot=pot, seeds=30)
    assert round_for(today(), minutes=600, kind="sow").today == ()
    session.refresh_from_db()
    assert tasks_for(session, today()).why_not.startswith("All of it is sown, since ")
    pots[0].refresh_from_db()
    assert [one.kind for one in tasks_for(pots[0], today()).tasks] == ["pots"]


@pytest.mark.django_db
def test_a_session_that_ended_with_cleared_pots_does_not_say_that_all_is_sown(nursery: Nursery) -> None:
    session = nursery.sowing(records.Line(nursery.seed(estimate=90, days_ago=9), 2, seeds=30))
    sown, cleared = SeedPot.objects.filter(session=session)
    nursery.record(records.pot_sown, pot=sown, seeds=30)
    nursery.record(records.pot_cleared, pot=cleared, why="no_time")
    session.refresh_from_db()
    assert tasks_for(session, today()).why_not.startswith("1 pot is sown, 1 cleared, since ")
    assert [(one.value, one.label) for one in facts.sowing(session)][1:] == [("1", "sown"), ("1", "cleared")]


@pytest.mark.django_db
def test_pots_of_several_crosses_in_one_session_are_rows_of_their_own(nursery: Nursery) -> None:
    lots = [nursery.seed(days_ago=90) for _ in range(2)]
    session = nursery.sowing(*(records.Line(lot, 2, seeds=30) for lot in lots), days_ago=80)
    for pot in SeedPot.objects.filter(session=session):
        nursery.record(records.pot_sown, pot=pot, seeds=30, days_ago=80)
    found = round_for(today(), minutes=600, kind="pots").today
    assert len(found) == 4
    assert [len(task.things) for task in together(found)] == [2, 2]
