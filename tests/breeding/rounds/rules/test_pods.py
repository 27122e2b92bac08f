"""Look at pods, bag, harvest.

Day 80 to 240 to ripe, an open pod keeps about 6 to 10 days, a bagged one 3 to 4 weeks: from memory, as shipped.
"""

from dataclasses import replace

import pytest

from breeding.learning.fits import Learning
from breeding.learning.graces import LearnedGrace
from breeding.rounds.books import Books
from breeding.rounds.expected import Expectations, from_shipped
from breeding.rounds.heat import NO_HEAT, Heat, Spell
from breeding.science.cadence import earlier, next_look
from breeding.science.grace import Grace
from breeding.science.shipped import shipped
from tests.breeding.rounds.rows import DAY, before, due_in, next_of, section


def swelling(day0, looked, **facts):
    usual = {
        "stage": "swelling",
        "take": "most",
        "last_look": before(looked),
        "open_after": before(looked),
        "last_seen": "green",
    }
    return section(**{"day0": day0} | usual | facts)


@pytest.mark.parametrize("age", [40, 60, 80, 100, 131, 170, 240, 400])
@pytest.mark.parametrize(("bagged", "grace"), [(False, Grace.between(6, 10)), (True, Grace.between(21, 28))])
def test_the_next_look_is_that_of_the_delay_time_model_for_pods_that_turn_before_they_open(age, bagged, grace):
    ripe, turning = shipped("ripe").timing, shipped("turning").timing
    rest = {"grace": grace.behind(turning), "risk": 0.005, "longest_gap": 28}
    assert due_in("pods", swelling(age, 0, bagged=bagged)) == next_look(age, earlier(ripe, turning), **rest) - age


def test_pods_seen_turning_are_taken_to_have_turned_before_for_nobody_saw_when():
    turning, middle = shipped("turning").timing, from_shipped("turning").middle
    rest = {"grace": Grace.between(6, 10), "risk": 0.005, "longest_gap": 28}
    due = due_in("pods", swelling(131, 0, stage="turning", last_seen="turning", turning_by=before(0)))
    assert due == next_look(middle, turning, **rest) - middle < next_look(0, turning, **rest)


def test_the_owners_risk_and_grace_are_followed():
    def due(**changes):
        own = replace(from_shipped("ripe"), **changes)
        return due_in("pods", swelling(131, 0), books=Books(expectations=Expectations([(None, own)])))

    assert due(risk=0.0005) < due() < due(risk=0.05)
    assert due(grace_plain=3) < due() < due(grace_plain=9)


LONG, SHORT = (LearnedGrace(Grace.between(*days), 12, 3) for days in ((10, 14), (3, 5)))


@pytest.mark.parametrize("row", [swelling(131, 0), swelling(131, 0, stage="turning", turning_by=before(0))])
def test_what_was_learned_of_the_grace_of_bare_pods_is_followed(row):
    def due(found, row=row, **own):
        rows = [(None, replace(from_shipped("ripe"), **own))]
        learning = Learning(graces={None: found} if found else {})
        return due_in("pods", row, books=Books(expectations=Expectations(rows, learning)))

    assert due(SHORT) < due(None) < due(LONG)
    assert due(SHORT, as_it_stands=True) == due(None)
    assert due(SHORT, row._replace(bagged=True)) == due(LONG, row._replace(bagged=True))
    of_lowii = Expectations([(3, from_shipped("ripe"))], Learning(graces={3: SHORT, None: LONG}))
    assert [of_lowii.of("ripe", taxon).grace(bagged=False) for taxon in (3, 7)] == [3, 10]


HOT = Heat({5: (Spell(before(4), before(2)),), 6: (Spell(before(4), DAY.max),)})
"""Three days of heat in one place, and in another it goes on."""


@pytest.mark.parametrize(
    ("place", "looked", "is_shorter"),
    [
        (5, 9, True),
        (5, 3, True),
        (5, 2, False),
        (5, 1, False),
        (6, 9, True),
        (6, 0, True),
        (7, 9, False),
        (None, 9, False),
    ],
)
def test_bare_pods_that_stood_in_the_heat_since_the_last_look_keep_less(place, looked, is_shorter):
    row = swelling(131, looked, place_id=place)
    hot, cool = (Books(expectations=Expectations(heat=heat)) for heat in (HOT, NO_HEAT))
    assert (due_in("pods", row, books=hot) < due_in("pods", row, books=cool)) is is_shorter
    assert ("a hot spell since the last look" in next_of("pods", row, books=hot).tell(DAY).reason) is is_shorter
    bag = row._replace(bagged=True)
    assert due_in("pods", bag, books=hot) == due_in("pods", bag, books=cool)
    assert "hot" not in next_of("pods", bag, books=hot).tell(DAY).reason


def test_in_the_heat_turning_and_open_pods_press_more_and_say_why():
    books = Books(expectations=Expectations(heat=HOT))
    turning = swelling(131, 0, place_id=6, stage="turning", last_seen="turning", turning_by=before(0))
    assert due_in("pods", turning, books=books) == 3  # six days of ten are left of six: 3.6
    assert (
        "a bare one 3 (shipped, from memory; less in the hot spell)"
        in next_of("bag", turning, books=books).tell(DAY).reason
    )
    opening = swelling(140, 1, place_id=6, stage="opening", last_seen="opening", seen_open=before(1))
    plain, hot = next_of("harvest", opening), next_of("harvest", opening, books=books)
    assert hot.weigh(DAY) > plain.weigh(DAY) and hot.tell(DAY).until == before(-2)


@pytest.mark.parametrize(
    ("weekdays", "age", "looked", "due"),
    [
        (range(7), 131, 0, 10),  # a Saturday
        (range(5), 131, 0, 9),  # the Friday before
        ({2}, 131, 0, 7),  # Wednesdays only
        (range(5), 131, 9, 1),  # due tomorrow
        ({2}, 131, 6, 0),
    ],
)
def test_a_look_keeps_to_the_days_on_which_people_look(weekdays, age, looked, due):
    books = Books(working=frozenset(weekdays))
    assert due_in("pods", swelling(age, looked), books=books) == due


def test_what_is_to_be_done_at_once_waits_for_no_working_day():
    row = swelling(140, 1, stage="opening", last_seen="opening", seen_open=before(1))
    assert due_in("harvest", row, books=Books(working=frozenset({0}))) == -1
    turning = swelling(131, 1, stage="turning", turning_by=before(1))
    assert due_in("bag", turning, books=Books(working=frozenset({0}))) == -1


@pytest.mark.parametrize(
    ("row", "due"),
    [
        (swelling(131, 6), 4),  # the pod on the picture of the round: looked at 6 days ago
        (swelling(40, 0), 14),
        (swelling(131, 0, last_seen="cant_tell"), 2),
        (swelling(131, 0, bagged=True), 27),
        (swelling(131, 0, stage="turning", last_seen="turning", turning_by=before(0)), 5),
        (swelling(131, 0, stage="turning", last_seen="turning", turning_by=before(0), bagged=True), 19),
        (swelling(131, 0, stage="opening", last_seen="opening", open_by=before(0)), None),  # waits for harvest
        (swelling(140, 3, stage="opening", last_seen="opening", seen_open=before(3), harvested_on=before(2)), 4),
        (swelling(140, 0, stage="opening", last_seen="opening", seen_open=before(9), harvested_on=before(5)), 6),
        (section(day0=100), -37),  # take never read: due since day 63
        (section(day0=30), None),
        (section(made=10, last_look=before(2)), 4),  # day not known: as often as an open pod keeps
        (section(day0=60, stage="no_take", take="none"), None),
        (section(made=60, take="all", last_look=before(3)), 3),
    ],
)
def test_pods_are_looked_at(row, due):
    assert due_in("pods", row) == due


@pytest.mark.parametrize("take", ["third", "half", "most", "all"])
def test_what_was_read_as_swelling_swells_though_its_stage_does_not_say_so(take):
    dabbed_since = swelling(60, 3, stage="pollinated", take=take)
    assert due_in("pods", dabbed_since) == due_in("pods", swelling(60, 3))


def test_looking_at_some_of_the_pods_does_not_put_off_the_others():
    all_looked = swelling(131, 0)
    some = swelling(131, 0, open_after=before(10))
    assert due_in("pods", some) == 1 < due_in("pods", all_looked)


def test_a_vague_pollination_counts_from_its_first_day():
    row = swelling(110, 5, day0_last=before(90))
    assert due_in("pods", row) == due_in("pods", swelling(110, 5))
    assert next_of("pods", row).tell(DAY).reason.startswith("Day 90 to 110 since it was pollinated;")


@pytest.mark.parametrize(
    ("row", "due"),
    [
        (swelling(131, 1, stage="turning", turning_by=before(1)), -1),
        (swelling(131, 1, stage="turning", turning_by=before(1), bagged=True), None),
        (swelling(131, 1), None),
        (swelling(131, 1, stage="opening", turning_by=before(4)), None),
    ],
)
def test_turning_pods_are_bagged_at_once(row, due):
    assert due_in("bag", row) == due


@pytest.mark.parametrize(
    ("row", "due"),
    [
        (swelling(140, 1, stage="opening", last_seen="opening", seen_open=before(1)), -1),
        (swelling(140, 1, stage="split", last_seen="split", seen_open=before(1)), -1),
        (swelling(140, 0, stage="opening", last_seen="opening", seen_open=before(9)), -9),  # walked past since
        (swelling(140, 0, stage="opening", last_seen="opening", open_by=before(9)), -9),
        (swelling(140, 3, stage="opening", last_seen="opening", seen_open=before(3), harvested_on=before(2)), None),
        (swelling(140, 0, stage="opening", last_seen="opening", seen_open=before(9), harvested_on=before(5)), None),
        (swelling(140, 0, stage="opening", last_seen="opening", seen_open=before(0), harvested_on=before(5)), 0),
        (swelling(140, 0), None),
    ],
)
def test_open_pods_are_harvested_at_once(row, due):
    assert due_in("harvest", row) == due


def test_harvest_presses_more_than_any_look_and_less_in_a_bag():
    opening = swelling(140, 0, stage="opening", last_seen="opening", open_by=before(0))
    plain = next_of("harvest", opening)
    bagged = next_of("harvest", opening._replace(bagged=True))
    late_look = next_of("pods", swelling(140, 10))
    assert plain.weigh(DAY) > bagged.weigh(DAY)
    assert plain.weigh(DAY) > late_look.weigh(DAY)
    assert (plain.tell(DAY).until, bagged.tell(DAY).until) == (before(-6), before(-21))


def test_urgency_of_a_look_grows_with_each_day_it_waits():
    pressing = [next_of("pods", swelling(120 + late, late)).weigh(DAY) for late in range(4, 16)]
    assert pressing == sorted(pressing)
    assert pressing[0] < 5 < pressing[-1]


def test_the_reason_of_a_look_reads_like_a_person_said_it():
    assert next_of("pods", swelling(131, 6)).tell(DAY).reason == (
        "Day 131 since it was pollinated; usual is day 80 to 240, middle 139 (shipped, from memory) "
        "until the first pod opens; last look 6 days ago: firm, green."
    )


def test_bagging_is_not_called_a_look():
    bagged = swelling(131, 6, bagged=True, stage="turning", turning_by=before(9), last_seen="turning")
    reason = next_of("pods", bagged).tell(DAY).reason
    assert reason.endswith("; bagged; last look or bagging 6 days ago: firm, turning.")


def test_the_reason_for_bagging_and_for_harvest():
    turning = swelling(131, 1, stage="turning", turning_by=before(1))
    assert next_of("bag", turning).tell(DAY).reason == (
        "Day 131 since it was pollinated; seen turning 1 day ago and not bagged; "
        "a bagged pod keeps its seed 21 days, a bare one 6 (shipped, from memory)."
    )
    opening = swelling(140, 1, stage="opening", last_seen="opening", open_by=before(1))
    assert next_of("harvest", opening).tell(DAY).reason == (
        "Day 140 since it was pollinated; seen opening 1 day ago; "
        "not bagged, so the seed keeps about 6 days (shipped, from memory)."
    )


def test_a_take_that_was_read_before_another_dab_is_not_called_unread():
    row = section(day0=100, take="half", last_look=before(40))
    assert "never read" not in next_of("pods", row).tell(DAY).reason


def test_a_take_that_was_never_read_is_said():
    assert "; take was never read; not looked at since." in next_of("pods", section(day0=100)).tell(DAY).reason
