"""One label as the operators that draw it in a PDF (ISO 32000-1, 8 and 9)."""

from reportlab import rl_config
from reportlab.lib.rl_accel import escapePDF
from reportlab.lib.units import mm
from reportlab.pdfbase import pdfmetrics

from labels.codes import QUIET
from labels.layout import CodeBox, Placed
from labels.metrics import FACES, font
from labels.pdf_file import PdfFile
from labels.textfit import Piece


def register_fonts() -> None:
    """Make the faces known to ReportLab's canvases; they are embedded in every PDF that uses them.

    Streams are written as bytes rather than as text, which takes a fifth off the file and a sixth off the time.
    """
    rl_config.useA85 = 0
    for style, name in FACES.items():
        if name not in pdfmetrics.getRegisteredFontNames():
            pdfmetrics.registerFont(font(style))


def drawn_label(label: Placed, file: PdfFile, *, x: float, y: float, width: float) -> str:
    """A label with its lower left corner at x, y (mm from the page's).

    Args:
        file: where it will stand, which learns of the faces that it needs.
        width: of the label on the page, in mm; a turned label pivots about its right edge.
    """
    turn, left = ("0 1 -1 0", x + width) if label.turned else ("1 0 0 1", x)
    inside = [*map(drawn_code, label.codes), drawn_words(label.pieces, file)]
    return "\n".join([f"q {turn} {left * mm:.3f} {y * mm:.3f} cm", *inside, "Q"])


def drawn_words(pieces: tuple[Piece, ...], file: PdfFile) -> str:
    """All words of a label as one text object; a piece that goes on in the same row needs no new place."""
    told, last = ["BT"], ""
    for piece in pieces:
        if not piece.goes_on:
            told.append(f"1 0 0 1 {piece.x * mm:.3f} {piece.y * mm:.3f} Tm")
        face = font(piece.style)
        for subset, signs in face.splitString(piece.text, file):
            setting = f"{face.getSubsetInternalName(subset, file)} {piece.size:g} Tf"
            if setting != last:
                told.append(setting)
                last = setting
            told.append(f"({escapePDF(signs)}) Tj")
    return " ".join([*told, "ET"])


def drawn_code(code: CodeBox) -> str:
    """The dark modules filled in one go, with the quiet zone left white.

    One matrix makes the module the unit, so that each run of dark modules is a few whole numbers. ReportLab's own
    paths write every corner in full, 2.8 times as much on a sheet.
    """
    unit = code.module * mm
    left, top = (code.x * mm + QUIET * unit), (code.y + code.side) * mm - QUIET * unit
    runs = " ".join([f"{start} {row} {length} 1 re" for row, start, length in code.matrix.runs])
    return f"q {unit:.4f} 0 0 {-unit:.4f} {left:.3f} {top:.3f} cm {runs} f Q"
