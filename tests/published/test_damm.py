"""Damm check digits against python-stdnum 2.2 and printed worked examples (sources in damm.json)."""

import json
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st
from stdnum import damm as oracle

from nursery.damm import damm_digit, number_is_valid, number_with_digit, one_slip_away

DATA = json.loads(Path(__file__).with_name("damm.json").read_text(encoding="utf-8"))
PAYLOADS = st.integers(min_value=1, max_value=10**12)


@pytest.mark.parametrize("row", DATA["published"], ids=lambda row: row["number"])
def test_worked_examples_in_print(row):
    # Source: Damm 2004, Rosetta Code "Damm algorithm", as named in each row.
    assert damm_digit(row["number"]) == int(row["digit"])


@pytest.mark.parametrize("row", DATA["numbers"], ids=lambda row: row["number"])
def test_digits_that_the_library_gave(row):
    # Source: python-stdnum 2.2, stdnum.damm.calc_check_digit.
    assert damm_digit(row["number"]) == int(row["damm"])
    assert number_is_valid(row["number"] + row["damm"])


@pytest.mark.parametrize("right", DATA["must_detect"])
def test_every_listed_slip_is_refused(right):
    # Source: python-stdnum 2.2, stdnum.damm.is_valid, all single digits and neighbour swaps of four numbers.
    accepted = [wrong for wrong in DATA["must_detect"][right] if number_is_valid(wrong)]
    assert number_is_valid(right)
    assert accepted == []


@pytest.mark.parametrize("row", DATA["leading_zeros"], ids=lambda row: row["typed"])
def test_leading_zeros_are_harmless(row):
    # Follows from table[0][0] = 0 in the definition.
    assert number_is_valid(row["typed"]) is row["valid"]


@given(PAYLOADS)
def test_the_library_agrees_on_any_number(payload):
    number = number_with_digit(payload)
    assert str(number) == f"{payload}{oracle.calc_check_digit(str(payload))}"
    assert oracle.is_valid(str(number))
    assert number_is_valid(number)


@given(st.text(alphabet="0123456789", min_size=1, max_size=12))
def test_the_library_agrees_on_any_digits(digits):
    assert number_is_valid(digits) == oracle.is_valid(digits)


@given(PAYLOADS, st.data())
def test_one_wrong_digit_is_always_refused(payload, data):
    # Source: Damm 2004, the property that the table was made for.
    right = str(number_with_digit(payload))
    place = data.draw(st.integers(0, len(right) - 1))
    digit = data.draw(st.sampled_from([digit for digit in "0123456789" if digit != right[place]]))
    assert not number_is_valid(right[:place] + digit + right[place + 1 :])


@given(PAYLOADS)
def test_every_swap_of_unequal_neighbours_is_refused(payload):
    # Source: Damm 2004, as above.
    right = str(number_with_digit(payload))
    swaps = [
        right[:i] + right[i + 1] + right[i] + right[i + 2 :] for i in range(len(right) - 1) if right[i] != right[i + 1]
    ]
    assert [swap for swap in swaps if number_is_valid(swap)] == []


@pytest.mark.parametrize("right", DATA["must_detect"])
def test_from_every_listed_slip_the_right_number_is_found_again(right):
    # Source: as above; a slip whose first digit is 0 has lost it when it is read, which is a missing digit.
    lost = [wrong for wrong in DATA["must_detect"][right] if int(right) not in one_slip_away(int(wrong))]
    assert all(wrong.startswith("00") for wrong in lost), lost
    assert all(oracle.is_valid(str(near)) for near in one_slip_away(int(right)))


def test_the_vectors_hold_every_single_digit_and_every_swap():
    for right, wrong in DATA["must_detect"].items():
        digits = {right[:at] + digit + right[at + 1 :] for at in range(len(right)) for digit in "0123456789"}
        swaps = {right[:at] + right[at + 1] + right[at] + right[at + 2 :] for at in range(len(right) - 1)}
        assert (digits | swaps) - {right} == set(wrong)
