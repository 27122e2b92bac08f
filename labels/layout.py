"""Where everything goes on one label. Pure; millimetres from the label's lower left corner, sizes in points.

A label holds the code, the digits beside it in large type, the name, and as many lines as there is room
for. Where the name is looked for first (a section, a packet, a pot) it is large and on top, and the digits
stand under it. Stakes too narrow for a code carry the digits alone, larger: they are the only way to the page.
"""

from dataclasses import dataclass, replace
from enum import Enum
from functools import lru_cache
from math import ceil

from labels.codes import QUIET, Matrix, grouped, matrix, tag_url
from labels.metrics import ASCENT, printable
from labels.metrics import width as text_width
from labels.textfit import LEADING, LEADING_WORDS, LEAST, POINT, STEP, USUAL, Block, Fitted, Piece, Scale, fitted

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

DIGITS_MOST = 5.0
"""Millimetres: 14 points."""

DIGITS_GAP = 1.2
"""Millimetres of white under them."""

DIGITS_UNDER = 3.6
"""Millimetres: 10 points, where the name leads."""

KEPT_SHARE = 0.42
"""Of the height that a leading name leaves to the lines under the digits, at most."""

DIGITS_SHARE = 0.5
"""Of a narrow stake's length."""

KIND_SIZE = 7.0
"""Points."""

TWICE = 60.0
"""Millimetres of words that must remain before a long label gets its code a second time, at the other end."""


class Leads(Enum):
    """What is read at arm's length first."""

    NUMBER = "number"
    NAME = "name"
    NAME_AND_DAY = "name and day"


@dataclass(frozen=True, slots=True)
class LabelText:
    """What one label says.

    Attributes:
        number: the tag's number, check digit last.
        address: the nursery's public address, which the code opens.
        kind_words: "Seed pot", "Section"; small, after the digits.
        name_parts: (words, style) with style taxon, clone or plain; spaces included.
        lines: further lines, the most useful first: what finds no room is cut from the end.
        leads: what is largest; the day is told by the first of the lines.
    """

    number: int
    address: str
    kind_words: str = ""
    name_parts: tuple[tuple[str, str], ...] = ()
    lines: tuple[str, ...] = ()
    leads: Leads = Leads.NUMBER

    @property
    def is_formula(self) -> bool:
        """Whether the name shows a cross, so that the order of the parents needs a word."""
        return " × " in "".join(words for words, _ in self.name_parts)


@dataclass(frozen=True, slots=True)
class CodeBox:
    """A code with its quiet zone: lower left corner, side and module, in mm."""

    x: float
    y: float
    side: float
    module: float
    matrix: Matrix


@dataclass(frozen=True, slots=True)
class Placed:
    """One label, ready to draw.

    Attributes:
        pieces: words with place, style and size.
        codes: none on a narrow stake, two on a long tag.
        turned: drawn a quarter turn to the left, because the label is higher than wide.
        cut: what did not fit, as it was wanted; empty when the label says everything.
        replaced: characters that the face lacks, each once.
    """

    pieces: tuple[Piece, ...]
    codes: tuple[CodeBox, ...] = ()
    turned: bool = False
    cut: tuple[str, ...] = ()
    replaced: str = ""


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


def placed(
    text: LabelText, *, width: float, height: float, dpi: int, free: float = 0, free_last: bool = False
) -> Placed:
    """The layout of one label of the given size.

    The code and the digits are never cut; for the other words see ``fitted``.

    Args:
        free: mm left white at one end of the longer side; a turned label begins at its foot.
        free_last: whether that is the right end, or the foot of a turned label; else the left end, or its head.

    Raises:
        AddressUnfit: the public address cannot stand in a code.
    """
    turned = height > width
    if turned:
        width, height = height, width
    label = _upright(text, width - free, height, dpi)
    return _moved(label, free if free_last == turned else 0.0, turned)


def _moved(label: Placed, right: float, turned: bool) -> Placed:
    """The label with everything so far to the right, in mm."""
    if not right:
        return replace(label, turned=turned)
    pieces = tuple(replace(piece, x=piece.x + right) for piece in label.pieces)
    return replace(
        label, pieces=pieces, codes=tuple(replace(code, x=code.x + right) for code in label.codes), turned=turned
    )


def _upright(text: LabelText, width: float, height: float, dpi: int) -> Placed:
    """The layout on what may be printed on."""
    symbol, frame = _symbol(tag_url(text.address, text.number), width, height, dpi)
    words = _words_beside(text, frame.words) if frame.corners else _words_alone(text, width, height)
    codes = tuple(CodeBox(x=x, y=y, side=frame.side, module=frame.module, matrix=symbol) for x, y in frame.corners)
    return Placed(pieces=words.pieces, codes=codes, cut=words.cut, replaced=words.replaced)


def _symbol(url: str, width: float, height: float, dpi: int) -> tuple[Matrix, Frame]:
    """The usual symbol; where it would get less than the safe module, the smallest one if that gets more."""
    symbol = matrix(url)
    frame = frame_of(width, height, dpi, symbol.size)
    if frame.module >= SAFE_MODULE or min(width, height) < NARROW:
        return symbol, frame
    small = matrix(url, version=1)
    small_frame = frame_of(width, height, dpi, small.size)
    return (small, small_frame) if small_frame.module > frame.module else (symbol, frame)


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


def _words_beside(text: LabelText, box: tuple[float, float, float, float]) -> Fitted:
    if text.leads is Leads.NUMBER or not text.name_parts:
        return _words_under_digits(text, box)
    return _digits_under_name(text, box)


def _digits_under_name(text: LabelText, box: tuple[float, float, float, float]) -> Fitted:
    """The name large, and the day with it where that leads too; then the digits and the kind, then the lines."""
    left, bottom, wide, high = box
    with_day = int(text.leads is Leads.NAME_AND_DAY)
    under = min(DIGITS_UNDER, high)
    kind_fits = _kind_after(text.kind_words, _digits(text.number, left, 0.0, wide, under), left + wide)
    alone = (text.kind_words,) if kind_fits is None and text.kind_words else ()
    rest = (*text.lines[with_day:1], *alone, *text.lines[max(1, with_day) :])
    free = max(0.0, high - under * ASCENT - DIGITS_GAP)
    name_high = free - min(len(rest) * LEADING * LEAST * POINT, KEPT_SHARE * free)
    leading = _paragraphs(text.name_parts, text.lines[:with_day])
    name = fitted(leading, left, bottom + high - name_high, wide, name_high, LEADING_WORDS)
    top = bottom + high - name.used
    head = _digits(text.number, left, top, wide, min(under, top - bottom))
    kind = _kind_after(text.kind_words, head, left + wide)
    room = max(0.0, top - head.size * POINT * ASCENT - DIGITS_GAP - bottom)
    words = fitted(_paragraphs((), rest), left, bottom, wide, room, _below_name(name))
    return Fitted(
        pieces=(head, *([kind] if kind else []), *name.pieces, *words.pieces),
        cut=name.cut + words.cut,
        replaced="".join(dict.fromkeys(name.replaced + words.replaced)),
    )


def _below_name(name: Fitted) -> Scale:
    """What stands under a leading name is never larger than it."""
    largest = min([USUAL.largest, *(piece.size for piece in name.pieces[:1])])
    return Scale(largest=max(LEAST, largest // STEP * STEP), comfortable=USUAL.comfortable)


def _words_under_digits(text: LabelText, box: tuple[float, float, float, float]) -> Fitted:
    """Digits on top, the kind after them if there is room, then name and lines."""
    left, bottom, wide, high = box
    head = _digits(text.number, left, bottom + high, wide, min(DIGITS_MOST, high))
    kind = _kind_after(text.kind_words, head, left + wide)
    blocks = _blocks(text, with_kind=kind is None)
    used = head.size * POINT * ASCENT + DIGITS_GAP
    rest = fitted(blocks, left, bottom, wide, max(0.0, high - used))
    return replace(rest, pieces=(head, *([kind] if kind else []), *rest.pieces))


def _words_alone(text: LabelText, width: float, height: float) -> Fitted:
    """No code: the digits as high as the stake, and what words there is room for behind them, or below."""
    wide, high = width - 2 * EDGE, height - 2 * EDGE
    if wide * (1 - DIGITS_SHARE) < WORDS_WIDE:
        return _words_under_digits(text, (EDGE, EDGE, wide, high))
    head = _digits(text.number, EDGE, height - EDGE, wide * DIGITS_SHARE, high)
    left = EDGE + _width_mm(head) + 2 * EDGE
    rest = fitted(_blocks(text, with_kind=True), left, EDGE, width - EDGE - left, high)
    return replace(rest, pieces=(head, *rest.pieces))


def _digits(number: int, left: float, top: float, wide: float, high: float) -> Piece:
    """The number in bold, as large as the room (mm) allows, its top at ``top``."""
    shown = grouped(number)
    size = min(high / POINT, wide / POINT / text_width(shown, "clone")) // STEP * STEP
    return Piece(x=left, y=top - ASCENT * size * POINT, text=shown, style="clone", size=size)


def _kind_after(words: str, head: Piece, right: float) -> Piece | None:
    """The kind at the right end of the digits' line, or None when there is no room for it (or no kind)."""
    shown, lost = printable(words, "plain")
    x = right - text_width(shown, "plain") * KIND_SIZE * POINT
    if not shown or lost or x < head.x + _width_mm(head) + EDGE:
        return None
    return Piece(x=x, y=head.y, text=shown, style="plain", size=KIND_SIZE)


def _width_mm(piece: Piece) -> float:
    return text_width(piece.text, piece.style) * piece.size * POINT


def _blocks(text: LabelText, *, with_kind: bool) -> tuple[Block, ...]:
    kind = (text.kind_words,) if with_kind and text.kind_words else ()
    return _paragraphs(text.name_parts, (*kind, *text.lines))


def _paragraphs(name: Block, lines: tuple[str, ...]) -> tuple[Block, ...]:
    return (name, *(((line, "plain"),) for line in lines))
