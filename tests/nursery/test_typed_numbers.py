"""What people type for a tag number, and what is no number at all."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from nursery.damm import damm_digit, number_is_valid, number_with_digit, read_number


@pytest.mark.parametrize(
    ("typed", "number"),
    [
        ("5724", 5724),
        ("  5724\n", 5724),
        ("57 24", 5724),
        ("57-24", 5724),
        ("57\u00a024", 5724),
        ("57\u201324", 5724),
        ("0005724", 5724),
        ("5725", 5725),
        ("9" * 15, 10**15 - 1),
        ("", None),
        (" - ", None),
        ("0", None),
        ("000", None),
        ("12a4", None),
        ("5.724", None),
        ("+5724", None),
        ("٥٧٢٤", None),
        ("５７２４", None),
        ("²", None),
        ("9" * 16, None),
        ("/t/5724", None),
        ("🪴", None),
    ],
)
def test_typed_text_is_read_as_a_number_or_not_at_all(typed, number):
    assert read_number(typed) == number


@pytest.mark.parametrize("text", ["", "12a4", " 5724", "5724\n", "٥٧٢٤", "-5724", "²"])
def test_only_the_digits_0_to_9_are_checked(text):
    assert number_is_valid(text) is False
    with pytest.raises(ValueError, match="A check digit needs the digits 0 to 9 only; got "):
        damm_digit(text)


@pytest.mark.parametrize("number", [-5724, 5725, True])
def test_wrong_whole_numbers_are_not_valid(number):
    assert number_is_valid(number) is False


@pytest.mark.parametrize("payload", [0, -1])
def test_tags_are_counted_from_one(payload):
    with pytest.raises(ValueError, match=f"A tag is counted from 1; got {payload}."):
        number_with_digit(payload)


@given(st.text(max_size=30))
def test_any_text_is_a_number_above_zero_or_none(text):
    number = read_number(text)
    assert number is None or 0 < number < 10**15


@given(st.integers(1, 10**14 - 1), st.sampled_from([" ", "-", "\u00a0", " - "]))
def test_a_number_in_groups_reads_as_itself(payload, between):
    number = number_with_digit(payload)
    assert read_number(between.join(str(number))) == number
