"""One label onto a ReportLab canvas."""

import zlib

from reportlab import rl_config
from reportlab.lib.units import mm
from reportlab.pdfbase import pdfmetrics
from reportlab.pdfbase.pdfdoc import PDFDictionary, PDFDocument, PDFName, PDFStream
from reportlab.pdfgen.canvas import Canvas

from labels.codes import QUIET
from labels.layout import CodeBox, Placed
from labels.metrics import FACES, font
from labels.textfit import Piece


def register_fonts() -> None:
    """Make the faces known to ReportLab; they are embedded in every PDF that uses them.

    Streams are written as bytes rather than as text, which takes a fifth off the file and a sixth off the time.
    """
    rl_config.useA85 = 0
    for style, name in FACES.items():
        if name not in pdfmetrics.getRegisteredFontNames():
            pdfmetrics.registerFont(font(style))


def draw_label(canvas: Canvas, label: Placed, *, x: float, y: float, width: float) -> None:
    """Draw a label with its lower left corner at x, y (mm from the page's).

    Args:
        width: of the label on the page, in mm; a turned label pivots about its right edge.
    """
    canvas.saveState()
    if label.turned:
        canvas.translate((x + width) * mm, y * mm)
        canvas.rotate(90)
    else:
        canvas.translate(x * mm, y * mm)
    for code in label.codes:
        draw_code(canvas, code)
    draw_words(canvas, label.pieces)
    canvas.restoreState()


def draw_words(canvas: Canvas, pieces: tuple[Piece, ...]) -> None:
    """All words of a label as one text object; a piece that goes on in the same row needs no new place."""
    text = canvas.beginText()
    face = None
    for piece in pieces:
        if face != (piece.style, piece.size):
            face = (piece.style, piece.size)
            text.setFont(FACES[piece.style], piece.size)
        if not piece.goes_on:
            text.setTextOrigin(piece.x * mm, piece.y * mm)
        text.textOut(piece.text)
    canvas.drawText(text)


def draw_code(canvas: Canvas, code: CodeBox) -> None:
    """Fill the dark modules in one go, with the quiet zone left white.

    Appends to the page's content itself: one matrix makes the module the unit, so that each run of dark
    modules is a few whole numbers. ReportLab's own paths write every corner in full, 2.8 times as much
    on a sheet. ``_code`` is not public; the tests that read the codes from the drawn page guard it.
    """
    unit = code.module * mm
    left, top = (code.x * mm + QUIET * unit), (code.y + code.side) * mm - QUIET * unit
    runs = " ".join([f"{start} {row} {length} 1 re" for row, start, length in code.matrix.runs])
    canvas._code.append(f"q {unit:.4f} 0 0 {-unit:.4f} {left:.3f} {top:.3f} cm {runs} f Q")


class Packed(PDFStream):
    """What a page draws, packed; forgotten once it is written."""

    def __init__(self, drawn: str) -> None:
        flate = PDFDictionary({"Filter": PDFName("FlateDecode")})
        super().__init__(flate, zlib.compress(drawn.encode()))

    def format(self, document: PDFDocument) -> bytes:
        written, self.content = super().format(document), None
        return written


def close_page(canvas: Canvas) -> None:
    """End the page and keep of what it draws only the packed bytes, of what it draws with what the first page has.

    ReportLab packs all pages when the file is saved, holds them in full until then, and lists the faces once a page.
    ``_doc`` is not public; the test of how much memory labels take guards it.
    """
    canvas.showPage()
    pages = canvas._doc.Pages.pages
    first, page = pages[0], pages[-1]
    page.Contents, page.stream = Packed(page.stream), None
    page.Resources = first.Resources
    page.check_format(canvas._doc)
