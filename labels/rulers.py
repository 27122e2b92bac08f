"""Pages of measures: rulers, to see what a printer is off by, and outlines, to hold against the stock."""

from io import BytesIO

from reportlab.lib.units import mm
from reportlab.pdfgen.canvas import Canvas

from labels.draw import register_fonts
from labels.metrics import FACES
from labels.stock import Measures

RULER_SIZE, NUMBER_SIZE = 5.0, 7.0
"""Points of the figures."""

SHORT, LONG = 1.5, 3.0
"""Millimetres: a tick each millimetre, and each fifth with its figure."""


def rulers_page(stock: Measures, *, across: float = 0.0, down: float = 0.0) -> bytes:
    """One page with a ruler from its left edge and one from its top edge, in mm, and the edges of the labels.

    Args:
        across, down: what the printer is said to be off by, in mm: the rulers begin at the paper's edges if it is true.
    """
    canvas = _canvas("Rulers to measure a printer by", stock)
    canvas.setFont(FACES["plain"], RULER_SIZE)
    canvas.setStrokeGray(0.7)
    _labels(canvas, stock)
    canvas.setStrokeGray(0)
    canvas.translate(-across * mm, (stock.page_height + down) * mm)
    _across(canvas, stock)
    _down(canvas, stock)
    return canvas.getpdfdata()


def outline_page(stock: Measures) -> bytes:
    """One page with the edge and the number of every label, to hold against the stock."""
    canvas = _canvas("Outlines of labels", stock)
    canvas.setFont(FACES["plain"], NUMBER_SIZE)
    _labels(canvas, stock)
    for position in range(stock.per_page):
        x, y = stock.corner(position)
        middle = (x + stock.label_width / 2) * mm, (y + stock.label_height / 2) * mm
        canvas.drawCentredString(*middle, str(position + 1))
    return canvas.getpdfdata()


def _canvas(title: str, stock: Measures) -> Canvas:
    register_fonts()
    canvas = Canvas(BytesIO(), pagesize=(stock.page_width * mm, stock.page_height * mm), pageCompression=1)
    canvas.setTitle(title)
    canvas.setViewerPreference("PrintScaling", "None")
    canvas.setLineWidth(0.3)
    return canvas


def _labels(canvas: Canvas, stock: Measures) -> None:
    for position in range(stock.per_page):
        x, y = stock.corner(position)
        canvas.rect(x * mm, y * mm, stock.label_width * mm, stock.label_height * mm)


def _across(canvas: Canvas, stock: Measures) -> None:
    """From the left edge, two thirds down the page."""
    y = -stock.page_height * 2 / 3
    for tick in range(int(stock.page_width) + 1):
        long = LONG if tick % 5 == 0 else SHORT
        canvas.line(tick * mm, y * mm, tick * mm, (y + long) * mm)
        if tick % 5 == 0:
            canvas.drawCentredString(tick * mm, y * mm - RULER_SIZE, str(tick))


def _down(canvas: Canvas, stock: Measures) -> None:
    """From the top edge, two thirds across the page."""
    x = stock.page_width * 2 / 3
    for tick in range(int(stock.page_height) + 1):
        long = LONG if tick % 5 == 0 else SHORT
        canvas.line(x * mm, -tick * mm, (x + long) * mm, -tick * mm)
        if tick % 5 == 0:
            canvas.drawRightString((x - 0.5) * mm, -tick * mm - RULER_SIZE / 3, str(tick))
