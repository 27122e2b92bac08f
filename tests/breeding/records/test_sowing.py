"""Sowing sessions: pots prepared, sown and cleared one by one, and what that does to seed, cross and session."""

from datetime import timedelta

import pytest

from breeding.models import SeedLot, SeedPot, SowingSession
from breeding.records import pots, seed, sowing
from nursery.models import Act, Tag
from nursery.records.errors import Refused
from nursery.records.undo import undone
from tests.making import Nursery, birth_of, today

pytestmark = pytest.mark.django_db

Line = sowing.Line


def _of(session: SowingSession) -> list[SeedPot]:
    return list(SeedPot.objects.filter(session=session).order_by("pk"))


def _flags(act: Act) -> list[str]:
    return sorted(act.flags.values_list("code", flat=True))


def _sow(nursery: Nursery, pot: SeedPot, seeds: int | None = 30, **facts) -> Act:
    return nursery.record(sowing.pot_sown, pot=pot, seeds=seeds, **facts)


def test_planning_prepares_pots_with_tags_and_takes_nothing(nursery: Nursery) -> None:
    lot, other = nursery.seed(estimate=100, days_ago=9), nursery.seed(days_ago=3)
    bench = nursery.bench()
    lines = [Line(lot, 2, "7 cm", seeds=30), Line(other, 1, pods=2)]
    session = nursery.sowing(*lines, place=bench, medium=" milled moss ", sterilised="steam", days_ago=1)
    made = _of(session)
    assert [(one.lot_id, one.pot_size, one.planned_seeds, one.planned_pods) for one in made] == [
        (lot.pk, "7 cm", 30, None),
        (lot.pk, "7 cm", 30, None),
        (other.pk, "", None, 2),
    ]
    assert {(one.stage, one.unsown, one.sown_first, one.seeds, one.place_id, one.first_after) for one in made} == {
        ("prepared", True, None, None, bench.pk, None)
    }
    assert Tag.objects.filter(thing__in=[one.pk for one in made]).count() == 3
    assert (session.pots_planned, session.pots_waiting, session.stage, session.medium) == (
        3,
        3,
        "planned",
        "milled moss",
    )
    lot.refresh_from_db()
    assert (lot.left, lot.seeds_sown, lot.pots_sown, lot.stage) == (100, 0, 0, "cleaned")
    lot.cross.refresh_from_db()
    assert (lot.cross.pots, lot.cross.stage) == (0, "seed")


def test_each_pot_is_sown_by_itself_and_the_last_ends_the_session(nursery: Nursery) -> None:
    lot = nursery.seed(estimate=100, days_ago=9)
    session = nursery.sowing(Line(lot, 2, seeds=30), days_ago=4)
    first, second = _of(session)
    _sow(nursery, first, 25, days_ago=2)
    for row in (first, session, lot, lot.cross):
        row.refresh_from_db()
    assert (first.stage, first.unsown, first.seeds, (today() - first.sown_first).days) == ("sown", False, 25, 2)
    assert (session.stage, session.pots_sown, session.pots_waiting, session.closed_on) == ("part_sown", 1, 1, None)
    assert (lot.left, lot.pots_sown, lot.stage, lot.cross.pots, lot.cross.stage) == (75, 1, "part_sown", 1, "sown")
    last = _sow(nursery, second, 40, all_of_it=True, days_ago=1)
    session.refresh_from_db()
    lot.refresh_from_db()
    assert (session.closed_why, (today() - session.closed_on).days, session.pots_waiting) == ("sown", 1, 0)
    assert (lot.seeds_sown, lot.closed_why) == (65, "sown")
    undone(act=nursery.act(), target=last)
    for row in (second, session, lot):
        row.refresh_from_db()
    assert (second.stage, session.is_open, lot.seeds_sown, lot.is_open) == ("prepared", True, 25, True)


def test_one_pot_told_twice_is_kept_flagged_and_counts_once(nursery: Nursery) -> None:
    lot = nursery.seed(estimate=100, days_ago=9)
    session = nursery.sowing(Line(lot, 2, seeds=30))
    pot = _of(session)[0]
    first, second = _sow(nursery, pot), _sow(nursery, pot, by=nursery.person())
    assert (_flags(first), _flags(second)) == ([], ["pot_sown_before"])
    lot.refresh_from_db()
    session.refresh_from_db()
    assert (lot.seeds_sown, lot.pots_sown, session.pots_sown) == (30, 1, 1)
    undone(act=nursery.act(), target=first)
    lot.refresh_from_db()
    assert lot.seeds_sown == 30, "the other telling of it still counts"


def test_more_than_the_estimate_is_taken_and_the_lot_is_flagged(nursery: Nursery) -> None:
    lot = nursery.seed(estimate=50, days_ago=9)
    one, two = _of(nursery.sowing(Line(lot, 2, seeds=30)))
    _sow(nursery, one)
    [flag] = _sow(nursery, two).flags.all()
    assert (flag.code, flag.thing_id) == ("sown_more_than_estimated", lot.pk)
    assert flag.sentence == "60 seeds sown, but 50 were estimated. Was that too low, or is a number wrong?"


def test_of_a_lot_that_is_gone_meanwhile_sowing_is_taken_and_planning_refused(nursery: Nursery) -> None:
    lot = nursery.seed(days_ago=9)
    pot = nursery.prepared_pot(lot)
    nursery.record(seed.seed_finished, lot=lot)
    assert _flags(_sow(nursery, pot)) == ["lot_was_finished"]
    with pytest.raises(Refused, match="nothing is left by now"):
        nursery.sowing(Line(SeedLot.objects.get(pk=lot.pk), 1))


def test_what_is_not_sown_is_cleared_and_ends_the_session(nursery: Nursery) -> None:
    session = nursery.sowing(Line(nursery.seed(days_ago=9), 2, seeds=30), days_ago=2)
    one, two = _of(session)
    _sow(nursery, one, days_ago=1)
    cleared = nursery.record(sowing.pot_cleared, pot=two, why="no_seed")
    two.refresh_from_db()
    session.refresh_from_db()
    assert (two.closed_why, two.stage, two.unsown) == ("cleared", "prepared", True)
    assert (session.closed_on, session.closed_why, session.pots_cleared) == (today(), "sown", 1)
    assert Tag.objects.get(thing_id=two.pk).retired is False, "its number goes on to say what became of it"
    undone(act=nursery.act(), target=cleared)
    session.refresh_from_db()
    two.refresh_from_db()
    assert (session.is_open, two.is_open) == (True, True)


def test_a_cleared_pot_that_is_sown_after_all_counts_as_sown(nursery: Nursery) -> None:
    """Session closed meanwhile, and a phone without signal tells later: taken, flagged, whatever comes first."""
    pot = nursery.prepared_pot(nursery.seed(days_ago=9))
    nursery.record(sowing.pot_cleared, pot=pot, why="no_time")
    assert _flags(_sow(nursery, pot)) == ["pot_was_cleared"]
    pot.refresh_from_db()
    session = SowingSession.objects.get(pk=pot.session_id)
    assert (pot.stage, pot.is_open, session.pots_sown, session.pots_cleared) == ("sown", True, 1, 0)
    other = nursery.prepared_pot(nursery.seed(days_ago=9))
    _sow(nursery, other)
    assert _flags(nursery.record(sowing.pot_cleared, pot=other, why="no_time")) == ["cleared_though_sown"]
    other.refresh_from_db()
    assert other.is_open


def test_a_pot_that_a_sowing_made_is_not_sown_again(nursery: Nursery) -> None:
    with pytest.raises(Refused, match="This pot was sown when it was made"):
        _sow(nursery, nursery.pot())


def test_seedlings_in_a_pot_that_nobody_sowed_are_flagged(nursery: Nursery) -> None:
    pot = nursery.prepared_pot()
    assert _flags(nursery.record(pots.pot_looked_at, pot=pot, seen="few")) == ["not_sown_yet"]
    pot.refresh_from_db()
    assert (pot.stage, pot.unsown) == ("up", True)


def test_the_plan_is_undone_until_a_pot_is_sown(nursery: Nursery) -> None:
    lot = nursery.seed(days_ago=9)
    pot = nursery.prepared_pot(lot)
    session = SowingSession.objects.get(pk=pot.session_id)
    sown = _sow(nursery, pot)
    with pytest.raises(Refused, match="More was recorded"):
        undone(act=nursery.act(), target=birth_of(session))
    undone(act=nursery.act(), target=sown)
    undone(act=nursery.act(), target=birth_of(session))
    for row in (pot, session):
        row.refresh_from_db()
        assert (row.cancelled, row.stage) == (True, "")


def test_a_plan_is_corrected_in_all_but_its_pots(nursery: Nursery) -> None:
    """Seed of a lot that a correction took away would be counted to a lot that it never came from."""
    lot, other = nursery.seed(days_ago=9), nursery.seed(days_ago=9)
    lines = [Line(lot, 1, " 7 cm", seeds=30), Line(lot, 1, "7 cm", seeds=30)]
    session = nursery.sowing(*lines, days_ago=3)
    kept = _of(session)
    wrong = ([Line(other, 2, "7 cm", seeds=30)], [Line(lot, 3, "7 cm", seeds=30)], [Line(lot, 2, "7 cm", seeds=20)])
    for said in wrong:
        with pytest.raises(Refused, match="The pots of this plan are prepared") as refusal:
            nursery.record(sowing.sowing_planned, lines=said, replaces=birth_of(session))
        assert refusal.value.field == "lines"
    facts = {"lines": [Line(lot, 2, "7 cm", seeds=30)], "medium": "sand"}
    nursery.record(sowing.sowing_planned, replaces=birth_of(session), **facts)
    session.refresh_from_db()
    assert (session.medium, _of(session)) == ("sand", kept)


def test_a_session_can_be_for_another_day_or_medium(nursery: Nursery) -> None:
    session, day = nursery.sowing(), today() + timedelta(days=6)
    nursery.record(
        sowing.sowing_changed, session=session, planned_for=day, sterilised="other", sterilised_words="in the sun"
    )
    session.refresh_from_db()
    assert (session.planned_for, session.sterilised_words, session.pots_planned) == (day, "in the sun", 1)


@pytest.mark.parametrize(
    ("facts", "field", "sentence"),
    [
        ({"pots": 0}, "lines", "Say for at least one seed lot into how many pots it goes."),
        ({"pots": 301}, "lines", "301 pots are too many for one session. Plan 300 at most, and a second session."),
        (
            {"planned_for": today() + timedelta(days=400)},
            "planned_for",
            "Plan a sowing for a day within a year from now.",
        ),
        ({"sterilised": "other"}, "sterilised_words", "Say in words how the medium was sterilised."),
    ],
)
def test_what_cannot_be_is_refused_beside_its_field(nursery: Nursery, facts: dict, field: str, sentence: str) -> None:
    facts = dict(facts)
    line = Line(nursery.seed(days_ago=9), facts.pop("pots", 1))
    with pytest.raises(Refused) as refused:
        nursery.sowing(line, **facts)
    assert (refused.value.field, refused.value.sentence) == (field, sentence)
    assert not SowingSession.objects.exists()
    with pytest.raises(Refused, match="at least one seed lot"):
        nursery.record(sowing.sowing_planned, lines=[])
