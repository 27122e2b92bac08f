"""Words into a box: shrink, wrap, shrink again, cut. Pure; boxes in millimetres, sizes in points."""

from bisect import bisect_left
from collections.abc import Callable
from dataclasses import dataclass
from functools import lru_cache

from labels.metrics import ASCENT, printable, width
from labels.shorten import ELLIPSIS, days_kept, shortened

POINT = 25.4 / 72
LEAST = 6.0
"""Points. Six points of this face have small letters 1.1 mm high: the least for reading without glasses off."""

STEP = 0.5
LEADING = 1.18
RESERVED = 2
"""Rows that a long paragraph leaves to those after it: a tag wants its date as well as its whole name."""


@dataclass(frozen=True, slots=True)
class Scale:
    """Sizes in points: the largest to be tried, and from which on a line is rather kept whole than wrapped."""

    largest: float
    comfortable: float

    @property
    def sizes(self) -> list[float]:
        return [self.largest - STEP * index for index in range(int((self.largest - LEAST) / STEP) + 1)]


USUAL = Scale(largest=10.0, comfortable=8.0)

LEADING_WORDS = Scale(largest=20.0, comfortable=14.0)
"""For what is read at arm's length before anything else: 14 points are as high as the digits of other tags."""

Run = tuple[str, str]
"""Words and their style."""

Block = tuple[Run, ...]
"""Runs that belong to one paragraph; spaces between words are part of the runs."""

Row = tuple[Run, ...]


@dataclass(frozen=True, slots=True)
class Piece:
    """Words on a base line: left end, height of the line, style, size.

    ``goes_on`` tells that it stands right behind the piece before it.
    """

    x: float
    y: float
    text: str
    style: str
    size: float
    goes_on: bool = False


@dataclass(frozen=True, slots=True)
class Fitted:
    """Words set into a box, what had to be cut, which characters the face could not show, and how high it all is."""

    pieces: tuple[Piece, ...]
    cut: tuple[str, ...] = ()
    replaced: str = ""
    used: float = 0.0


@lru_cache(maxsize=500)
def fitted(
    blocks: tuple[Block, ...], left: float, bottom: float, wide: float, high: float, scale: Scale = USUAL
) -> Fitted:
    """Set paragraphs into a box, from its top, all in one size.

    They stand one to a row if that keeps a comfortable size. Otherwise they are wrapped at the largest
    size that holds them all without breaking a word; and if none does, the first get the rows they want as
    long as two are left for the others. Of a formula that is cut each parent keeps its beginning, a line
    its day, and anything else its own beginning. What is left out ends in an ellipsis and is reported.

    Args:
        blocks: the most important first; empty ones are left out.
        left, bottom, wide, high: the box in mm.
    """
    shown, replaced = _printable(blocks)
    size, rows, cut = _arranged(shown, wide / POINT, high / POINT, scale)
    used = len(rows) * LEADING * size * POINT
    return Fitted(pieces=_set(rows, size, left, bottom + high), cut=cut, replaced=replaced, used=used)


@lru_cache(maxsize=500)
def least_high(blocks: tuple[Block, ...], wide: float) -> float:
    """How high paragraphs are in the smallest size, in mm; a hair more, so that ``fitted`` finds the room enough."""
    rows = len(_rows(_printable(blocks)[0], wide / POINT / LEAST))
    return rows * LEADING * LEAST * POINT + 1e-9


def _printable(blocks: tuple[Block, ...]) -> tuple[tuple[Block, ...], str]:
    lost: dict[str, None] = {}
    shown = []
    for block in blocks:
        runs = []
        for text, style in block:
            words, missing = printable(text, style)
            lost.update(dict.fromkeys(missing))
            runs.append((words, style))
        if any(words.strip() for words, _ in runs):
            shown.append(tuple(runs))
    return tuple(shown), "".join(lost)


def _arranged(
    blocks: tuple[Block, ...], wide: float, high: float, scale: Scale
) -> tuple[float, list[Row], tuple[str, ...]]:
    """Size, rows and what was cut; wide and high in points."""
    if not blocks:
        return scale.largest, [], ()
    single = _single_row_size(blocks, wide, high, scale.largest)
    if single >= scale.comfortable:
        return single, list(blocks), ()
    sizes = scale.sizes
    widest = max(_longest_word(block) for block in blocks)
    start = sum(size * widest > wide for size in sizes) % len(sizes)
    best = bisect_left(sizes, True, start, key=lambda size: len(_rows(blocks, wide / size)) * LEADING * size <= high)
    if best < len(sizes):
        return sizes[best], _rows(blocks, wide / sizes[best]), ()
    return LEAST, *_cut(blocks, wide / LEAST, int(high / (LEADING * LEAST)))


def _longest_word(block: Block) -> float:
    return max((needed for _, needed in _words(block)), default=0.0)


def _rows(blocks: tuple[Block, ...], wide: float) -> list[Row]:
    return [row for block in blocks for row in wrapped(block, wide)]


def _single_row_size(blocks: tuple[Block, ...], wide: float, high: float, largest: float) -> float:
    longest = max(line_width(block) for block in blocks)
    size = min(largest, wide / longest, high / (len(blocks) * LEADING))
    return size // STEP * STEP


def _cut(blocks: tuple[Block, ...], wide: float, room: int) -> tuple[list[Row], tuple[str, ...]]:
    """Rows that fit, ``room`` of them, and the paragraphs that are not there whole."""
    rows: list[Row] = []
    cut = []
    for index, block in enumerate(blocks):
        wanted = wrapped(block, wide)
        following = min(len(blocks) - index - 1, RESERVED)
        given = min(len(wanted), max(1, room - len(rows) - following), room - len(rows))
        if given < len(wanted):
            cut.append("".join(words for words, _ in block).strip())
            wanted = _shorter(block, wide, given) or _with_ellipsis(wanted[:given], wide)
        rows += wanted
    return rows, tuple(cut)


def _shorter(block: Block, wide: float, rows: int) -> list[Row]:
    """A formula with something of each parent, a line with its day, in so many rows; none where that cannot be."""
    if not rows:
        return []
    words = "".join(text for text, _ in block)
    forms = [((form, "plain"),) for form in days_kept(words)] + [shortened(block, _fits(wide, rows))]
    return next((wrapped(form, wide) for form in forms if form and _fits(wide, rows)(form)), [])


def _fits(wide: float, rows: int) -> Callable[[Block], bool]:
    return lambda block: len(wrapped(block, wide)) <= rows


def _with_ellipsis(rows: list[Row], wide: float) -> list[Row]:
    if not rows:
        return []
    runs = list(rows[-1])
    while runs and line_width(tuple(runs)) + width(ELLIPSIS, "plain") > wide:
        text, style = runs.pop()
        if len(text) > 1:
            runs.append((text[:-1], style))
    return [*rows[:-1], (*runs, (ELLIPSIS, "plain"))]


def line_width(row: Row) -> float:
    """Width at size 1."""
    return sum(width(text, style) for text, style in row)


def wrapped(block: Block, wide: float) -> list[Row]:
    """The paragraph in rows of at most ``wide`` (at size 1); a word wider than that is broken anywhere.

    >>> wrapped((("lowii", "taxon"), (" × ", "plain"), ("veitchii", "taxon")), 4)
    [(('lowii', 'taxon'), (' ', 'plain'), ('×', 'plain')), (('veitchii', 'taxon'),)]
    """
    if line_width(block) <= wide:
        return [block]
    rows: list[list[Run]] = []
    space = width(" ", "plain")
    used = wide
    for word, needed in _words(block):
        if used + space + needed <= wide:
            rows[-1] += [(" ", "plain"), *word]
            used += space + needed
            continue
        rows += [list(part) for part in _broken(word, wide)]
        used = line_width(tuple(rows[-1]))
    return [tuple(row) for row in rows]


@lru_cache(maxsize=500)
def _words(block: Block) -> tuple[tuple[Row, float], ...]:
    """The paragraph cut at its spaces, with widths; a word may change its style half way, as "(lowii" does."""
    words: list[list[Run]] = [[]]
    for text, style in block:
        for index, piece in enumerate(text.split(" ")):
            if index:
                words.append([])
            if piece:
                words[-1].append((piece, style))
    return tuple((tuple(word), line_width(tuple(word))) for word in words if word)


def _broken(word: Row, wide: float) -> list[Row]:
    """The word itself if it fits a row, else pieces that do, one sign at least in each."""
    if line_width(word) <= wide:
        return [word]
    parts: list[list[Run]] = [[]]
    for text, style in word:
        for sign in text:
            if parts[-1] and line_width(tuple(parts[-1])) + width(sign, style) > wide:
                parts.append([])
            parts[-1].append((sign, style))
    return [_joined(part) for part in parts]


def _joined(runs: list[Run]) -> Row:
    """Neighbours of one style made one."""
    joined: list[Run] = []
    for text, style in runs:
        if joined and joined[-1][1] == style:
            text = joined.pop()[0] + text
        joined.append((text, style))
    return tuple(joined)


def _set(rows: list[Row], size: float, left: float, top: float) -> tuple[Piece, ...]:
    """Pieces with their places in mm, the first row's ascenders touching the top."""
    pieces = []
    for index, row in enumerate(rows):
        x, y = left, top - (index * LEADING + ASCENT) * size * POINT
        for number, (text, style) in enumerate(_joined(list(row))):
            pieces.append(Piece(x, y, text, style, size, number > 0))
            x += width(text, style) * size * POINT
    return tuple(pieces)
