"""Take pollen, old pollen. New male flowers every couple of days: one grower's page."""

import pytest

from breeding.rounds.books import Books
from tests.breeding.rounds.rows import DAY, before, due_in, lot, next_of, spike


def male(**facts):
    usual = {"sex": "male", "stage": "showing", "open_by": before(4), "showing_on": before(1), "last_look": before(1)}
    return spike(**usual | facts)


@pytest.mark.parametrize(
    ("row", "due"),
    [
        (male(), -1),
        (male(stage="open", showing_on=None), 1),  # seen open yesterday, no pollen yet
        (male(pollen_taken_on=before(3)), 4),
        (male(pollen_taken_on=before(20)), -1),
        (male(sex="unclear"), -1),
        (male(sex="female"), None),
        (male(sex=""), None),
        (male(stage="buds"), None),
        (male(stage="over"), None),
    ],
)
def test_pollen_is_taken_from_males_in_flower(row, due):
    assert due_in("pollen", row) == due


def test_the_reason_says_when_pollen_was_taken_last():
    reason = next_of("pollen", male(pollen_taken_on=before(8), last_seen="showing")).tell(DAY).reason
    assert reason == (
        "Male, day 4 since its first flower opened; pollen was taken 8 days ago, "
        "new flowers open every couple of days; no female could use it in the 70 days that it keeps (from memory); "
        "last look 1 day ago: fluid or pollen showing."
    )


@pytest.mark.parametrize(("best_before", "due"), [(0, 1), (1, 0), (-50, 51)])
def test_old_pollen_is_asked_about_the_day_after_its_best(best_before, due):
    row = lot(storage="refrigerator", collected_first=before(70), best_before=before(best_before))
    assert due_in("old_pollen", row) == due


def test_pollen_of_unknown_age_is_taken_as_fresh_when_it_was_entered():
    # Bench: two to four days on a humid bench; from memory.
    assert due_in("old_pollen", lot(storage="bench", made=2)) == 3
    told = next_of("old_pollen", lot(storage="unknown", made=9)).tell(DAY)
    assert told.reason == (
        "Age not known, storage not known, entered 9 days ago; good until about Fri 10 Jul; "
        "4 days is usual (common practice)."
    )


def test_the_reason_of_old_pollen_says_how_it_was_kept():
    row = lot(storage="refrigerator", collected_first=before(80), collected_last=before(80), best_before=before(10))
    assert next_of("old_pollen", row, books=Books()).tell(DAY).reason == (
        "Kept in the refrigerator; good until about Sun 5 Jul; 70 days is usual (from memory)."
    )


def test_the_day_on_which_pollen_was_taken_is_said_once():
    taken = spike(sex="male", stage="showing", open_by=before(5), pollen_taken_on=before(2), last_look=before(2))
    reason = next_of("pollen", taken).tell(DAY).reason
    assert reason.count("taken 2 days ago") == 1 and "last look" not in reason
    assert "last look 1 day ago" in next_of("pollen", taken._replace(last_look=before(1))).tell(DAY).reason
