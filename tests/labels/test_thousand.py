"""1,000 labels of all kinds on several stocks in one PDF, looked at dot by dot and read back with another library."""

from collections.abc import Iterator
from dataclasses import dataclass
from functools import cached_property
from typing import Any

import numpy as np
import pypdfium2
import pytest
import zxingcpp
from numpy.typing import NDArray

from labels.codes import LEVELS, grouped
from labels.layout import LabelText, Leads
from labels.sheets import Group, lost_on, pages_of
from labels.stock import Measures
from tests.labels.cast import ROLL, SHEET, STAKE, label
from tests.labels.reading import Picture, cut, ink_outside, printed, read

LETTER = Measures(215.9, 279.4, 3, 10, 66.67, 25.4, left=4.76, top=12.7, gap_across=3.18, dpi=600)
PACKETS = Measures(210, 297, 5, 13, 38.1, 21.2, left=4.75, top=10.7, gap_across=2.5, dpi=600)
HANG = Measures(25, 76, 1, 1, 25, 76, dpi=300, free=12)
Signs = NDArray[Any]
COUNTS = ((SHEET, 400, 5), (LETTER, 240, 1), (PACKETS, 260, 65), (ROLL, 50, 1), (HANG, 25, 1), (STAKE, 25, 1))
KINDS = (
    ("Seed pot", Leads.NUMBER, ("sown {} Nov 2026 · MB", "2 pods")),
    ("Section", Leads.NAME, ("pollinated {} Nov 2026 · MB", "section 2 · tie: red")),
    ("Seed", Leads.NAME_AND_DAY, ("harvested {} Nov 2026 · MB", "about 420 seeds")),
    ("Pollen", Leads.NAME_AND_DAY, ("collected {} Nov 2026 · MB", "desiccant, cold")),
)


def text_of(index: int) -> LabelText:
    """The label of an invented thing; every one has a number, a name and a day of its own."""
    kind, leads, lines = KINDS[index % len(KINDS)]
    name = (("ampullaria", "taxon"), (f" T{index}", "clone"), (" × ", "plain"), ("veitchii", "taxon"))
    days = tuple(line.format(index % 28 + 1) for line in lines)
    return label(2087000 + index, kind_words=kind, leads=leads, name_parts=name, lines=days)


@dataclass(frozen=True)
class Seen:
    """One label of the PDF: its text, its stock and where it is."""

    text: LabelText
    stock: Measures
    page: int
    position: int


class Thousand:
    """The PDF, and where each of its labels is."""

    def __init__(self) -> None:
        self.groups, start = [], 0
        for stock, count, first in COUNTS:
            self.groups.append(Group([text_of(start + index) for index in range(count)], stock, first))
            start += count
        self.lost = lost_on(self.groups)
        self.pdf = pypdfium2.PdfDocument(printed(self.groups))
        self.last: tuple[Any, Any] = (None, None)

    @cached_property
    def labels(self) -> list[Seen]:
        seen, before = [], 0
        for group in self.groups:
            pages = list(pages_of(len(group.texts), group.stock.per_page, group.first - 1))
            for page, part in enumerate(pages, before):
                seen += [Seen(group.texts[index], group.stock, page, position) for position, index in part]
            before += len(pages)
        return seen

    def page(self, index: int, dpi: int) -> Picture:
        """Grey picture of a page, one pixel a dot; the last is remembered."""
        if self.last[0] != (index, dpi):
            picture = self.pdf[index].render(scale=dpi / 72, grayscale=True).to_pil()
            self.last = (index, dpi), np.asarray(picture)
        return self.last[1]

    def pictures(self, dpi: int) -> Iterator[tuple[Seen, Picture]]:
        """Each label with its part of the page's picture."""
        for seen in self.labels:
            yield seen, cut(self.page(seen.page, dpi), seen.stock, seen.position, dpi)

    @cached_property
    def words(self) -> dict[int, list[str]]:
        """What the PDF's own text says inside each label's edges, sorted, by the label's number."""
        signs = [signs_of(page) for page in self.pdf]
        return {seen.text.number: words_in(signs[seen.page], seen.stock, seen.position) for seen in self.labels}


def signs_of(page: pypdfium2.PdfPage) -> tuple[Signs, Signs, Signs]:
    """The signs of a page's text, what parts its words among them, and where each one's middle is, in points.

    To ask for the text of one label at a time would look through the whole page for each.
    """
    text = page.get_textpage()
    signs = list(text.get_text_range())
    assert len(signs) == text.count_chars()
    left, low, right, high = np.array([text.get_charbox(index) for index in range(len(signs))]).T
    return np.array(signs), (left + right) / 2, (low + high) / 2


def words_in(signs: tuple[Signs, Signs, Signs], stock: Measures, position: int) -> list[str]:
    """The words inside one label's edges, sorted."""
    said, across, up = signs
    x, y = (edge / 25.4 * 72 for edge in stock.corner(position))
    right, top = x + stock.label_width / 25.4 * 72, y + stock.label_height / 25.4 * 72
    return sorted("".join(said[(x < across) & (across < right) & (y < up) & (up < top)]).split())


@pytest.fixture(scope="module")
def thousand() -> Thousand:
    return Thousand()


@pytest.mark.parametrize("dpi", [203, 300])
def test_every_code_of_a_thousand_opens_its_own_thing(thousand: Thousand, dpi: int) -> None:
    told = {}
    for seen, picture in thousand.pictures(dpi):
        if seen.stock != STAKE:  # too narrow for a code
            told[seen.text.number] = read(picture)
    assert len(thousand.labels) == 1_000
    assert len(told) == 975
    assert told == {number: {f"HTTPS://TAGS.EXAMPLE/T/{number}"} for number in told}


def test_the_words_of_every_label_are_those_of_its_record(thousand: Thousand) -> None:
    cut_ones = {number for number, _ in thousand.lost.words}
    whole = [seen for seen in thousand.labels if seen.text.number not in cut_ones]
    told = thousand.words
    assert [number for number, words in told.items() if not set(grouped(number).split()) <= set(words)] == []
    for seen in whole:
        assert [word for word in told[seen.text.number] if word != "·"] == expected(seen.text, seen.stock), seen
    assert len(whole) > 600
    assert {seen.stock for seen in thousand.labels if seen.text.number in cut_ones} <= {PACKETS, STAKE, ROLL}


def expected(text: LabelText, stock: Measures) -> list[str]:
    """Every word that the record has, sorted; the order of parents is told on the label where no margin has room."""
    name = "".join(words for words, _ in text.name_parts)
    order = "♀ first" if stock in (ROLL, HANG, STAKE) else ""
    words = " ".join((grouped(text.number), text.kind_words, order, name, *text.lines)).split()
    return sorted(word for word in words if word != "·")


def test_what_is_told_to_be_lost_before_the_print_is_not_on_the_drawn_label(thousand: Thousand) -> None:
    """What ``lost_on`` tells without drawing is exactly what the PDF's own text lacks."""
    told: dict[int, set[str]] = {seen.text.number: set() for seen in thousand.labels}
    for number, words in thousand.lost.words:
        told[number].add(words)
    lacking = {seen.text.number: lacks(seen.text, thousand.words[seen.text.number]) for seen in thousand.labels}
    assert told == lacking
    assert sum(1 for words in told.values() if words) > 200


def lacks(text: LabelText, drawn: list[str]) -> set[str]:
    """The name, kind and lines of a record that are not on its label word by word."""
    name = "".join(words for words, _ in text.name_parts)
    return {words for words in (name, text.kind_words, *text.lines) if not set(words.split()) <= set(drawn)}


def test_the_words_that_do_not_fit_are_found_without_drawing_a_code(monkeypatch: pytest.MonkeyPatch) -> None:
    """Codes take most of the time of a print; one tells how large all are whose numbers have as many digits."""
    drawn = []
    create = zxingcpp.create_barcode
    monkeypatch.setattr(zxingcpp, "create_barcode", lambda *args, **how: drawn.append(args) or create(*args, **how))
    lost = lost_on([Group([text_of(index) for index in range(200)], PACKETS)])
    assert len(lost.words) > 200
    assert len(drawn) <= 2 * len(LEVELS)


def test_nothing_is_drawn_outside_a_label_at_its_edge_or_on_its_white_end(thousand: Thousand) -> None:
    dpi, pages = 203, {}
    for seen, picture in thousand.pictures(dpi):
        edge = round(0.2 * dpi / 25.4)
        inside = picture[edge:-edge, edge:-edge]
        assert (picture < 128).sum() == (inside < 128).sum() > 0, seen
        white = round(seen.stock.free * dpi / 25.4)
        assert (picture[:white] < 128).sum() == 0, seen
        pages[seen.page] = seen.stock
    for page, stock in pages.items():
        below_margin = thousand.page(page, dpi).copy()
        below_margin[: round(stock.top * dpi / 25.4)] = 255  # where a sheet says which parent stands first
        assert ink_outside(below_margin, stock, dpi) == 0, page
    assert len(pages) == len(thousand.pdf)


def test_labels_before_the_first_free_one_are_left_alone(thousand: Thousand) -> None:
    page = thousand.page(0, 203)
    assert [int((cut(page, SHEET, position, 203) < 128).sum() > 0) for position in range(6)] == [0, 0, 0, 0, 1, 1]
