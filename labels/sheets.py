"""Pages of labels as one PDF."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from typing import BinaryIO

from reportlab.lib.units import mm

from labels.draw import drawn_label, drawn_words
from labels.layout import LabelText, Placed, placed
from labels.metrics import ASCENT
from labels.pdf_file import PdfFile
from labels.stock import Measures
from labels.textfit import POINT, Piece

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
class Group:
    """Labels that go onto one stock, from its ``first`` free label on, counted along the rows from 1."""

    texts: Sequence[LabelText]
    stock: Measures
    first: int = 1


@dataclass(frozen=True, slots=True)
class Lost:
    """What labels cannot say on their stock.

    Attributes:
        words: (number, what does not fit) for each label that loses words.
        signs: characters that the face cannot show, each once.
    """

    words: tuple[tuple[int, str], ...]
    signs: str


def lost_on(groups: Sequence[Group]) -> Lost:
    """What a grower should know before these are printed: they are laid out as for the print, and not drawn.

    Raises:
        CannotPrint, AddressUnfit: as ``print_groups``.
    """
    _check(groups)
    words: list[tuple[int, str]] = []
    signs: dict[str, None] = {}
    for group in groups:
        for text in group.texts:
            label = placed_on(text, group.stock)
            words.extend((text.number, lost) for lost in label.cut)
            signs.update(dict.fromkeys(label.replaced))
    return Lost(tuple(words), "".join(signs))


def print_groups(groups: Sequence[Group], out: BinaryIO) -> None:
    """Draw labels, in the order given, for several stocks into one PDF; its pages have each stock's own size.

    Labels are laid out as they are drawn and forgotten with their page.

    Args:
        out: an empty file, which stays open.

    Raises:
        CannotPrint: no labels, too many of them, or a first position that the sheet does not have.
        AddressUnfit: the public address cannot stand in a code.
    """
    _check(groups)
    file = PdfFile(out, f"{_count(groups)} labels")
    for group in groups:
        for drawn in _pages(group, file):
            file.page(group.stock.page_width * mm, group.stock.page_height * mm, drawn)
    file.close()


def _check(groups: Sequence[Group]) -> None:
    labels = _count(groups)
    if not labels or not all(group.texts for group in groups):
        raise CannotPrint("No label was chosen; tick at least one.")
    if labels > MOST:
        raise CannotPrint(f"{labels} labels are too many for one print; choose at most {MOST}.")
    for group in groups:
        if not 1 <= group.first <= group.stock.per_page:
            most = group.stock.per_page
            raise CannotPrint(f"The first free label must be between 1 and {most}; it is {group.first}.")


def _count(groups: Sequence[Group]) -> int:
    return sum(len(group.texts) for group in groups)


def placed_on(text: LabelText, stock: Measures) -> Placed:
    if text.is_formula and _order_line(stock) is None:
        text = replace(text, order=ORDER_SHORT)
    return placed(
        text,
        width=stock.label_width,
        height=stock.label_height,
        dpi=stock.dpi,
        free=stock.free,
        free_last=stock.free_last,
    )


def _pages(group: Group, file: PdfFile) -> Iterator[str]:
    """What each page of one stock draws."""
    stock = group.stock
    for part in pages_of(len(group.texts), stock.per_page, group.first - 1):
        drawn = []
        for position, index in part:
            x, y = stock.corner(position)
            label = placed_on(group.texts[index], stock)
            drawn.append(drawn_label(label, file, x=x, y=y, width=stock.label_width))
        if any(group.texts[index].is_formula for _, index in part):
            drawn.append(_order_said(file, stock))
        yield "\n".join(drawn)


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


def _order_said(file: PdfFile, stock: Measures) -> str:
    """Once a sheet, in its margin."""
    base = _order_line(stock)
    if base is None:
        return ""
    return drawn_words((Piece(max(stock.left, PRINTERS_EDGE), base, ORDER_WORDS, "plain", ORDER_SIZE),), file)
