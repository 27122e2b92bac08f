"""Files in the encodings that spreadsheets write, and what is no table at all."""

import pytest

from nursery.site.moving.tables.decode import MOST_BYTES, NOT_TEXT, TOO_BIG, decoded
from nursery.site.moving.tables.errors import TableRefused

TEXT = "Species;From whom\nlowii;Jürgen – “the hills”\n"


@pytest.mark.parametrize(
    ("codec", "name", "guessed"),
    [
        ("utf-8", "UTF-8", False),
        ("utf-8-sig", "UTF-8", False),
        ("utf-16", "UTF-16", False),
        ("utf-16-le", "UTF-16", False),
        ("utf-16-be", "UTF-16", False),
        ("cp1252", "Windows-1252", True),
    ],
)
def test_each_encoding_is_read_and_named(codec: str, name: str, guessed: bool) -> None:
    found = decoded(TEXT.encode(codec))
    assert (found.text, found.encoding, found.guessed) == (TEXT, name, guessed)


@pytest.mark.parametrize("text", ["नर्सरी,猪笼草\nlowii,🌱\n", "a,b\n"])
def test_other_scripts_and_emoji_are_kept(text: str) -> None:
    assert decoded(text.encode()).text == text


@pytest.mark.parametrize(
    "data", [b"PK\x03\x04rest", b"\xd0\xcf\x11\xe0rest", b"%PDF-1.7", b"a,b\x00c", b"\x81\x8d\x8f\x90\x9d" * 9]
)
def test_what_is_no_text_is_refused_with_what_to_do(data: bytes) -> None:
    with pytest.raises(TableRefused) as refusal:
        decoded(data)
    assert str(refusal.value) == NOT_TEXT


def test_a_file_that_lies_about_its_encoding_is_refused() -> None:
    with pytest.raises(TableRefused) as refusal:
        decoded(b"\xef\xbb\xbfM\xfcller")
    assert str(refusal.value) == "This file says that it is UTF-8, but it is damaged. Save it again as CSV."


def test_too_much_is_refused_before_it_is_read() -> None:
    with pytest.raises(TableRefused) as refusal:
        decoded(b"x" * (MOST_BYTES + 1))
    assert str(refusal.value) == TOO_BIG
