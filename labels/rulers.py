"""A page of rulers, printed on the stock itself, to measure what a printer is off by."""

from io import BytesIO

from reportlab.lib.units import mm
from reportlab.pdfgen.canvas import Canvas

from labels.draw import register_fonts
from labels.metrics import FACES
from labels.stock import Measures

SIZE = 5.0
"""Points of the figures."""

SHORT, LONG = 1.5, 3.0
"""Millimetres: a tick each millimetre, and each fifth with its figure."""


def rulers_page(stock: Measures, *, across: float = 0.0, down: float = 0.0) -> bytes:
    """One page with a ruler from its left edge and one from its top edge, in mm, and the edges of the labels.

    Args:
        across, down: what the printer is said to be off by, in mm: the rulers begin at the paper's edges if it is true.
    """
    register_fonts()
    out = BytesIO()
    canvas = Canvas(out, pagesize=(stock.page_width * mm, stock.page_height * mm), pageCompression=1)
    canvas.setTitle("Rulers to measure a printer by")
    canvas.setViewerPreference("PrintScaling", "None")
    canvas.setFont(FACES["plain"], SIZE)
    canvas.setLineWidth(0.3)
    _labels(canvas, stock)
    canvas.translate(-across * mm, (stock.page_height + down) * mm)
    _across(canvas, stock)
    _down(canvas, stock)
    canvas.showPage()
    canvas.save()
    return out.getvalue()


def _labels(canvas: Canvas, stock: Measures) -> None:
    canvas.setStrokeGray(0.7)
    for position in range(stock.per_page):
        x, y = stock.corner(position)
        canvas.rect(x * mm, y * mm, stock.label_width * mm, stock.label_height * mm)
    canvas.setStrokeGray(0)


def _across(canvas: Canvas, stock: Measures) -> None:
    """From the left edge, two thirds down the page."""
    y = -stock.page_height * 2 / 3
    for tick in range(int(stock.page_width) + 1):
        long = LONG if tick % 5 == 0 else SHORT
        canvas.line(tick * mm, y * mm, tick * mm, (y + long) * mm)
        if tick % 5 == 0:
            canvas.drawCentredString(tick * mm, y * mm - SIZE, str(tick))


def _down(canvas: Canvas, stock: Measures) -> None:
    """From the top edge, two thirds across the page."""
    x = stock.page_width * 2 / 3
    for tick in range(int(stock.page_height) + 1):
        long = LONG if tick % 5 == 0 else SHORT
        canvas.line(x * mm, -tick * mm, (x + long) * mm, -tick * mm)
        if tick % 5 == 0:
            canvas.drawRightString((x - 0.5) * mm, -tick * mm - SIZE / 3, str(tick))
