"""Look at spike. 28 to 49 days to the first open flower: J. Trop. Forest Sci. 12(2):377-387, 2000, as shipped."""

import pytest

from breeding.rounds.books import Books
from breeding.rounds.expected import Expectations, Expected
from tests.breeding.rounds.rows import DAY, before, due_in, next_of, spike


def budding(age, looked=None, **facts):
    looked = age if looked is None else looked
    found = before(age)
    return spike(
        stage="growing",
        found_first=found,
        found_last=found,
        open_after=before(looked),
        last_look=before(looked),
        last_seen="growing",
        **facts,
    )


@pytest.mark.parametrize(
    ("age", "looked", "due"),
    [
        (0, 0, 10),  # never longer than ten days, however young
        (9, 9, 1),
        (10, 10, 0),
        (20, 12, -2),
        (30, 30, -20),  # found and then forgotten
    ],
)
def test_a_growing_spike_is_looked_at_every_ten_days(age, looked, due):
    assert due_in("spikes", budding(age, looked)) == due


def test_it_is_looked_at_more_often_once_it_may_open():
    gaps = {age: due_in("spikes", budding(age, 0)) for age in (0, 10, 20, 28, 35, 45)}
    assert gaps[0] == 10
    assert gaps[35] < 10
    assert list(gaps.values()) == sorted(gaps.values(), reverse=True)


def test_a_found_day_that_is_vague_counts_from_its_first_day():
    exact = budding(40, 2)
    vague = exact._replace(found_last=before(20))
    assert next_of("spikes", vague).due == next_of("spikes", exact).due
    assert next_of("spikes", vague).tell(DAY).reason.startswith("Day 20 to 40 since it was found;")


def test_a_spike_found_on_a_day_not_known_is_looked_at_within_ten_days_of_its_last_look():
    row = spike(stage="growing", last_look=before(3), last_seen="growing", open_after=before(3), made=3)
    assert 1 <= due_in("spikes", row) <= 7
    assert next_of("spikes", row).tell(DAY).reason.startswith("Found on a day not known;")


def test_a_spike_nobody_dated_is_looked_at_within_ten_days_of_being_entered():
    assert 1 <= due_in("spikes", spike(stage="growing", made=0)) <= 10


def test_an_open_spike_is_looked_at_every_week_until_it_is_over():
    row = spike(stage="open", open_after=before(9), open_by=before(5), last_look=before(5), last_seen="open")
    assert due_in("spikes", row) == 2


def test_cant_tell_is_looked_at_again_in_two_days():
    assert due_in("spikes", budding(20, 0)._replace(last_seen="cant_tell")) == 2


def test_the_reason_tells_day_window_source_and_last_look():
    assert next_of("spikes", budding(12, 9)).tell(DAY).reason == (
        "Day 12 since it was found; usual is day 28 to 49, middle 37 (shipped, a paper) until the first flower opens; "
        "last look 9 days ago: growing."
    )


def test_the_reason_of_an_open_spike_tells_when_it_is_usually_over():
    row = spike(stage="showing", open_by=before(5), last_look=before(1), last_seen="showing")
    assert next_of("spikes", row).tell(DAY).reason == (
        "Day 5 since its first flower opened; usual is day 21 to 42, middle 30 (shipped, a paper) until it is over; "
        "last look 1 day ago: fluid or pollen showing."
    )


def test_what_was_done_to_a_spike_is_no_look():
    row = spike(stage="showing", open_by=before(5), last_look=before(1), last_seen="showing")
    for done, words in (("dabbed_on", "pollinated"), ("pollen_taken_on", "pollen taken")):
        reason = next_of("spikes", row._replace(**{done: before(1)})).tell(DAY).reason
        assert reason.endswith(f"; {words} 1 day ago; last seen: fluid or pollen showing.")
        reason = next_of("spikes", row._replace(**{done: before(2)})).tell(DAY).reason
        assert reason.endswith("; last look 1 day ago: fluid or pollen showing.")


def test_a_timing_of_its_own_taxon_wins():
    slow = Expected("spike_open", 100, 200, 7, 7, 0.05, 30, "set here")
    books = Books(expectations=Expectations([(7, slow)]))
    assert due_in("spikes", budding(0, taxon_id=7), books=books) == 30
    assert due_in("spikes", budding(0, taxon_id=8), books=books) == 10


def test_a_postponed_spike_is_asked_for_no_earlier():
    assert due_in("spikes", budding(30)._replace(later_until=before(-3))) == 3
    assert due_in("spikes", budding(0)._replace(later_until=before(-3))) == 10
