"""Sow. Fresh seed is best: common practice, no source. How often a rest is asked about is our choice."""

import pytest

from tests.breeding.rounds.rows import DAY, before, due_in, next_of, seed


@pytest.mark.parametrize(
    ("row", "due"),
    [
        (seed(storage="room", ripe_last=before(2), made=2), -2),
        (seed(storage="room", ripe_last=before(40), made=1), -1),  # told late: due from the day it was told
        (seed(storage="unknown", made=0), 0),  # by post, ripe nobody knows when
        (seed(storage="refrigerator", ripe_last=before(10), made=10), 80),
        (seed(storage="room", stage="part_sown", ripe_last=before(50), last_look=before(8)), 20),
        (seed(storage="refrigerator", stage="part_sown", ripe_last=before(50), last_look=before(8)), 82),
        (seed(storage="room", stage="cleaned", ripe_last=before(5), last_look=before(1), made=5), -5),
    ],
)
def test_seed_is_sown_at_once_and_a_rest_is_asked_about(row, due):
    assert due_in("sow", row) == due


def test_the_reason_says_how_old_it_is_and_that_it_is_not_clean():
    row = seed(storage="room", ripe_first=before(2), ripe_last=before(2), made=2)
    assert next_of("sow", row).tell(DAY).reason == (
        "Day 2 since it was cut; at room temperature; not cleaned yet; fresh seed comes up best "
        "(common practice, no source)."
    )
    assert next_of("sow", seed()).tell(DAY).reason.startswith("Day of ripeness not known; storage not known;")
