"""What the answers say will be asked next is what the rules ask next once the answer is given."""

import pytest

from breeding.answers import TAKE_LOOKS, THIRD
from breeding.rounds.answers import Asking, answers_for, links_for, next_words
from breeding.rounds.books import Books
from breeding.rounds.kinds import TASK_KINDS
from breeding.rounds.naming import Names
from tests.breeding.rounds.rows import DAY, before, fading, lot, next_of, pot, routine, section, seed, spike

PODS = section(day0=131, stage="swelling", take="most", last_look=before(6), open_after=before(6), last_seen="green")
OPENING = section(day0=140, stage="opening", last_seen="opening", last_look=before(1), open_by=before(1))
FEMALE = spike(sex="female", stage="open", open_by=before(3), last_look=before(3), clone_id=1)
MALE = spike(sex="male", stage="showing", open_by=before(3), showing_on=before(3), last_look=before(3))
DUE = {
    "spikes": spike(stage="growing", found_first=before(10), found_last=before(10), last_look=before(10)),
    "pollen": MALE,
    "pollinate": FEMALE,
    "take": section(day0=40),
    "pods": PODS,
    "bag": PODS._replace(stage="turning", turning_by=before(1)),
    "harvest": OPENING,
    "sow": seed(storage="room", made=3),
    "pots": pot(sown=50, ripe=55, last_look=before(30), first_after=before(30)),
    "old_pollen": lot(storage="bench", best_before=before(2)),
    "routine": routine(),
    "retag": fading((-20, 2)),
}


def _answers(kind, row=None, books=None):
    row, books = row or DUE[kind], books or Books()
    told = next_of(kind, row, books=books).tell(DAY)
    return answers_for(Asking(kind, row, told, books, Names(), DAY))


def _hints(kind, row=None):
    return {answer.label: answer.hint for answer in _answers(kind, row)}


def test_every_kind_of_task_is_tried_here():
    assert set(DUE) == {kind.code for kind in TASK_KINDS}


@pytest.mark.parametrize("kind", [kind for kind in DUE if kind != "routine"])
def test_later_is_the_last_answer_and_no_answer_stands_out(kind):
    answers = _answers(kind)
    assert answers[-1].label == "Later"
    assert (answers[-1].name, answers[-1].value, answers[-1].hint) == ("days", "3", "asks Sat 18 Jul")
    sizes = [answer.size for answer in answers]
    assert sizes == [""] * (len(answers) - 3) + [THIRD] * 3 if len(answers) % 2 else sizes == [""] * len(answers)


@pytest.mark.parametrize("kind", ["spikes", "take", "pods", "pots"])
def test_a_look_can_always_be_answered_by_cant_tell(kind):
    assert _hints(kind)["Can’t tell"] == "again Fri 17 Jul"


def test_stopping_is_a_link_and_never_an_answer():
    for kind, row in DUE.items():
        asking = Asking(kind, row, next_of(kind, row).tell(DAY), Books(), Names(), DAY)
        stops = {"routine": "Stop it", "retag": "Ask on another day"}  # a place is not stopped for its tags
        assert links_for(asking)[-1].label == stops.get(kind, "Stop watching")
        assert not [answer for answer in answers_for(asking) if "stop" in (answer.url + answer.href)]


def test_a_routine_is_done_or_not_today():
    assert _hints("routine") == {"Done": "again Thu 16 Jul", "Not today": "again Thu 16 Jul"}
    weekly = routine(rule="FREQ=WEEKLY;BYDAY=MO")
    assert _hints("routine", weekly) == {"Done": "again Mon 20 Jul", "Not today": "again Thu 16 Jul"}


def test_pods_say_what_follows_from_each_answer():
    assert _hints("pods") == {
        "Firm, green": "again Sat 25 Jul",
        "Firm, turning": "then: bag it",
        "First ones opening": "then: harvest",
        "Split or fallen": "then: harvest",
        "Can’t tell": "again Fri 17 Jul",
        "Only some": "say which",
        "Later": "asks Sat 18 Jul",
    }


def test_bagging_says_when_the_pods_are_looked_at_next():
    # A bagged pod keeps its seed three weeks, and since nobody saw when it turned, it may have opened in these days.
    assert _hints("bag")["Bagged"] == "look at the pods Sun 2 Aug"


def test_take_says_what_follows_from_each_answer():
    assert _hints("take") == {
        "About a third swelling": "look at the pods Wed 29 Jul",
        "About half swelling": "look at the pods Wed 29 Jul",
        "Most swelling": "look at the pods Wed 29 Jul",
        "All swelling": "look at the pods Wed 29 Jul",
        "None swelling": "again Wed 29 Jul",
        "Can’t tell": "again Fri 17 Jul",
        "Later": "asks Sat 18 Jul",
    }


def test_take_is_answered_in_the_order_of_its_page_with_none_in_sight_and_without_pictures():
    answers = _answers("take")[:-1]
    assert [answer.value for answer in answers] == [*TAKE_LOOKS] and answers[0].label == "None swelling"
    assert {answer.icon for answer in answers} == {""}


def test_a_second_reading_of_none_is_asked_at_the_longest_gap():
    row = section(day0=50, take="none", stage="no_take", none_readings=1, last_look=before(14))
    assert _hints("take", row)["None swelling"] == "again Wed 12 Aug"


def test_a_pot_that_was_silent_for_long_is_kept_or_not_by_an_answer():
    row = pot(sown=91, ripe=96, last_look=before(20), first_after=before(20), last_seen="nothing")
    nothing, gone = _answers("pots", row)[:2]
    assert (nothing.label, nothing.value) == ("Nothing yet", "nothing")
    assert (gone.label, gone.href) == ("Do not keep it", f"/pots/{row.pk}/gone/?why=nothing_up")
    labels = [answer.label for answer in _answers("pots", row._replace(last_look=before(0), first_after=before(0)))]
    assert "Nothing yet" in labels and "Do not keep it" not in labels


def test_a_spike_of_known_sex_is_not_asked_for_it_again():
    labels = [answer.label for answer in _answers("spikes", DUE["spikes"]._replace(sex="female"))]
    assert labels == ["Still growing", "Buds, closed", "Flowers open", "Aborted", "Can’t tell", "Later"]
    assert _hints("spikes")["Open, female"] == "then: pollinate"


def test_the_sex_is_told_in_one_tap():
    quick = {answer.label: (answer.name, answer.value) for answer in _answers("spikes")}
    assert quick["Female buds"] == ("quick", "buds-female-buds")
    assert quick["Open, male"] == ("quick", "open-male-flowers")


def test_an_answer_that_ends_it_says_so():
    assert _hints("spikes")["Aborted"] == "then nothing more is asked"


def test_pollen_that_is_good_leads_to_the_form_with_that_pollen_chosen():
    stored = lot(pk=7, words="a friend's", storage="refrigerator", best_before=before(-9), collected_last=before(9))
    male = MALE._replace(pk=8, clone_id=2)
    answers = _answers("pollinate", books=Books(pollen=(stored,), males=(male,)))
    assert [(answer.label, answer.hint, answer.href) for answer in answers[:3]] == [
        ("unknown", "fresh", "/spikes/1/pollinate/?pollen=spike:8"),
        ("a friend's", "refrigerator, 9 days", "/spikes/1/pollinate/?pollen=lot:7"),
        ("Other pollen", "choose it, or type its number", "/spikes/1/pollinate/"),
    ]


def test_a_flower_that_is_not_ready_or_over_can_be_said_where_pollen_is_asked_for():
    assert _hints("pollinate")["Not ready"] == "again Fri 17 Jul"
    assert _hints("pollinate")["Over"] == _hints("pollen")["Over"] == "then nothing more is asked"
    assert _hints("pollen")["No pollen yet"] == "again Fri 17 Jul"
    taken = _hints("pollen", MALE._replace(pollen_taken_on=before(8)))
    assert "No pollen today" in taken and "No pollen yet" not in taken


def test_no_more_than_four_packets_are_offered_as_buttons():
    packets = tuple(lot(pk=pk, clone_id=pk, storage="freezer", best_before=before(-9)) for pk in range(2, 12))
    assert len(_answers("pollinate", books=Books(pollen=packets))) == 4 + 4


def test_after_a_pot_is_up_nothing_yet_is_no_answer():
    up = pot(sown=150, ripe=155, stage="up", last_look=before(100), first_by=before(100))
    assert "Nothing yet" in _hints("pots")
    assert not {"Nothing yet", "First up"} & _hints("pots", up).keys()


def test_a_pot_that_is_up_can_be_split_and_one_that_is_silent_cannot():
    up = pot(sown=150, ripe=155, stage="up", last_look=before(100), first_by=before(100))
    [split] = [answer for answer in _answers("pots", up) if answer.label == "Split it"]
    assert split.href == "/pots/1/split/"
    assert "Split it" not in _hints("pots")


def test_what_comes_next_is_empty_for_nothing_and_says_that_it_is_closed():
    assert next_words(spike(stage="over", closed_on=DAY), Books(), DAY) == "then nothing more is asked"
    long_ago = PODS._replace(last_look=before(12), open_after=before(12))
    assert next_words(long_ago, Books(), DAY) == "then: look at the pods"
    assert next_words(PODS._replace(last_look=DAY, open_after=DAY), Books(), DAY) == "look at the pods Sat 25 Jul"


def test_a_day_of_another_year_carries_its_year():
    row = seed(storage="refrigerator", ripe_last=DAY, made=0)
    assert next_words(row, Books(), DAY.replace(month=12)).startswith("then: sow")
    assert next_words(row._replace(last_look=DAY.replace(month=12)), Books(), DAY) == "sow Mon 15 Mar 2027"
