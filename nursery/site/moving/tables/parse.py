"""Text into rows: the separator is seen from the headings, and limits hold before anything is built."""

import csv
import io
import unicodedata
from collections.abc import Iterator
from dataclasses import dataclass

from nursery.site.moving.tables.cells import as_written
from nursery.site.moving.tables.errors import CellWrong, TableRefused

MOST_ROWS = 500
"""About ten seconds of writing, during which nobody else can write where there is one SQLite file."""
MOST_COLUMNS = 60
MOST_LETTERS = 4_000
"""In one cell: what a remark may have."""
SEPARATORS = {"\t": "tabs", ";": "semicolons", ",": "commas", "|": "upright lines"}

EMPTY = "There is nothing here yet. Paste a table with its headings in the first row, or choose a file."
ONLY_HEADINGS = (
    "There are headings, but no rows under them. Mark the whole table, headings and rows, and paste it again."
)
TOO_MANY_ROWS = f"This table has more than {MOST_ROWS:,} rows. Bring it in parts, each with its headings."
TOO_MANY_COLUMNS = f"This table has more than {MOST_COLUMNS} columns. Delete those you do not need, and try again."
OPEN_QUOTE = (
    "A cell begins with a quotation mark that is never closed. Close it, or paste the cells from the spreadsheet."
)
ODD_QUOTE = "Row {row} has a quotation mark inside a quoted cell. Double it, or paste the cells from the spreadsheet."


@dataclass(frozen=True)
class Row:
    """One row: its number as the spreadsheet shows it (the headings are row 1), and its cells."""

    number: int
    cells: tuple[str, ...]


@dataclass(frozen=True)
class Table:
    """Headings, rows as long as these, and what separated the cells."""

    headings: tuple[str, ...]
    rows: tuple[Row, ...]
    separator: str

    @property
    def separated_by(self) -> str:
        return SEPARATORS[self.separator]

    def column(self, index: int) -> list[str]:
        return [row.cells[index] for row in self.rows if index < len(row.cells)]


def parsed(text: str) -> Table:
    """The table that this text is.

    Raises:
        TableRefused: empty, too long or too wide, or its quotation marks do not close.
    """
    text = text.lstrip("\ufeff").strip("\r\n")
    if not text.strip():
        raise TableRefused(EMPTY)
    if text.count("\n") > 4 * MOST_ROWS + MOST_LETTERS:  # cells may hold line breaks, but not that many
        raise TableRefused(TOO_MANY_ROWS)
    separator, text = _separator(text)
    rows = list(_rows(text, separator))
    if not rows:
        raise TableRefused(EMPTY)
    headings = _trimmed(rows[0].cells)
    if len(headings) > MOST_COLUMNS:
        raise TableRefused(TOO_MANY_COLUMNS)
    if len(rows) == 1:
        raise TableRefused(ONLY_HEADINGS)
    return Table(headings, tuple(_as_wide(row, len(headings)) for row in rows[1:]), separator)


def must_be_takeable(cell: str) -> None:
    """Raises CellWrong for a cell that is too long, or that holds what nobody can see."""
    if len(cell) > MOST_LETTERS:
        raise CellWrong(f"This cell has {len(cell):,} letters; {MOST_LETTERS:,} is the most. Shorten it.")
    if any(unicodedata.category(sign) == "Cc" and sign not in "\n\r\t" for sign in cell):
        raise CellWrong("This cell holds a control character that nobody can see. Type it again.")


def _separator(text: str) -> tuple[str, str]:
    """What separates the cells, and the text without a line that says so (as some spreadsheets write)."""
    first, _, rest = text.partition("\n")
    if first.lower().startswith("sep=") and first.strip()[4:] in SEPARATORS:
        return first.strip()[4:], rest
    bare = "".join(first.split('"')[0::2])  # what is not between quotation marks
    return max(SEPARATORS, key=bare.count) if any(sign in bare for sign in SEPARATORS) else ",", text


def _rows(text: str, separator: str) -> Iterator[Row]:
    """Rows with something in them, numbered with the empty ones."""
    number = 0
    reader = csv.reader(io.StringIO(text, newline=""), delimiter=separator, strict=True)
    try:
        for number, cells in enumerate(reader, start=1):
            cleaned = tuple(_cleaned(cell) for cell in cells)
            if any(cleaned):
                yield Row(number, cleaned)
            if number > MOST_ROWS + 1:
                raise TableRefused(TOO_MANY_ROWS)
    except csv.Error as error:
        words = str(error)
        if "end of data" in words or "field larger" in words:
            raise TableRefused(OPEN_QUOTE) from error
        raise TableRefused(ODD_QUOTE.format(row=number + 1)) from error


def _cleaned(cell: str) -> str:
    return as_written(cell.replace("\xa0", " ").replace("\r\n", "\n").strip(" \n\r"))


def _trimmed(cells: tuple[str, ...]) -> tuple[str, ...]:
    """Without the empty headings that spreadsheets add at the end."""
    while cells and not cells[-1]:
        cells = cells[:-1]
    return tuple(" ".join(cell.split())[:80] for cell in cells)


def _as_wide(row: Row, width: int) -> Row:
    """Filled up, and without empty cells behind the last heading; cells that hold something stay, to be told of."""
    cells = row.cells + ("",) * (width - len(row.cells))
    while len(cells) > width and not cells[-1]:
        cells = cells[:-1]
    return Row(row.number, cells)
