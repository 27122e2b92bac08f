"""What a card says in numbers, by hand."""

from datetime import date
from types import SimpleNamespace

import pytest

from breeding.words.facts import Fact, pot, section, spike


@pytest.mark.parametrize(("cut", "value"), [(date(2026, 6, 19), "110"), (None, "not known")])
def test_days_to_harvest_stand_still_and_are_not_known_where_the_day_is_not(cut: date | None, value: str) -> None:
    dabbed = date(2026, 3, 1)
    row = SimpleNamespace(
        stage="harvested",
        closed_first=cut,
        closed_on=cut or date(2026, 11, 30),
        day0_first=dabbed,
        day0_last=dabbed,
        take="half",
        flowers=20,
    )
    assert section(row, date(2026, 12, 1))[0] == Fact(value, "days to harvest")


def test_what_was_done_to_a_spike_is_not_said_to_be_seen_that_day() -> None:
    found, today = date(2026, 3, 1), date(2026, 3, 20)
    row = SimpleNamespace(found_first=found, found_last=found, sex="female", sex_from="flowers", last_seen="showing")
    row.last_look, row.pollen_taken_on = today, None
    assert spike(row, today)[2] == Fact("fluid showing", "seen today")
    assert spike(row, today, dabbed_on=date(2026, 3, 19))[2] == Fact("fluid showing", "seen today")
    assert spike(row, today, dabbed_on=today)[2] == Fact("fluid showing", "pollinated today")
    row.pollen_taken_on = today
    assert spike(row, today)[2] == Fact("fluid showing", "pollen taken today")


@pytest.mark.parametrize(
    ("split_from", "last_look", "said"),
    [
        (7, date(2026, 11, 23), "when it was split off"),
        (None, date(2026, 11, 23), "when it was split"),
        (7, None, "when it was split off"),
        (7, date(2026, 11, 26), "seen yesterday"),
    ],
)
def test_what_was_told_with_a_split_of_a_vague_day_was_not_seen_on_its_last_day(
    split_from: int | None, last_look: date | None, said: str
) -> None:
    row = SimpleNamespace(
        sown_first=date(2026, 6, 1),
        sown_last=date(2026, 6, 1),
        first_after=None,
        first_by=None,
        amount="",
        counted=3,
        stage="up",
        split_from_id=split_from,
        split_first=date(2026, 11, 17),
        split_last=date(2026, 11, 23),
        last_look=last_look,
        closed_why="",
    )
    assert pot(row, date(2026, 11, 27))[2] == Fact("3", said)
