"""How long pollen keeps. All days are from memory; adding up shares of a life is our own approximation, no source."""

from datetime import date, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from breeding.science.pollen import STORAGES, best_before, keeping

COLLECTED = date(2026, 3, 1)
NAMES = [row.storage for row in STORAGES]
MOVES = st.lists(st.tuples(st.dates(date(2026, 2, 1), date(2027, 6, 1)), st.sampled_from(NAMES)), max_size=6)


@pytest.mark.parametrize(
    ("storage", "days"),
    [
        ("bench", 4),  # from memory: 2-4 days on a humid bench
        ("dry_bench", 7),  # from memory: a week
        ("refrigerator", 70),  # from memory: 6-10 weeks reliably
        ("freezer", 365),  # from memory: a year, dried
        ("unknown", 4),  # taken as the shortest; common practice, no source
    ],
)
def test_it_works(storage, days):
    assert best_before(COLLECTED, storage) == COLLECTED + timedelta(days=days)


@pytest.mark.parametrize(
    ("storage", "changes", "expected"),
    [
        # Two of four days used: half of 70 days are left.
        ("bench", [(date(2026, 3, 3), "refrigerator")], date(2026, 3, 3) + timedelta(days=35)),
        # 35 of 70 days used, then frozen: half of 365 days, whole days only.
        ("refrigerator", [(date(2026, 4, 5), "freezer")], date(2026, 4, 5) + timedelta(days=182)),
        # Out of the freezer after 73 days, a fifth of its year: four fifths of a week, whole days only.
        ("freezer", [(date(2026, 5, 13), "dry_bench")], date(2026, 5, 18)),
        # Three stays: 1/4 and 1/7 used.
        (
            "bench",
            [(date(2026, 3, 2), "dry_bench"), (date(2026, 3, 3), "refrigerator")],
            date(2026, 3, 3) + timedelta(days=42),
        ),
        # Used up before it was moved: the refrigerator brings nothing back.
        ("bench", [(date(2026, 3, 9), "refrigerator")], date(2026, 3, 5)),
        ("bench", [(date(2026, 3, 5), "refrigerator")], date(2026, 3, 5)),
        # Moved on the day of collection, or earlier by a vague date: the first storage used nothing.
        ("bench", [(COLLECTED, "refrigerator")], COLLECTED + timedelta(days=70)),
        ("bench", [(date(2026, 2, 20), "refrigerator")], COLLECTED + timedelta(days=70)),
    ],
)
def test_each_storage_uses_its_share_of_the_life(storage, changes, expected):
    assert best_before(COLLECTED, storage, changes) == expected


def test_every_day_in_turn_adds_up_without_losing_one():
    # Seven moves of a seventh each: rounding must not take a day away.
    moves = [(COLLECTED + timedelta(days=n), "dry_bench") for n in range(1, 7)]
    assert best_before(COLLECTED, "dry_bench", moves) == COLLECTED + timedelta(days=7)


def test_a_leap_day_counts_as_a_day():
    assert best_before(date(2028, 2, 27), "bench") == date(2028, 3, 2)


@pytest.mark.parametrize("ask", [keeping, lambda name: best_before(COLLECTED, "bench", [(COLLECTED, name)])])
def test_an_unknown_storage_is_refused(ask):
    with pytest.raises(ValueError) as refusal:
        ask("cellar")
    assert str(refusal.value) == (
        "Pollen is stored in one of bench, dry_bench, refrigerator, freezer, unknown; got “cellar”."
    )


def test_every_row_says_where_it_comes_from():
    marks = {"M": "from memory", "C": "common practice, no source"}
    assert [row.storage for row in STORAGES if marks[row.strength] not in row.source] == []


@given(st.sampled_from(NAMES), MOVES)
def test_pollen_keeps_at_least_as_in_the_worst_and_at_most_as_in_the_best_storage(storage, moves):
    days = [keeping(name).days for name in (storage, *(name for _, name in moves))]
    kept = (best_before(COLLECTED, storage, moves) - COLLECTED).days
    assert min(days) <= kept <= max(days)


@given(st.sampled_from(NAMES), MOVES, st.integers(1, 300))
def test_moves_after_the_end_change_nothing(storage, moves, later):
    end = best_before(COLLECTED, storage, moves)
    before = [(day, name) for day, name in moves if day <= end]
    after = end + timedelta(days=1 + later)
    assert best_before(COLLECTED, storage, [*before, (after, "freezer")]) == end
