"""How a stock divides a label: its codes, and the room that is left for words. Pure; millimetres."""

from dataclasses import dataclass, replace
from functools import lru_cache
from math import ceil

from labels.codes import QUIET

SAFE_MODULE = 0.5
"""Millimetres: four dots at 203 dpi, the smallest that was read through every blur tried."""

LEAST_MODULE = 0.375
"""Millimetres: three dots at 203 dpi; smaller ones are lost when the print is a little soft."""

LARGE_MODULE = 0.765
"""Millimetres: six dots at 203 dpi passed every trial; beyond that, the room is better given to the words."""

CODE_SHARE = 0.4
"""Of the label's length that a code larger than needed may take."""

NARROW = 17.0
"""Millimetres: a stake narrower than this carries no code."""

EDGE = 1.5
"""Millimetres kept free of words along each edge, for printers that wander."""

WORDS_WIDE, WORDS_HIGH = 16.0, 5.0
"""Millimetres: the least room for words in which the digits can still be read at arm's length."""

TWICE = 60.0
"""Millimetres of words that must remain before a long label gets its code a second time, at the other end."""


@dataclass(frozen=True, slots=True)
class Frame:
    """How a stock divides a label.

    Attributes:
        module: mm; 0 where no code fits.
        side: mm of the code with its quiet zone.
        corners: lower left corner of each code.
        words: the box left for words: left, bottom, width, height.
    """

    module: float
    side: float
    corners: tuple[tuple[float, float], ...]
    words: tuple[float, float, float, float]


@lru_cache(maxsize=200)
def frame_of(width: float, height: float, dpi: int, size: int) -> Frame:
    """Divide a label for a symbol of ``size`` modules a side; whole dots a module, the most that leave room.

    >>> round(frame_of(54, 25, 203, 29).module, 4)
    0.5005
    """
    dot = 25.4 / dpi
    for dots in range(int(LARGE_MODULE / dot), ceil(LEAST_MODULE / dot - 0.01) - 1, -1):
        side = (size + 2 * QUIET) * dots * dot
        too_large = dots > ceil(SAFE_MODULE / dot - 0.01) and side > CODE_SHARE * width
        frame = _beside(width, height, side) or _below(width, height, side)
        if frame and not too_large and height >= NARROW:
            return replace(frame, module=dots * dot)
    return Frame(module=0, side=0, corners=(), words=(EDGE, EDGE, width - 2 * EDGE, height - 2 * EDGE))


def _beside(width: float, height: float, side: float) -> Frame | None:
    """Code at the left, words at its right; on a long label the code again at the right end."""
    inset = min(EDGE, (height - side) / 2)
    room = width - side - inset - EDGE
    if inset < 0 or room < WORDS_WIDE:
        return None
    corners = [(inset, (height - side) / 2)]
    if room + EDGE - side - inset >= TWICE:
        corners.append((width - side - inset, (height - side) / 2))
        room = width - 2 * (side + inset)
    return Frame(module=0, side=side, corners=tuple(corners), words=(side + inset, EDGE, room, height - 2 * EDGE))


def _below(width: float, height: float, side: float) -> Frame | None:
    """Code at the top in the middle, words under it: for labels nearly square."""
    high = height - side - EDGE
    if side > width or high < WORDS_HIGH or width - 2 * EDGE < WORDS_WIDE:
        return None
    corner = ((width - side) / 2, height - side)
    return Frame(module=0, side=side, corners=(corner,), words=(EDGE, EDGE, width - 2 * EDGE, high))
