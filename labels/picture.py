"""A page of labels as a picture, drawn from the same places as the PDF, so that it is seen before it is printed."""

from collections.abc import Sequence
from functools import cache
from io import BytesIO

from PIL import Image, ImageDraw, ImageFont

from labels.codes import QUIET
from labels.layout import CodeBox, Placed
from labels.metrics import FACES, FONTS
from labels.sheets import Group, pages_of, placed_on
from labels.stock import Measures
from labels.textfit import POINT, Piece

PAPER, WHITE, INK, EDGE = 222, 255, 0, 150
"""Greys: what lies between labels, a label, print, and the edge of a label."""

MOST_DOTS = 1_600
"""Of the longer side of a picture."""

DOTS_A_MM = 8.0
"""As a label printer of 203 dots an inch."""


def page_png(group: Group) -> bytes:
    """The first page of a group as a PNG.

    Raises:
        AddressUnfit: the public address cannot stand in a code.
    """
    stock = group.stock
    part = next(pages_of(len(group.texts), stock.per_page, group.first - 1))
    scale = min(DOTS_A_MM, MOST_DOTS / max(stock.page_width, stock.page_height))
    page = Image.new("L", (round(stock.page_width * scale), round(stock.page_height * scale)), PAPER)
    for position in range(stock.per_page):
        _edge(page, stock, position, scale)
    for position, index in part:
        _label(page, placed_on(group.texts[index], stock), _corner(stock, position), stock, scale)
    return _png(page)


def label_png(group: Group) -> bytes:
    """The first label of a group alone, as a PNG."""
    stock = group.stock
    page = Image.new("L", (round(stock.label_width * DOTS_A_MM), round(stock.label_height * DOTS_A_MM)), WHITE)
    _label(page, placed_on(group.texts[0], stock), (0.0, 0.0), stock, DOTS_A_MM)
    return _png(page)


def _corner(stock: Measures, position: int) -> tuple[float, float]:
    """Upper left corner of a label, mm from the page's upper left."""
    x, y = stock.corner(position)
    return x, stock.page_height - y - stock.label_height


def _edge(page: Image.Image, stock: Measures, position: int, scale: float) -> None:
    x, y = _corner(stock, position)
    ends = [(x * scale, y * scale), ((x + stock.label_width) * scale - 1, (y + stock.label_height) * scale - 1)]
    ImageDraw.Draw(page).rectangle(ends, fill=WHITE, outline=EDGE)


def _label(page: Image.Image, label: Placed, corner: tuple[float, float], stock: Measures, scale: float) -> None:
    """Draw upright, turn if the label is turned, and lay the ink on the page."""
    wide, high = stock.label_width, stock.label_height
    if label.turned:
        wide, high = high, wide
    drawn = Image.new("L", (max(1, round(wide * scale)), max(1, round(high * scale))), WHITE)
    pen = ImageDraw.Draw(drawn)
    for code in label.codes:
        _code(pen, code, high, scale)
    _words(pen, label.pieces, high, scale)
    if label.turned:
        drawn = drawn.transpose(Image.Transpose.ROTATE_90)
    place = (round(corner[0] * scale), round(corner[1] * scale))
    page.paste(INK, place, drawn.point(lambda grey: 255 - grey))


def _code(pen: ImageDraw.ImageDraw, code: CodeBox, high: float, scale: float) -> None:
    unit = code.module * scale
    left, top = code.x * scale + QUIET * unit, (high - code.y - code.side) * scale + QUIET * unit
    for row, start, length in code.matrix.runs:
        x, y = round(left + start * unit), round(top + row * unit)
        right, bottom = round(left + (start + length) * unit) - 1, round(top + (row + 1) * unit) - 1
        pen.rectangle([(x, y), (max(x, right), max(y, bottom))], fill=INK)


def _words(pen: ImageDraw.ImageDraw, pieces: Sequence[Piece], high: float, scale: float) -> None:
    for piece in pieces:
        face = _face(piece.style, round(piece.size * POINT * scale, 1))
        pen.text((piece.x * scale, (high - piece.y) * scale), piece.text, fill=INK, font=face, anchor="ls")


@cache
def _face(style: str, size: float) -> ImageFont.FreeTypeFont:
    return ImageFont.truetype(str(FONTS / f"{FACES[style]}.ttf"), max(1.0, size), layout_engine=ImageFont.Layout.BASIC)


def _png(page: Image.Image) -> bytes:
    out = BytesIO()
    page.save(out, "PNG", optimize=False, compress_level=6)
    return out.getvalue()
