"""Where everything goes on one label. Pure; millimetres from the label's lower left corner, sizes in points.

A label holds the code, the name in large type on top, the digits under it, and as many lines as there is room
for. A label to bury has the digits on top. Stakes too narrow for a code begin with the digits, larger: they are
the only way to the page.
"""

from dataclasses import dataclass, replace
from enum import Enum

from labels.codes import Matrix, grouped, matrix, tag_url
from labels.frame import EDGE, NARROW, SAFE_MODULE, WORDS_WIDE, Frame, frame_of
from labels.metrics import ASCENT, printable
from labels.metrics import width as text_width
from labels.textfit import (
    LEADING,
    LEADING_WORDS,
    LEAST,
    POINT,
    STEP,
    USUAL,
    Block,
    Fitted,
    Piece,
    Scale,
    fitted,
    least_high,
)

DIGITS_MOST = 5.0
"""Millimetres: 14 points."""

DIGITS_GAP = 1.2
"""Millimetres of white under them."""

DIGITS_UNDER = 3.6
"""Millimetres: 10 points, where the name leads."""

DIGITS_LEAST = 3.2
"""Millimetres: 9 points, where the order of the parents finds room beside smaller digits only."""

KEPT_SHARE = 0.46
"""Of the height that a leading name leaves to the lines under the digits, at most."""

ROW = LEADING * LEAST * POINT
"""Millimetres that a row takes in the smallest size."""

DIGITS_SHARE = 0.5
"""Of a narrow stake's length."""

KIND_SIZES = (7.0, 6.0)
"""Points, the first that fits."""

KIND_GAP = 1.0
"""Millimetres between the digits and what stands after them, at least."""


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
        kind_words: "Seed pot", "Section"; small, after the digits, or behind all lines: they tell it, too.
        name_parts: (words, style) with style taxon, clone or plain; spaces included.
        lines: further lines, the most useful first: what finds no room is cut from the end.
        leads: what is largest; the day is told by the first of the lines.
        order: which parent stands first; after the digits, or with the second line.
    """

    number: int
    address: str
    kind_words: str = ""
    name_parts: tuple[tuple[str, str], ...] = ()
    lines: tuple[str, ...] = ()
    leads: Leads = Leads.NUMBER
    order: str = ""

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


def _words_beside(text: LabelText, box: tuple[float, float, float, float]) -> Fitted:
    if text.leads is Leads.NUMBER or not text.name_parts:
        return _words_under_digits(text, box)
    return _digits_under_name(text, box)


def _digits_under_name(text: LabelText, box: tuple[float, float, float, float]) -> Fitted:
    """The name large, and the day with it where that leads too; then the digits and the kind, then the lines.

    The name is whole before anything but the day is told.
    """
    left, bottom, wide, high = box
    with_day = min(int(text.leads is Leads.NAME_AND_DAY), len(text.lines))
    under, untold = _under(text, wide, high)
    rest = _lines(untold)[with_day:]
    free = max(0.0, high - under * ASCENT - DIGITS_GAP)
    leading = _paragraphs(text.name_parts, text.lines[:with_day])
    kept = min(len(rest) * ROW, KEPT_SHARE * free)
    day = ROW if rest and not with_day else 0.0
    name_high = max(free - kept, min(least_high(leading, wide), free - day))
    name = fitted(leading, left, bottom + high - name_high, wide, name_high, LEADING_WORDS)
    top = bottom + high - name.used
    head = _digits(text.number, left, top, wide, min(under, top - bottom))
    after, _ = _after_digits(text, head, left + wide)
    room = max(0.0, top - head.size * POINT * ASCENT - DIGITS_GAP - bottom)
    words = fitted(_paragraphs((), rest), left, bottom, wide, room, _below_name(name))
    return Fitted(
        pieces=(head, *after, *name.pieces, *words.pieces),
        cut=name.cut + words.cut,
        replaced="".join(dict.fromkeys(name.replaced + words.replaced)),
    )


def _under(text: LabelText, wide: float, high: float) -> tuple[float, LabelText]:
    """How high the digits are under a name, and what is not told after them: smaller ones where that says the order."""
    usual = min(DIGITS_UNDER if text.lines else DIGITS_MOST, high)
    untold = _after_digits(text, _digits(text.number, 0.0, 0.0, wide, usual), wide)[1]
    if untold.order:
        small = min(DIGITS_LEAST, high)
        told = _after_digits(text, _digits(text.number, 0.0, 0.0, wide, small), wide)[1]
        return (usual, untold) if told.order else (small, told)
    return usual, untold


def _below_name(name: Fitted) -> Scale:
    """What stands under a leading name is never larger than it."""
    largest = min([USUAL.largest, *(piece.size for piece in name.pieces[:1])])
    return Scale(largest=max(LEAST, largest // STEP * STEP), comfortable=USUAL.comfortable)


def _words_under_digits(text: LabelText, box: tuple[float, float, float, float]) -> Fitted:
    """Digits on top, the kind after them if there is room, then name and lines; a name alone is large, too."""
    left, bottom, wide, high = box
    head = _digits(text.number, left, bottom + high, wide, min(DIGITS_MOST, high))
    after, untold = _after_digits(text, head, left + wide)
    room = max(0.0, high - head.size * POINT * ASCENT - DIGITS_GAP)
    scale = USUAL if text.lines else LEADING_WORDS
    rest = fitted(_paragraphs(text.name_parts, _lines(untold)), left, bottom, wide, room, scale)
    return replace(rest, pieces=(head, *after, *rest.pieces))


def _words_alone(text: LabelText, width: float, height: float) -> Fitted:
    """No code: the digits as high as the stake, and what words there is room for behind them, or below."""
    wide, high = width - 2 * EDGE, height - 2 * EDGE
    if wide * (1 - DIGITS_SHARE) < WORDS_WIDE:
        return _words_under_digits(text, (EDGE, EDGE, wide, high))
    head = _digits(text.number, EDGE, height - EDGE, wide * DIGITS_SHARE, high)
    left = EDGE + _width_mm(head) + 2 * EDGE
    rest = fitted(_paragraphs(text.name_parts, _lines(text)), left, EDGE, width - EDGE - left, high)
    return replace(rest, pieces=(head, *rest.pieces))


def _digits(number: int, left: float, top: float, wide: float, high: float) -> Piece:
    """The number in bold, as large as the room (mm) allows, its top at ``top``."""
    shown = grouped(number)
    size = min(high / POINT, wide / POINT / text_width(shown, "clone")) // STEP * STEP
    return Piece(x=left, y=top - ASCENT * size * POINT, text=shown, style="clone", size=size)


def _after_digits(text: LabelText, head: Piece, right: float) -> tuple[tuple[Piece, ...], LabelText]:
    """Kind and order of the parents at the right end of the digits' line, or one of them, and what is untold then.

    The order comes before the kind, which the lines tell, too: seed is sown, and flowers are pollinated.
    """
    both = replace(text, kind_words="", order="")
    for words, untold in ((_dotted(text.kind_words, text.order), both), (text.order, replace(text, order=""))):
        shown, lost = printable(words, "plain")
        for size in KIND_SIZES:
            x = right - text_width(shown, "plain") * size * POINT
            if shown and not lost and x >= head.x + _width_mm(head) + KIND_GAP:
                return (Piece(x=x, y=head.y, text=shown, style="plain", size=size),), untold
    return (), text


def _lines(text: LabelText) -> tuple[str, ...]:
    """The lines, with the order of the parents in the second one and the kind in the last."""
    if len(text.lines) < 2:
        return tuple(filter(None, (*text.lines, _dotted(text.order, text.kind_words))))
    day, second, *others = text.lines
    return tuple(filter(None, (day, _dotted(text.order, second), *others, text.kind_words)))


def _dotted(*parts: str) -> str:
    return " · ".join(filter(None, parts))


def _width_mm(piece: Piece) -> float:
    return text_width(piece.text, piece.style) * piece.size * POINT


def _paragraphs(name: Block, lines: tuple[str, ...]) -> tuple[Block, ...]:
    return (name, *(((line, "plain"),) for line in lines))
