"""Pages of labels as one PDF."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from io import BytesIO

from reportlab.lib.units import mm
from reportlab.pdfgen.canvas import Canvas

from labels.draw import draw_label, register_fonts
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
    texts = [text for group in groups for text in group.texts]
    _check_count(len(texts))
    for group in groups:
        _check(len(group.texts), group.stock, group.first)
    register_fonts()
    by_group = [[placed_on(text, group.stock) for text in group.texts] for group in groups]
    pdf, pages = _drawn(groups, by_group)
    labels = [label for some in by_group for label in some]
    cut = tuple((text.number, words) for text, label in zip(texts, labels, strict=True) for words in label.cut)
    replaced = "".join(dict.fromkeys("".join(label.replaced for label in labels)))
    return Printed(pdf=pdf, pages=pages, labels=len(labels), cut=cut, replaced=replaced)


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


def _drawn(groups: Sequence[Group], by_group: Sequence[list[Placed]]) -> tuple[bytes, int]:
    out = BytesIO()
    canvas = Canvas(out, pageCompression=1)
    canvas.setTitle(f"{sum(len(labels) for labels in by_group)} labels")
    canvas.setViewerPreference("PrintScaling", "None")
    pages = sum(_draw_pages(canvas, group, labels) for group, labels in zip(groups, by_group, strict=True))
    canvas.save()
    return out.getvalue(), pages


def _draw_pages(canvas: Canvas, group: Group, labels: list[Placed]) -> int:
    """The pages of one stock; returns how many."""
    stock, pages = group.stock, list(pages_of(len(labels), group.stock.per_page, group.first - 1))
    for part in pages:
        canvas.setPageSize((stock.page_width * mm, stock.page_height * mm))
        for position, index in part:
            x, y = stock.corner(position)
            draw_label(canvas, labels[index], x=x, y=y, width=stock.label_width)
        if any(group.texts[index].is_formula for _, index in part):
            _say_order(canvas, stock)
        canvas.showPage()
    return len(pages)


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
    out = BytesIO()
    canvas = Canvas(out, pagesize=(stock.page_width * mm, stock.page_height * mm), pageCompression=1)
    canvas.setTitle("Outlines of labels")
    canvas.setViewerPreference("PrintScaling", "None")
    canvas.setLineWidth(0.3)
    canvas.setFont(FACES["plain"], ORDER_SIZE)
    for position in range(stock.per_page):
        x, y = stock.corner(position)
        canvas.rect(x * mm, y * mm, stock.label_width * mm, stock.label_height * mm)
        canvas.drawCentredString((x + stock.label_width / 2) * mm, (y + stock.label_height / 2) * mm, str(position + 1))
    canvas.showPage()
    canvas.save()
    return out.getvalue()
