"""Pages of labels as one PDF."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field, replace
from io import BytesIO

from reportlab.lib.units import mm
from reportlab.pdfgen.canvas import Canvas

from labels.draw import close_page, draw_label, register_fonts
from labels.layout import LabelText, Placed, placed
from labels.metrics import ASCENT, FACES
from labels.stock import Measures
from labels.textfit import POINT

MOST = 2_000
"""Labels in one PDF; more is a slip of the finger, and a file that some printers choke on."""

ORDER_WORDS = "Female parent first."
"""ICN Rec. H.2A.1: an order of parents that is not alphabetical says its basis."""

ORDER_SHORT = "♀ first"
ORDER_SIZE = 7.0
PRINTERS_EDGE = 4.5
"""Millimetres along the edge of a sheet where common printers put no ink."""


class CannotPrint(ValueError):
    """Nothing that could be printed was asked for; the message is a sentence for people."""


@dataclass(frozen=True, slots=True)
class Printed:
    """A PDF and what the grower should know before printing it.

    Attributes:
        cut: (number, what did not fit) for each label that lost words.
        replaced: characters that the face could not show, each once.
    """

    pdf: bytes
    pages: int
    labels: int
    cut: tuple[tuple[int, str], ...] = ()
    replaced: str = ""


@dataclass(frozen=True, slots=True)
class Group:
    """Labels that go onto one stock, from its ``first`` free label on, counted along the rows from 1."""

    texts: Sequence[LabelText]
    stock: Measures
    first: int = 1


def print_labels(texts: Sequence[LabelText], stock: Measures, *, first: int = 1) -> Printed:
    """Draw labels onto sheets or a roll, in the order given.

    Args:
        first: the first free label of the first sheet, counted along the rows from 1.

    Raises:
        CannotPrint: no labels, too many, or a first position that the sheet does not have.
        AddressUnfit: the public address cannot stand in a code.
    """
    return print_groups([Group(texts, stock, first)])


def print_groups(groups: Sequence[Group]) -> Printed:
    """Draw labels for several stocks into one PDF, one stock after the other; its pages have each stock's own size.

    Raises:
        CannotPrint: as ``print_labels``, of any group or of all together.
        AddressUnfit: the public address cannot stand in a code.
    """
    count = sum(len(group.texts) for group in groups)
    _check_count(count)
    for group in groups:
        _check(len(group.texts), group.stock, group.first)
    register_fonts()
    canvas, lost = _canvas(f"{count} labels"), Lost()
    pages = sum(_draw_pages(canvas, group, lost) for group in groups)
    replaced = "".join(lost.signs)
    return Printed(pdf=canvas.getpdfdata(), pages=pages, labels=count, cut=tuple(lost.words), replaced=replaced)


def _check(labels: int, stock: Measures, first: int) -> None:
    _check_count(labels)
    if not 1 <= first <= stock.per_page:
        raise CannotPrint(f"The first free label must be between 1 and {stock.per_page}; it is {first}.")


def _check_count(labels: int) -> None:
    if labels == 0:
        raise CannotPrint("No label was chosen; tick at least one.")
    if labels > MOST:
        raise CannotPrint(f"{labels} labels are too many for one print; choose at most {MOST}.")


def placed_on(text: LabelText, stock: Measures) -> Placed:
    if text.is_formula and _order_line(stock) is None:
        text = replace(text, kind_words=" · ".join(filter(None, (text.kind_words, ORDER_SHORT))))
    return placed(
        text,
        width=stock.label_width,
        height=stock.label_height,
        dpi=stock.dpi,
        free=stock.free,
        free_last=stock.free_last,
    )


@dataclass(frozen=True, slots=True)
class Lost:
    """What labels could not say, told as they are drawn: words by their number, and signs, each once."""

    words: list[tuple[int, str]] = field(default_factory=list)
    signs: dict[str, None] = field(default_factory=dict)

    def of(self, number: int, label: Placed) -> None:
        self.words.extend((number, words) for words in label.cut)
        self.signs.update(dict.fromkeys(label.replaced))


def _canvas(title: str) -> Canvas:
    canvas = Canvas(BytesIO(), pageCompression=1)
    canvas.setTitle(title)
    canvas.setViewerPreference("PrintScaling", "None")
    return canvas


def _draw_pages(canvas: Canvas, group: Group, lost: Lost) -> int:
    """The pages of one stock; returns how many.

    Labels are laid out as they are drawn and forgotten with their page: one takes fifty times what it weighs in the
    file, most of it the modules of its code.
    """
    stock, pages = group.stock, 0
    for part in pages_of(len(group.texts), stock.per_page, group.first - 1):
        canvas.setPageSize((stock.page_width * mm, stock.page_height * mm))
        for position, index in part:
            text = group.texts[index]
            label = placed_on(text, stock)
            lost.of(text.number, label)
            x, y = stock.corner(position)
            draw_label(canvas, label, x=x, y=y, width=stock.label_width)
        if any(group.texts[index].is_formula for _, index in part):
            _say_order(canvas, stock)
        close_page(canvas)
        pages += 1
    return pages


def pages_of(labels: int, per_page: int, offset: int) -> Iterator[list[tuple[int, int]]]:
    """(position on the page, index of the label) for each page in turn.

    >>> list(pages_of(3, 4, 2))
    [[(2, 0), (3, 1)], [(0, 2)]]
    """
    slots = range(offset, offset + labels)
    for page in range(0, offset + labels, per_page):
        part = [(slot - page, slot - offset) for slot in slots[max(0, page - offset) : page - offset + per_page]]
        if part:
            yield part


def _order_line(stock: Measures) -> float | None:
    """Base line of the words on the order of parents, mm from the foot; None where no margin has room."""
    high = ORDER_SIZE * POINT
    if stock.top >= PRINTERS_EDGE + high:
        return stock.page_height - PRINTERS_EDGE - ASCENT * high
    if stock.foot >= PRINTERS_EDGE + high:
        return PRINTERS_EDGE + (1 - ASCENT) * high
    return None


def _say_order(canvas: Canvas, stock: Measures) -> None:
    """Once a sheet, in its margin."""
    base = _order_line(stock)
    if base is None:
        return
    canvas.setFont(FACES["plain"], ORDER_SIZE)
    canvas.drawString(max(stock.left, PRINTERS_EDGE) * mm, base * mm, ORDER_WORDS)


def outline_page(stock: Measures) -> bytes:
    """One page with the edge and the number of every label, to hold against the stock."""
    register_fonts()
    canvas = _canvas("Outlines of labels")
    canvas.setPageSize((stock.page_width * mm, stock.page_height * mm))
    canvas.setLineWidth(0.3)
    canvas.setFont(FACES["plain"], ORDER_SIZE)
    for position in range(stock.per_page):
        x, y = stock.corner(position)
        canvas.rect(x * mm, y * mm, stock.label_width * mm, stock.label_height * mm)
        canvas.drawCentredString((x + stock.label_width / 2) * mm, (y + stock.label_height / 2) * mm, str(position + 1))
    canvas.showPage()
    return canvas.getpdfdata()
