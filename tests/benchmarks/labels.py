"""1,000 labels with codes, against two floors in the same run. Start with ``python -m tests.benchmarks.labels``.

The floors draw the same words and the same address, each its own way:

- *inlined*: everything in one loop, at fixed places, with no fitting, no checks and no reports; the fastest drawing
  on a canvas of ReportLab that we know (a code as row runs under one matrix);
- *widget*: ReportLab's own QR widget, as its documentation shows it. It is drawn for fewer labels, and scaled.

Targets: at most 1.5 times the inlined floor, at least 20 times faster than the widget, and 600 KiB for 1,000 labels on
sheets. Read ratios, not seconds. Then how long it takes to tell only which words do not fit; the most memory that a
print takes at once; and what each further label adds to it.
"""

import gc
import sys
import tracemalloc
from collections.abc import Callable
from io import BytesIO
from tempfile import TemporaryFile
from time import process_time

import numpy as np
import zxingcpp
from reportlab.graphics import renderPDF
from reportlab.graphics.barcode.qr import QrCodeWidget
from reportlab.graphics.shapes import Drawing
from reportlab.lib.units import mm
from reportlab.pdfgen.canvas import Canvas

from labels import metrics, textfit
from labels.codes import tag_url
from labels.draw import register_fonts
from labels.layout import LabelText
from labels.metrics import FACES
from labels.sheets import Group, Lost, lost_on, print_groups
from labels.stock import Measures
from tests.labels.cast import ROLL, SHEET

COUNT, WIDGETS, ROUNDS = 1_000, 100, 5
ABOVE_INLINED, BELOW_WIDGET, FILE_KIB = 1.5, 20.0, 600
COUNTS = (100, 500, 1_000, 2_000)
OFTEN = (700, 10, 10)
CODE = 18.5
Draw = Callable[[list[LabelText], Measures], object]


def texts(count: int = COUNT) -> list[LabelText]:
    """Seed pots of a thousand different names and lines, each with a number of its own."""
    return [_text(2_000_000 + index, index % COUNT) for index in range(count)]


def _text(number: int, index: int) -> LabelText:
    name = (
        ("ampullaria", "taxon"),
        (" ", "plain"),
        (f"T{index}", "clone"),
        (" × ", "plain"),
        ("lowii", "taxon"),
    )
    lines = (f"sown {index % 28 + 1} Nov 2026 · MB", f"{index} seeds", f"from {index} at 24 °C")
    return LabelText(number, "https://tags.example", "Pot", name, lines)


def inlined(labels: list[LabelText], stock: Measures) -> bytes:
    """The floor: draw at fixed places, decide nothing."""
    canvas, out = _canvas(stock)
    for index, text in enumerate(labels):
        position = index % stock.per_page
        if index and not position:
            canvas.showPage()
        x, y = (edge * mm for edge in stock.corner(position))
        _words(canvas, text, x + CODE * mm, y + (stock.label_height - 6) * mm)
        unit = CODE / 37 * mm
        canvas._code.append(f"q {unit:.4f} 0 0 {-unit:.4f} {x:.3f} {y + CODE * mm:.3f} cm {_runs(text)} f Q")
    canvas.save()
    return out.getvalue()


def _runs(text: LabelText) -> str:
    url = tag_url(text.address, text.number)
    code = zxingcpp.create_barcode(url, zxingcpp.BarcodeFormat.QRCode, ec_level="H")
    image = np.asarray(code.to_image(scale=1, add_quiet_zones=False))
    dark = np.zeros((image.shape[0], image.shape[1] + 2), np.int8)
    dark[:, 1:-1] = image == 0
    edges = np.diff(dark)
    rows, starts = np.nonzero(edges == 1)
    ends = np.nonzero(edges == -1)[1]
    each = zip(starts.tolist(), rows.tolist(), (ends - starts).tolist(), strict=True)
    return " ".join(["%d %d %d 1 re" % run for run in each])  # noqa: UP031 (the fastest way)


def widget(labels: list[LabelText], stock: Measures) -> bytes:
    """ReportLab's own way."""
    canvas, out = _canvas(stock)
    for index, text in enumerate(labels):
        position = index % stock.per_page
        if index and not position:
            canvas.showPage()
        x, y = (edge * mm for edge in stock.corner(position))
        _words(canvas, text, x + CODE * mm, y + (stock.label_height - 6) * mm)
        drawing = Drawing(CODE * mm, CODE * mm)
        size = CODE * mm
        drawing.add(QrCodeWidget(tag_url(text.address, text.number), barLevel="H", barWidth=size, barHeight=size))
        renderPDF.draw(drawing, canvas, x, y)
    canvas.save()
    return out.getvalue()


def _canvas(stock: Measures) -> tuple[Canvas, BytesIO]:
    out = BytesIO()
    return Canvas(out, pagesize=(stock.page_width * mm, stock.page_height * mm), pageCompression=1), out


def _words(canvas: Canvas, text: LabelText, x: float, y: float) -> None:
    """The words of a label, as one text object with the same faces."""
    line = canvas.beginText(x, y)
    line.setFont(FACES["clone"], 14)
    line.textOut(str(text.number))
    line.setFont(FACES["plain"], 7)
    line.textOut(text.kind_words)
    line.setTextOrigin(x, y - 12)
    for words, style in text.name_parts:
        line.setFont(FACES[style], 8)
        line.textOut(words)
    line.setFont(FACES["plain"], 8)
    for number, words in enumerate(text.lines):
        line.setTextOrigin(x, y - 22 - 10 * number)
        line.textOut(words)
    canvas.drawText(line)


def ours(labels: list[LabelText], stock: Measures) -> bytes:
    """What the app does, with nothing remembered from the round before."""
    forget()
    out = BytesIO()
    print_groups([Group(labels, stock)], out)
    return out.getvalue()


def looked_over(labels: list[LabelText], stock: Measures) -> Lost:
    """What the page before the print tells, with nothing remembered."""
    forget()
    return lost_on([Group(labels, stock)])


def forget() -> None:
    """Empty what is remembered of labels laid out before."""
    for remembered in (textfit.fitted, textfit.least_high, textfit._words, metrics.width, metrics._printable):
        remembered.cache_clear()


def peak(count: int, stock: Measures) -> tuple[int, int]:
    """The most bytes that Python holds at once while so many labels are printed, and how many the file has.

    Garbage is looked for as often as Python does by itself: how much lies about before that is not what is asked.
    """
    labels, seldom = texts(count), gc.get_threshold()
    forget()
    with TemporaryFile() as out:
        gc.set_threshold(*OFTEN)
        tracemalloc.start()
        try:
            print_groups([Group(labels, stock)], out)
            return tracemalloc.get_traced_memory()[1], out.tell()
        finally:
            tracemalloc.stop()
            gc.set_threshold(*seldom)


def seconds(draw: Draw, labels: list[LabelText], stock: Measures) -> float:
    """Seconds of the processor for 1,000 labels, so that a busy machine does not blur them."""
    start = process_time()
    draw(labels, stock)
    return (process_time() - start) / len(labels) * COUNT


def fastest(labels: list[LabelText], stock: Measures) -> tuple[float, float, float]:
    """Ours, inlined, widget: each one's best of rounds that take turns, so that a busy moment hits all alike."""
    rounds = [
        (seconds(ours, labels, stock), seconds(inlined, labels, stock), seconds(widget, labels[:WIDGETS], stock))
        for _ in range(ROUNDS)
    ]
    return tuple(min(column) for column in zip(*rounds, strict=True))


def main() -> int:
    """Print the ratios, sizes and peaks; the exit code is 1 if a target is missed."""
    register_fonts()
    labels, missed = texts(), 0
    for name, stock in (("sheet", SHEET), ("roll", ROLL)):
        tepal, floor, slow = fastest(labels, stock)
        above, below = tepal / floor, slow / tepal
        print(f"{name}: 1,000 labels {tepal:.2f} s; {above:.2f} x inlined ({floor:.2f} s),", end=" ")
        print(f"{below:.1f} x faster than the widget ({slow:.2f} s)")
        print(f"  which words do not fit on them: {seconds(looked_over, labels, stock):.2f} s")
        peaks = {count: peak(count, stock) for count in COUNTS}
        for count, (held, size) in peaks.items():
            print(f"  {count:5,} labels: {held / 1024:6,.0f} KiB at most, for a file of {size / 1024:5,.0f}")
        more = (peaks[2_000][0] - peaks[500][0]) / 1_500
        print(f"  each label from 500 to 2,000 adds {more / 1024:.2f} KiB")
        missed += above > ABOVE_INLINED or below < BELOW_WIDGET
        missed += name == "sheet" and peaks[COUNT][1] > FILE_KIB * 1024
    return int(missed > 0)


if __name__ == "__main__":
    sys.exit(main())
