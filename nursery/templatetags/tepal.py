"""Filters for what every page shows: the number of a thing, initials, and the parts of a name."""

from collections.abc import Iterable, Iterator
from typing import Any

from django import template

register = template.Library()

MULTIPLICATION_SIGN = "×"
NO_BREAK_SPACE = "\u00a0"


@register.filter
def plate(number: object) -> str:
    """The number of a thing in groups of three from the left, as on its tag.

    >>> plate(208746), plate("2087461"), plate(None)
    ('208 746', '208 746 1', '')
    """
    digits = "" if number is None else str(number)
    return " ".join(digits[start : start + 3] for start in range(0, len(digits), 3))


@register.filter
def initials(name: object) -> str:
    """Up to three capitals to sign with: the first letter of each word.

    >>> initials("Moss Keeper"), initials("ada"), initials(None)
    ('MK', 'A', '')
    """
    words = "" if name is None else str(name)
    return "".join(word[0] for word in words.split()[:3]).upper()


def _gap(before: str, after: str) -> str:
    """What stands between two parts of a name: nothing inside brackets, and a sign stays with what it multiplies by."""
    if before.endswith("(") or after.startswith((")", ",")):
        return ""
    return NO_BREAK_SPACE if before == MULTIPLICATION_SIGN else " "


@register.filter
def spaced(parts: Iterable[Any] | None) -> Iterator[tuple[str, Any]]:
    """Each part of a name with the gap that goes before it, so that a template need not know about brackets."""
    before = None
    for part in parts or ():
        text = str(part.text).strip()
        yield ("" if before is None else _gap(before, text)), part
        before = text
