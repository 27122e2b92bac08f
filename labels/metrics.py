"""Faces, widths and what the faces can show. Pure, apart from reading the font files once."""

import unicodedata
from functools import cache, lru_cache
from pathlib import Path

from reportlab.pdfbase.ttfonts import TTFont

FONTS = Path(__file__).parent / "fonts"

FACES = {
    "plain": "DejaVuSansCondensed",
    "clone": "DejaVuSansCondensed-Bold",
    "taxon": "DejaVuSansCondensed-Oblique",
}
"""Style of a word: taxa in italics, the nursery's own designations upright and bold."""

ASCENT, DESCENT = 0.76, 0.24
"""Above and below the base line, per point of size; the same in the three faces."""

STAND_IN = "□"
"""Printed where a face has no sign for a character."""

SPACING = dict.fromkeys(map(ord, "\t\n\r\v\f\u00a0\u2028\u2029\u202f"), " ")
HIDDEN = {"Cc", "Cf", "Cs", "Co", "Cn"}
"""Unicode categories that leave no mark on paper, or none that means anything."""

RIGHT_TO_LEFT = {"R", "AL", "AN"}
"""Letters that would need turning and joining, which this drawing does not do: better a box than a wrong word."""


@cache
def font(style: str) -> TTFont:
    """The face of a style, read from its file once per process."""
    name = FACES[style]
    return TTFont(name, str(FONTS / f"{name}.ttf"))


@cache
def _advances(style: str) -> dict[str, float]:
    """How far each sign of a face moves the pen, at size 1."""
    widths = font(style).face.charWidths
    return {chr(code): advance / 1000 for code, advance in widths.items()}


@lru_cache(maxsize=1_000)
def width(text: str, style: str) -> float:
    """Width of a line at size 1, in the unit of the size; the text has passed ``printable``.

    >>> round(width("×", "plain"), 3)
    0.754
    """
    advances = _advances(style)
    return sum([advances[sign] for sign in text])


def printable(text: str, style: str) -> tuple[str, str]:
    """The text as the face can print it, and the characters that had to be replaced.

    White space of every kind becomes single spaces, invisible characters go, and a character
    that the face lacks (or that reads from the right) becomes a box: seen on the label, and
    reported so that the page can say it before the sheet is wasted.

    >>> printable("Kettle\\n 茶 ×", "plain")
    ('Kettle □ ×', '茶')
    """
    return _printable(text, style)


@lru_cache(maxsize=1_000)
def _printable(text: str, style: str) -> tuple[str, str]:
    if text.isascii() and text.isprintable() and "  " not in text:
        return text, ""
    shown, lost = [], []
    for sign in unicodedata.normalize("NFC", text).translate(SPACING):
        if _has(sign, style):
            shown.append(sign)
        elif unicodedata.category(sign) not in HIDDEN and not unicodedata.combining(sign) and sign != "\ufe0f":
            shown.append(STAND_IN)
            lost.append(sign)
    return _single_spaces("".join(shown)), "".join(lost)


def _has(sign: str, style: str) -> bool:
    if unicodedata.category(sign) in HIDDEN or unicodedata.bidirectional(sign) in RIGHT_TO_LEFT:
        return False
    return ord(sign) in font(style).face.charToGlyph


def _single_spaces(text: str) -> str:
    """One space where there were several; a space at an end stays, for it may part two words of a name."""
    while "  " in text:
        text = text.replace("  ", " ")
    return text
