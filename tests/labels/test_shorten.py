from datetime import date

import pytest
from hypothesis import given
from hypothesis import strategies as st

from labels.shorten import days_kept, parents, shortened
from nursery.days import HOW_SAID, from_form

CROSS = (
    ("(lowii", "taxon"),
    (" × ", "plain"),
    ("hamata)", "taxon"),
    (" Anvil", "clone"),
    (" × ", "plain"),
    ("alba", "taxon"),
)


def within(length: int):
    return lambda runs: len(words(runs)) <= length


def words(runs) -> str:
    return "".join(text for text, _ in runs)


def test_only_the_outermost_cross_parts_the_parents():
    assert [words(part) for part in parents(CROSS)] == ["(lowii × hamata) Anvil", "alba"]


@pytest.mark.parametrize(
    ("length", "form"),
    [
        (29, "(lowii × hamata) Anvil × alba"),
        (27, "(lowii × hamata) An… × alba"),
        (24, "(lowii × hamata)… × alba"),
        (20, "(lowii × ha…) × alba"),
        (15, "(lowii…) × alba"),
        (14, "(lowi…) × alba"),
        (9, "(…) × a…"),
    ],
)
def test_brackets_are_closed_and_the_short_parent_stays_whole(length: int, form: str):
    assert words(shortened(CROSS, within(length))) == form


def test_styles_stay_with_their_letters():
    assert shortened(CROSS, within(27))[3:] == ((" An", "clone"), ("… × ", "plain"), ("alba", "taxon"))


def test_one_parent_alone_and_no_room_at_all_are_left_to_others():
    assert shortened((("x" * 40, "taxon"),), within(9)) is None
    assert shortened(CROSS, within(4)) is None


@given(st.lists(st.text("ab()× é", min_size=1, max_size=30), min_size=2, max_size=4), st.integers(0, 60))
def test_the_form_is_never_longer_than_asked_and_keeps_a_letter_of_each(texts, length):
    formula = tuple((text, "plain") for text in " × ".join(texts))
    form = shortened(formula, within(length))
    if form is not None:
        assert len(words(form)) <= length


@pytest.mark.parametrize(
    ("line", "forms"),
    [
        ("harvested 12 Nov 2026 · MB", ["…12 Nov 2026 · MB", "…12 Nov 2026…"]),
        ("sown 3 Mar 2027", ["…3 Mar 2027"]),
        ("sown about 3 Mar 2027 · MB", ["…about 3 Mar 2027 · MB", "…about 3 Mar 2027…"]),
        (
            "sown between 1 Mar 2026 and 31 Mar 2026 · 9 seedlings",
            ["…between 1 Mar 2026 and 31 Mar 2026 · 9 seedlings", "…between 1 Mar 2026 and 31 Mar 2026…"],
        ),
        ("harvested in June 2025 · IF", ["…in June 2025 · IF", "…in June 2025…"]),
        ("section 2 · tie: red", []),
        ("in East house", []),
    ],
)
def test_a_line_that_tells_a_day_gives_up_the_rest_first(line: str, forms: list[str]):
    assert days_kept(line) == forms


@pytest.mark.parametrize("said", HOW_SAID)
def test_a_vague_day_is_kept_as_vague_however_short_its_line_gets(said: str):
    for day in (date(2026, 1, 20), date(2026, 7, 8)):
        told = from_form(said, day).words(date(1, 1, 1))
        assert days_kept(f"harvested {told} · MB") == [f"…{told} · MB", f"…{told}…"]
