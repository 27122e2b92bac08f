import re

import pypdfium2
import pytest

from labels.codes import AddressUnfit, tag_url
from labels.metrics import FACES
from labels.sheets import MOST, CannotPrint, Group, lost_on, pages_of
from tests.labels.cast import (
    FULL_SHEET,
    ROLL,
    SHEET,
    SLIM,
    SQUARE,
    STAKE,
    STRIP,
    UPRIGHT_STAKE,
    label,
    labels,
)
from tests.labels.reading import Drawn, decoded, drawn, ink_outside, printed, read

DPI = pytest.mark.parametrize("dpi", [203, 300])


def urls(texts) -> list[set[str]]:
    return [{tag_url(text.address, text.number)} for text in texts]


@DPI
def test_every_label_of_a_full_sheet_is_read(dpi: int):
    texts = labels(24)
    sheet = drawn(texts, SHEET)
    assert [decoded(sheet.label(position, dpi=dpi)) for position in range(24)] == urls(texts)


@DPI
def test_every_label_of_a_roll_is_read(dpi: int):
    texts = labels(24)
    roll = drawn(texts, ROLL)
    assert [decoded(roll.page(page, dpi=dpi)) for page in range(24)] == urls(texts)


@DPI
@pytest.mark.parametrize("stock", [FULL_SHEET, SQUARE, SLIM, STRIP], ids=["70 x 37", "square", "slim", "strip"])
def test_codes_of_other_measures_are_read(stock, dpi: int):
    texts = labels(3)
    pages = drawn(texts, stock)
    where = [(position, 0) for position in range(3)] if stock.per_page > 1 else [(0, page) for page in range(3)]
    assert [read(pages.label(position, dpi=dpi, page=page)) for position, page in where] == urls(texts)


def test_a_whole_sheet_in_one_picture_tells_all_its_codes():
    texts = labels(24)
    assert decoded(drawn(texts, SHEET).page(0, dpi=203)) == set.union(*urls(texts))


def test_nothing_is_printed_between_the_labels_but_the_line_on_the_parents():
    plain = labels(24, name_parts=(("lowii", "taxon"),))
    assert ink_outside(drawn(plain, SHEET).page(0, dpi=203), SHEET, 203) == 0
    assert ink_outside(drawn(labels(24), SHEET).page(0, dpi=203), SHEET, 203) > 0


def test_a_turned_label_stays_on_its_label():
    page = drawn(labels(1), UPRIGHT_STAKE).page(0, dpi=203)
    assert page.shape[0] > page.shape[1]
    rows, columns = (page < 128).any(axis=1).nonzero()[0], (page < 128).any(axis=0).nonzero()[0]
    margin = 203 / 25.4
    assert margin < rows.min() and rows.max() < page.shape[0] - margin
    assert margin < columns.min() and columns.max() < page.shape[1] - margin
    assert rows.max() - rows.min() > 0.7 * page.shape[0]


def test_words_can_be_searched_with_signs_and_accents():
    lines = ("24 °C · ♀ A1 × ♂ B1", "Žofie ½ pod, 80±3 %")
    words = drawn([label(lines=lines)], SHEET).words()
    name = "ampullaria Trowel × veitchii Damask"
    assert words == f"208 746 Seed pot {name} {lines[0]} {lines[1]} Female parent first."


def test_digits_are_in_print_on_every_label_with_and_without_a_code():
    for stock in (SHEET, ROLL, STAKE, UPRIGHT_STAKE, SQUARE, SLIM, STRIP):
        assert "208 746" in drawn([label()], stock).words()


def test_the_three_faces_are_embedded():
    pdf = drawn([label()], SHEET).pdf
    assert {name.decode() for name in re.findall(rb"/FontName /[A-Z]{6}\+([A-Za-z-]+)", pdf)} == set(FACES.values())
    assert len(re.findall(rb"/FontFile2 ", pdf)) == 3


def test_the_file_says_truly_where_each_of_its_objects_begins():
    """The cross-reference table of ISO 32000-1, 7.5.4, by which a reader finds a page without reading the others."""
    pdf = printed([Group(labels(30), SHEET), Group(labels(3), ROLL)])
    start = int(re.search(rb"startxref\n(\d+)\n%%EOF\n$", pdf)[1])
    head, first, *entries = pdf[start : pdf.index(b"trailer")].splitlines(keepends=True)
    assert (head, first) == (b"xref\n", b"0 %d\n" % len(entries))
    assert {len(entry) for entry in entries} == {20}
    assert entries[0] == b"0000000000 65535 f \n"
    for number, entry in enumerate(entries[1:], 1):
        assert pdf[int(entry[:10]) :].startswith(b"%d 0 obj\n" % number)


def test_printers_are_asked_not_to_scale_the_page():
    assert b"/PrintScaling /None" in drawn([label()], SHEET).pdf


def test_the_order_of_parents_is_told_once_a_sheet():
    sheets = drawn(labels(30), SHEET)
    assert [sheets.words(page).count("Female parent first.") for page in (0, 1)] == [1, 1]
    assert "♀ first" not in sheets.words()


def test_a_sheet_without_formulas_says_nothing_on_parents():
    assert "parent" not in drawn(labels(3, name_parts=(("lowii", "taxon"),)), SHEET).words()


@pytest.mark.parametrize("stock", [ROLL, FULL_SHEET, STAKE])
def test_where_no_margin_has_room_each_label_tells_the_order_itself(stock):
    words = drawn([label()], stock).words()
    assert "♀ first" in words
    assert "Female parent first." not in words


def test_the_last_position_is_used_first_when_all_others_are_taken():
    texts = labels(2)
    sheets = drawn(texts, SHEET, first=24)
    assert decoded(sheets.label(23, dpi=300)) == urls(texts)[0]
    assert decoded(sheets.label(0, dpi=300, page=1)) == urls(texts)[1]
    assert (sheets.page(0, dpi=203)[: round(250 * 203 / 25.4), :] < 128).sum() == _margin_ink(sheets)


def _margin_ink(sheets: Drawn) -> int:
    return ink_outside(sheets.page(0, dpi=203), sheets.stock, 203)


@pytest.mark.parametrize("first", [0, -1, 25, 1000])
def test_a_position_that_the_sheet_does_not_have_is_refused(first: int):
    with pytest.raises(CannotPrint) as refusal:
        drawn(labels(1), SHEET, first=first)
    assert str(refusal.value) == f"The first free label must be between 1 and 24; it is {first}."


def test_no_labels_are_refused_with_what_to_do():
    with pytest.raises(CannotPrint) as refusal:
        drawn([], SHEET)
    assert str(refusal.value) == "No label was chosen; tick at least one."


def test_too_many_labels_are_refused():
    with pytest.raises(CannotPrint) as refusal:
        drawn([label()] * (MOST + 1), SHEET)
    assert str(refusal.value) == "2001 labels are too many for one print; choose at most 2000."


def test_an_address_that_cannot_be_printed_is_refused_before_anything_is_drawn():
    with pytest.raises(AddressUnfit):
        drawn([label(), label(address="tags.example/nursery")], SHEET)


def test_what_did_not_fit_and_what_could_not_be_shown_is_reported_with_the_number():
    long = "very long " * 60
    lost = lost_on([Group([label(), label(2087461, lines=(long, "茶")), label(lines=("茶",))], SHEET)])
    assert lost.words == ((2087461, long.strip()),)
    assert lost.signs == "茶"


def test_emoji_html_and_other_scripts_spoil_no_code():
    texts = [
        label(18, name_parts=(("🌱" * 40, "clone"),), lines=("<i>thin</i> & more",)),
        label(208, name_parts=(("إبريق", "clone"),), lines=("नीला कप", "%PDF (\\) ) Tj")),
        label(2087, name_parts=(("x" * 400, "taxon"),), kind_words="盆"),
    ]
    sheet = drawn(texts, SHEET)
    assert [decoded(sheet.label(position, dpi=300)) for position in range(3)] == urls(texts)
    assert "<i>thin</i> & more" in sheet.words()
    assert "%PDF (\\) ) Tj" in sheet.words()


@pytest.mark.parametrize(
    ("labels_", "per_page", "offset", "sizes"),
    [(1, 24, 0, [1]), (24, 24, 0, [24]), (25, 24, 0, [24, 1]), (24, 24, 1, [23, 1]), (50, 24, 23, [1, 24, 24, 1])],
)
def test_pages_are_filled_in_order(labels_: int, per_page: int, offset: int, sizes: list[int]):
    pages = list(pages_of(labels_, per_page, offset))
    assert [len(page) for page in pages] == sizes
    assert pages[0][0] == (offset, 0)
    assert [index for page in pages for _, index in page] == list(range(labels_))


def test_groups_for_several_stocks_stand_in_one_pdf_each_on_pages_of_its_own_size():
    groups = [Group(labels(3), SHEET, first=23), Group([label(2087426)], ROLL), Group([label(5724)], STAKE)]
    pdf = pypdfium2.PdfDocument(printed(groups))
    sizes = [tuple(round(side / 72 * 25.4) for side in page.get_size()) for page in pdf]
    assert sizes == [(210, 297), (210, 297), (54, 25), (120, 14)]
    texts = [page.get_textpage().get_text_range() for page in pdf]
    assert "208 742 6" in texts[2] and "572 4" in texts[3]
    with pytest.raises(CannotPrint, match="choose at most 2000"):
        printed([Group(labels(1001), ROLL), Group(labels(1000), STAKE)])
    with pytest.raises(CannotPrint, match="tick at least one"):
        printed([])
