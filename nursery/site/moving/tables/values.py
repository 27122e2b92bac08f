"""Numbers, yes and no, and choices as people write them."""

import re
from collections.abc import Iterable

from nursery.site.moving.tables.errors import CellWrong, quoted

_NUMBER = re.compile(
    r"(?:about|approx\.?|around|circa|ca?\.?|~)?\s*(\d{1,3}(?:[ ,']\d{3})+|\d+)(?:\.0+)?", re.IGNORECASE
)
_NOT_TOLD = frozenset({"", "?", "-", "–", "unknown", "not known", "n/a", "not said"})
_YES = frozenset({"yes", "y", "true", "1", "x", "✓", "✔"})
_NO = frozenset({"no", "n", "false", "0"})

Option = tuple[str, ...]
"""A code, how it is said on the screen, and other ways in which people say it."""


def is_told(text: str) -> bool:
    return text.strip().lower() not in _NOT_TOLD


def whole_number(text: str) -> int | None:
    """A count; None where none is told.

    Raises:
        CellWrong: no whole number.

    >>> whole_number("about 1,200"), whole_number("12.0"), whole_number("?")
    (1200, 12, None)
    """
    if not is_told(text):
        return None
    found = _NUMBER.fullmatch(text.strip())
    digits = re.sub(r"\D", "", found[1]) if found else ""
    if not digits or len(digits) > 12:
        raise CellWrong(f"{quoted(text)} is no whole number. Write digits only.")
    return int(digits)


def yes_no(text: str) -> bool | None:
    """True, False, or None where it is not told.

    Raises:
        CellWrong: neither yes nor no.
    """
    said = text.strip().lower()
    if said in _YES | _NO:
        return said in _YES
    if not is_told(text):
        return None
    raise CellWrong(f"{quoted(text)} is neither yes nor no. Write yes or no, or leave it empty.")


def choice(text: str, options: Iterable[Option]) -> str:
    """The code of what is meant; empty where nothing is told.

    Raises:
        CellWrong: none of them; the sentence lists them.
    """
    said = _bare(text)
    options = list(options)
    for option in options:
        if said and said in map(_bare, option):
            return option[0]
    if not is_told(text):
        return ""
    listed = "; ".join(option[1] for option in options)
    raise CellWrong(f"{quoted(text)} is not one of these: {listed}. Write one of them, or leave it empty.")


def _bare(text: str) -> str:
    return " ".join(re.sub(r"[^\w]+", " ", text.lower().replace("’", "'").replace("'", "")).split())
