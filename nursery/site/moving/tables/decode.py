"""Bytes of a file into text: its encoding is told by a mark or by its own shape, or guessed and said so."""

import codecs
from dataclasses import dataclass

from nursery.site.moving.tables.errors import TableRefused

MOST_BYTES = 2_000_000
"""Two thousand rows of a thousand letters each: more than a nursery has (our choice)."""

TOO_BIG = (
    "This file is too big to be one table: 2 MB (about two million letters) is the most. "
    "Delete columns and empty rows you do not need, or bring it in parts."
)
NOT_TEXT = (
    "This is no table of text. In your spreadsheet choose “Save as”, then CSV; or mark the cells, copy and paste."
)
_SPREADSHEETS = (b"PK\x03\x04", b"\xd0\xcf\x11\xe0", b"%PDF")
_MARKS = (
    (codecs.BOM_UTF8, "utf-8", "UTF-8"),
    (codecs.BOM_UTF16_LE, "utf-16-le", "UTF-16"),
    (codecs.BOM_UTF16_BE, "utf-16-be", "UTF-16"),
)


@dataclass(frozen=True)
class Decoded:
    """The text of a file, the name of its encoding, and whether that was only guessed."""

    text: str
    encoding: str
    guessed: bool = False


def must_not_be_too_big(size: int) -> None:
    """Raises TableRefused; asked before anything is read."""
    if size > MOST_BYTES:
        raise TableRefused(TOO_BIG)


def decoded(data: bytes) -> Decoded:
    """The text of these bytes.

    Raises:
        TableRefused: too many, a spreadsheet's own file, or no text at all.

    >>> decoded("Müller".encode("cp1252")).encoding, decoded("a;b".encode("utf-16")).text
    ('Windows-1252', 'a;b')
    """
    must_not_be_too_big(len(data))
    if data.startswith(_SPREADSHEETS):
        raise TableRefused(NOT_TEXT)
    found = _marked(data) or _by_shape(data)
    if "\x00" in found.text:
        raise TableRefused(NOT_TEXT)
    return found


def _marked(data: bytes) -> Decoded | None:
    for mark, codec, name in _MARKS:
        if data.startswith(mark):
            return _strictly(data[len(mark) :], codec, name)
    return None


def _strictly(data: bytes, codec: str, name: str) -> Decoded:
    try:
        return Decoded(data.decode(codec), name)
    except UnicodeDecodeError as error:
        raise TableRefused(f"This file says that it is {name}, but it is damaged. Save it again as CSV.") from error


def _by_shape(data: bytes) -> Decoded:
    """Without a mark: UTF-16 has a zero beside every English letter, UTF-8 proves itself, the rest is a guess."""
    for zeros, codec in ((data[1:400:2], "utf-16-le"), (data[0:400:2], "utf-16-be")):
        if zeros and zeros.count(0) > 0.6 * len(zeros) and len(data) % 2 == 0:
            return _strictly(data, codec, "UTF-16")
    try:
        return Decoded(data.decode("utf-8"), "UTF-8")
    except UnicodeDecodeError:
        pass
    try:
        return Decoded(data.decode("cp1252"), "Windows-1252", guessed=True)
    except UnicodeDecodeError as error:
        raise TableRefused(NOT_TEXT) from error
