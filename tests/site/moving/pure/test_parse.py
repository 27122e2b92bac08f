"""Text into rows: separators, quotation marks, empty rows, and limits."""

import time
import tracemalloc

import pytest

from nursery.site.moving.tables import parse
from nursery.site.moving.tables.errors import CellWrong, TableRefused
from nursery.site.moving.tables.parse import must_be_takeable, parsed


@pytest.mark.parametrize("sign", ["\t", ";", ",", "|"])
def test_the_separator_is_seen_from_the_headings(sign: str) -> None:
    table = parsed(sign.join(["Species", "Place"]) + "\n" + sign.join(["lowii", "House 1"]) + "\n")
    assert (table.separator, table.headings, table.rows[0].cells) == (sign, ("Species", "Place"), ("lowii", "House 1"))


def test_a_separator_inside_quotation_marks_separates_nothing() -> None:
    table = parsed('"Species, or hybrid";Place\n"lowii; a";"House ""1"""\n')
    assert table.headings == ("Species, or hybrid", "Place")
    assert table.rows[0].cells == ("lowii; a", 'House "1"')


def test_a_line_that_names_the_separator_is_believed() -> None:
    assert parsed("sep=;\nSpecies;a,b,c,d\nlowii;x\n").headings == ("Species", "a,b,c,d")


def test_one_column_needs_no_separator() -> None:
    assert [row.cells for row in parsed("Species\nlowii\nhamata").rows] == [("lowii",), ("hamata",)]


def test_rows_bear_the_numbers_that_the_spreadsheet_shows() -> None:
    table = parsed("Species,Place\r\nlowii,\r\n,\r\n\r\nhamata,\r\n")
    assert [(row.number, row.cells[0]) for row in table.rows] == [(2, "lowii"), (5, "hamata")]


def test_line_breaks_inside_a_cell_stay() -> None:
    assert parsed('Species,Remark\nlowii,"tall,\r\nred"\n').rows[0].cells == ("lowii", "tall,\nred")


def test_short_rows_are_filled_up_and_empty_cells_behind_the_headings_go() -> None:
    rows = parsed("a,b\n1\n1,2,,\n1,2,3\n").rows
    assert [row.cells for row in rows] == [("1", ""), ("1", "2"), ("1", "2", "3")]


def test_a_byte_order_mark_and_our_own_apostrophes_go() -> None:
    assert parsed("\ufeffSpecies,Remark\nlowii,'=1+1\n").rows[0].cells == ("lowii", "=1+1")


@pytest.mark.parametrize(
    ("text", "sentence"),
    [
        ("", parse.EMPTY),
        (" \n\t\n", parse.EMPTY),
        (",,\n,,", parse.EMPTY),
        ("Species,Place\n", parse.ONLY_HEADINGS),
        ('Species\n"lowii\n', parse.OPEN_QUOTE),
        ('Species,b\n"lowii" x,1\n', parse.ODD_QUOTE.format(row=2)),
        ("Species\n" + "lowii\n" * (parse.MOST_ROWS + 1), parse.TOO_MANY_ROWS),
        (",".join("abcdefgh" * 8) + "\nlowii\n", parse.TOO_MANY_COLUMNS),
    ],
)
def test_what_cannot_be_read_is_refused_with_what_to_do(text: str, sentence: str) -> None:
    with pytest.raises(TableRefused) as refusal:
        parsed(text)
    assert str(refusal.value) == sentence


def test_as_many_rows_as_are_taken_are_taken() -> None:
    assert len(parsed("Species\n" + "lowii\n" * parse.MOST_ROWS).rows) == parse.MOST_ROWS


def test_a_million_rows_are_refused_quickly_and_without_building_them() -> None:
    text = "Species,Place\n" + "lowii,House 1\n" * 1_000_000
    tracemalloc.start()
    began = time.perf_counter()
    with pytest.raises(TableRefused) as refusal:
        parsed(text)
    took, most = time.perf_counter() - began, tracemalloc.get_traced_memory()[1]
    tracemalloc.stop()
    assert str(refusal.value) == parse.TOO_MANY_ROWS
    assert took < 1
    assert most < 3 * len(text), "the text itself, and nothing row by row"


@pytest.mark.parametrize("cell", ["", "two\nlines", "tab\tbed", "w" * parse.MOST_LETTERS, "🌱 नर्सरी"])
def test_cells_that_are_taken(cell: str) -> None:
    must_be_takeable(cell)


@pytest.mark.parametrize("cell", ["bell\x07", "del\x7f", "c1\x85", "w" * (parse.MOST_LETTERS + 1)])
def test_cells_that_are_not(cell: str) -> None:
    with pytest.raises(CellWrong):
        must_be_takeable(cell)
