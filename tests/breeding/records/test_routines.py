"""Routines: made, changed, done, stopped, and what of it the round shows."""

from datetime import timedelta

import pytest

from breeding.models import Routine
from breeding.records.routines import routine_changed, routine_done, routine_made
from breeding.rounds.tasks import round_for, tasks_for
from nursery.days import Day
from nursery.models import Act, Tag
from nursery.records.errors import Refused
from nursery.records.milestones import worked_out
from nursery.records.undo import undone
from nursery.records.watching import resumed, stopped
from tests.making import Nursery, ago, birth_of, today

pytestmark = pytest.mark.django_db


def _due(day=None) -> list[str]:
    return [task.title for task in round_for(day or today(), minutes=10_000).today if task.kind == "routine"]


def _fresh(routine: Routine) -> Routine:
    return Routine.objects.get(pk=routine.pk)


def test_it_is_made_with_its_words_place_and_rule(nursery: Nursery) -> None:
    bench = nursery.bench("Long bench")
    routine = nursery.routine("  change   the sticky cards ", "rrule:freq=weekly;byday=mo", place=bench)
    assert (routine.words, routine.rule, routine.place) == ("change the sticky cards", "FREQ=WEEKLY;BYDAY=MO", bench)
    assert routine.starts == today()
    assert not Tag.objects.filter(thing_id=routine.pk).exists()


def test_it_starts_on_the_day_of_the_act_where_none_is_given(nursery: Nursery) -> None:
    assert nursery.routine(days_ago=9).starts == today() - timedelta(days=9)
    assert nursery.routine(day=Day.unknown()).starts == today()


@pytest.mark.parametrize(
    ("facts", "code", "field"),
    [
        ({"rule": "FREQ=HOURLY"}, "rule_cannot_be", "rule"),
        ({"rule": "FREQ=DAILY;BYMONTH=2;BYMONTHDAY=30"}, "rule_cannot_be", "rule"),
        ({"starts": today() + timedelta(days=5000)}, "start_absurd", "starts"),
        ({"words": "   "}, "cannot_be", "words"),
    ],
)
def test_what_cannot_be_is_refused_and_nothing_is_kept(nursery: Nursery, facts, code, field) -> None:
    with pytest.raises(Refused) as refusal:
        nursery.record(routine_made, **{"words": "mist", "rule": "FREQ=DAILY"} | facts)
    assert (refusal.value.code, refusal.value.field) == (code, field)
    assert not Act.objects.filter(kind="routine_made").exists()


def test_done_it_is_asked_for_on_its_next_day(nursery: Nursery) -> None:
    routine = nursery.routine()
    assert _due() == ["Mist"]
    nursery.record(routine_done, routine=routine)
    assert _due() == []
    assert _due(today() + timedelta(days=1)) == ["Mist"]


def test_not_today_is_asked_for_tomorrow_and_remembered(nursery: Nursery) -> None:
    routine = nursery.routine(rule="FREQ=MONTHLY")
    nursery.record(routine_done, routine=routine, answer="not_today")
    assert _due() == []
    assert _due(today() + timedelta(days=1)) == ["Mist"]
    assert _fresh(routine).done_on is None


def test_a_missed_one_stays_due_until_it_is_done(nursery: Nursery) -> None:
    routine = nursery.routine(rule="FREQ=MONTHLY;INTERVAL=2", days_ago=20)
    [task] = [task for task in round_for(today()).today if task.kind == "routine"]
    assert (task.due, task.due_words[:5]) == (today() - timedelta(days=20), "since")
    nursery.record(routine_done, routine=routine)
    assert _due() == []


def test_done_on_a_vague_day_counts_from_its_last(nursery: Nursery) -> None:
    routine = nursery.routine(days_ago=400)
    nursery.record(routine_done, routine=routine, day=Day.month(today().year - 1, 1))
    assert (_fresh(routine).done_on.month, _fresh(routine).done_on.day) == (1, 31)


def test_an_undone_answer_is_asked_for_again(nursery: Nursery) -> None:
    done = nursery.record(routine_done, routine=nursery.routine())
    undone(act=nursery.act(), target=done)
    assert _due() == ["Mist"]


def test_acts_that_arrive_out_of_order_give_the_same(nursery: Nursery) -> None:
    routine = nursery.routine(days_ago=10)
    nursery.record(routine_done, routine=routine, days_ago=1)
    nursery.record(routine_done, routine=routine, days_ago=6)
    nursery.record(routine_done, routine=routine, days_ago=4, answer="not_today")
    routine = _fresh(routine)
    assert (routine.done_on, routine.put_off_on) == (ago(1).first, ago(4).first)
    assert {name: getattr(routine, name) for name in worked_out(routine)} == worked_out(routine)


def test_it_is_changed_by_an_act_and_an_undo_brings_back_what_was(nursery: Nursery) -> None:
    bench = nursery.bench()
    routine = nursery.routine(days_ago=30, place=bench)
    act = nursery.record(routine_changed, routine=routine, words="feed", rule="FREQ=WEEKLY")
    changed = _fresh(routine)
    assert (changed.words, changed.rule, changed.place, changed.starts) == ("feed", "FREQ=WEEKLY", None, routine.starts)
    undone(act=nursery.act(), target=act)
    assert (_fresh(routine).words, _fresh(routine).rule, _fresh(routine).place) == ("mist", "FREQ=DAILY", bench)


def test_stopped_it_is_asked_for_no_more_and_says_so(nursery: Nursery) -> None:
    routine = nursery.routine()
    nursery.record(stopped, thing=routine)
    assert _due() == []
    assert tasks_for(_fresh(routine), today()).why_not.startswith("It is stopped, since ")
    nursery.record(resumed, thing=_fresh(routine))
    assert _due() == ["Mist"]


def test_one_whose_rule_has_ended_says_why_nothing_is_asked(nursery: Nursery) -> None:
    routine = nursery.routine(rule="FREQ=DAILY;COUNT=1", days_ago=3)
    nursery.record(routine_done, routine=routine, days_ago=3)
    outlook = tasks_for(_fresh(routine), today())
    assert outlook.tasks == ()
    assert outlook.why_not == "Its rule has ended; change it, and it is asked for again."


def test_one_that_was_done_is_not_undone_as_if_it_had_never_been(nursery: Nursery) -> None:
    routine = nursery.routine()
    nursery.record(routine_done, routine=routine)
    with pytest.raises(Refused) as refusal:
        undone(act=nursery.act(), target=birth_of(routine))
    assert refusal.value.code == "others_depend"


def test_the_round_names_it_by_its_words_at_its_place(nursery: Nursery) -> None:
    bench = nursery.bench("Long bench")
    nursery.routine("mist", place=bench)
    [group] = round_for(today()).groups
    [task] = group.tasks
    assert (group.place_id, task.title, task.name, task.look) == (bench.pk, "Mist", "", False)
    assert [answer.label for answer in task.answers] == ["Done", "Not today"]
    assert "legionella" in " ".join(task.cautions)
