"""Pollinate. Receptive about 30 days, best in the first 14: J. Trop. Forest Sci. 12(4):635-642, 2000."""

import pytest

from breeding.rounds.books import Books
from breeding.rounds.rules.pollinate import good_pollen
from tests.breeding.rounds.rows import DAY, before, due_in, lot, next_of, spike


def female(opened, **facts):
    usual = {"sex": "female", "stage": "open", "clone_id": 1, "open_by": before(opened), "last_look": before(0)}
    return spike(**usual | facts)


@pytest.mark.parametrize(
    ("row", "due"),
    [
        (female(0), 0),
        (female(5), -5),
        (female(30), -30),  # the last day on which it may still be receptive
        (female(31), None),
        (female(5, dabbed_on=before(1)), 3),
        (female(28, dabbed_on=before(1)), None),  # the next dab would come too late
        (female(5, unready_on=before(1)), 1),  # seen open with nothing showing
        (female(5, unready_on=before(4)), -2),
        (female(5, unready_on=before(1), stage="showing"), -5),
        (female(5, unready_on=before(1), dabbed_on=before(1)), 3),
        (female(5, sex="unclear"), -5),
        (female(5, sex="male"), None),
        (female(5, sex=""), None),
        (female(5, stage="buds"), None),
    ],
)
def test_a_female_is_pollinated_while_she_is_receptive(row, due):
    assert due_in("pollinate", row) == due


def test_the_best_days_count_from_the_first_day_on_which_she_can_have_opened():
    told = next_of("pollinate", female(3, open_after=before(8))).tell(DAY)
    assert told.until == before(-6)
    assert told.window == "best until Tue 21 Jul"
    assert told.reason.startswith("Open 3 to 8 days, best in the first 14 of about 30 days")


def test_after_the_best_days_the_window_is_that_of_being_receptive():
    told = next_of("pollinate", female(20)).tell(DAY)
    assert (told.until, told.window) == (before(-10), "until Sat 25 Jul")


def test_urgency_rises_as_the_best_days_run_out_and_falls_behind_them():
    books = Books(pollen=(lot(clone_id=2, storage="bench", best_before=before(-1)),))
    pressing = [next_of("pollinate", female(age), books=books).weigh(DAY) for age in (0, 10, 14, 15)]
    assert pressing[0] < pressing[1] < pressing[2] > pressing[3]


def test_without_pollen_it_says_so_and_takes_a_minute_only():
    found = next_of("pollinate", female(2))
    told = found.tell(DAY)
    assert told.reason.endswith("not pollinated yet; no pollen in store is good that day.")
    assert (found.minutes, told.partners) == (1, ())


def test_good_pollen_comes_fresh_first_then_by_how_long_it_keeps():
    fridge = lot(pk=2, clone_id=2, storage="refrigerator", best_before=before(-30), collected_last=before(9))
    bench = lot(pk=3, clone_id=3, storage="bench", best_before=before(0), collected_last=before(4))
    unknown = lot(pk=4, words="a friend's", storage="unknown")
    male = spike(pk=5, clone_id=4, sex="male", stage="showing", last_look=before(1))
    books = Books(pollen=(unknown, fridge, bench), males=(male,))
    assert [(found.source.pk, found.words) for found in good_pollen(female(2), books, DAY)] == [
        (5, "fresh"),
        (3, "on the bench, 4 days"),
        (2, "refrigerator, 9 days"),
        (4, "storage not known, age not known"),
    ]


@pytest.mark.parametrize(
    "pollen",
    [
        lot(clone_id=1, storage="bench", best_before=before(-3)),  # her own clone's
        lot(clone_id=2, storage="bench", best_before=before(1)),  # past its best
        lot(clone_id=2, storage="bench", best_before=before(-5), collected_first=before(-1)),  # not collected by then
    ],
)
def test_pollen_that_is_of_no_use_is_not_listed(pollen):
    assert good_pollen(female(2), Books(pollen=(pollen,)), DAY) == ()


def test_a_male_that_nobody_looked_at_for_weeks_is_not_called_fresh():
    male = spike(clone_id=2, sex="male", stage="showing", last_look=before(15))
    assert good_pollen(female(2), Books(males=(male,)), DAY) == ()
    assert len(good_pollen(female(2), Books(males=(male._replace(last_look=before(14)),)), DAY)) == 1


def test_a_second_dab_is_called_so():
    told = next_of("pollinate", female(9, dabbed_on=before(5))).tell(DAY)
    assert told.title == "Pollinate again"
    assert "pollinated 5 days ago" in told.reason
