"""The check digit at the end of every tag number, by the scheme of H. Michael Damm.

It catches every single wrong digit and every swap of two unequal neighbours.

Source: Damm, Total anti-symmetrische Quasigruppen, Dissertation, Marburg 2004 (the table of order 10).
"""

from __future__ import annotations

from collections.abc import Iterator

LONGEST_NUMBER = 15
"""Digits. Longer text is no tag number; this much fits every database's integer."""

_TABLE = (
    (0, 3, 1, 7, 5, 9, 8, 6, 4, 2),
    (7, 0, 9, 2, 1, 5, 4, 8, 6, 3),
    (4, 2, 0, 6, 8, 7, 1, 3, 5, 9),
    (1, 7, 5, 0, 9, 8, 3, 4, 2, 6),
    (6, 1, 2, 3, 0, 4, 5, 9, 7, 8),
    (3, 6, 7, 4, 2, 0, 9, 5, 8, 1),
    (5, 8, 6, 9, 7, 2, 0, 1, 3, 4),
    (8, 9, 4, 5, 3, 6, 2, 0, 1, 7),
    (9, 4, 3, 8, 6, 1, 7, 2, 0, 5),
    (2, 5, 8, 1, 4, 3, 6, 7, 9, 0),
)

_DIGITS = "0123456789"

# What people put between groups of digits: spaces (also no-break and thin), hyphens and dashes.
_BETWEEN_DIGITS = str.maketrans("", "", " \t\r\n\u00a0\u2007\u2009\u202f-\u2010\u2011\u2012\u2013\u2014\u2212")


def _is_ascii_digits(text: str) -> bool:
    # str.isdigit alone lets the digits of other scripts through, which int() would take too.
    return text.isascii() and text.isdigit()


def damm_digit(digits: str) -> int:
    """The digit to put behind ``digits``; of a whole valid number it is 0.

    Raises:
        ValueError: anything else than the digits 0 to 9, or nothing at all.

    >>> damm_digit("572")
    4
    >>> damm_digit("5724")
    0
    """
    if not _is_ascii_digits(digits):
        raise ValueError(f"A check digit needs the digits 0 to 9 only; got {digits!r}.")
    state = 0
    for digit in digits:
        state = _TABLE[state][int(digit)]
    return state


def number_is_valid(number: str | int) -> bool:
    """Whether the last digit fits the others. Leading zeros change nothing; 0 is no number of ours but fits.

    >>> number_is_valid(5724), number_is_valid("05724"), number_is_valid("5274"), number_is_valid("")
    (True, True, False, False)
    """
    text = str(number)
    return _is_ascii_digits(text) and damm_digit(text) == 0


def number_with_digit(payload: int) -> int:
    """The tag number of the ``payload``-th tag: the payload with its check digit behind it.

    Raises:
        ValueError: payload below 1.

    >>> number_with_digit(572)
    5724
    """
    if payload < 1:
        raise ValueError(f"A tag is counted from 1; got {payload}.")
    return payload * 10 + damm_digit(str(payload))


def read_number(text: str) -> int | None:
    """The number somebody typed, spaces and hyphens taken out; the check digit is not looked at.

    None when it is no number: empty, other characters, digits of other scripts, or more than 15 digits.

    >>> read_number(" 57-24 "), read_number("57 a4"), read_number("0")
    (5724, None, None)
    """
    digits = text.translate(_BETWEEN_DIGITS).lstrip("0")
    if len(digits) > LONGEST_NUMBER or not _is_ascii_digits(digits):
        return None
    return int(digits)


def one_slip_away(number: int) -> list[int]:
    """Every tag number that becomes this one by a slip of the finger, in order, without the number itself.

    A slip is one digit that is wrong, missing or too many, or two neighbours swapped.

    >>> 5724 in one_slip_away(5274), 5724 in one_slip_away(574), 5724 in one_slip_away(57244), 5724 in one_slip_away(9)
    (True, True, True, False)
    """
    text = str(number)
    found = {int(slip) for slip in _slips(text) if slip and len(slip) <= LONGEST_NUMBER and number_is_valid(slip)}
    return sorted(found - {0, number})


def _slips(text: str) -> Iterator[str]:
    for at in range(len(text) + 1):
        before, after = text[:at], text[at:]
        yield from (before + digit + after for digit in _DIGITS)
        if after:
            yield from (before + digit + after[1:] for digit in _DIGITS)
            yield before + after[1:]
            yield before + after[1:2] + after[0] + after[2:]
