"""How much memory a print takes, by what Python holds at once; labels are forgotten once their page is drawn."""

import pytest

from labels.draw import register_fonts
from labels.sheets import print_labels
from tests.benchmarks.labels import peak
from tests.labels.cast import ROLL, SHEET, label

KIB = 1024


@pytest.mark.parametrize(
    ("stock", "few", "many", "each"), [(SHEET, 500, 2_000, 1.5), (ROLL, 200, 800, 9)], ids=["sheet", "roll"]
)
def test_many_labels_take_little_more_memory_than_some(stock, few: int, many: int, each: float):
    """A label laid out and drawn in full takes 24 KiB; on a roll each is a page, with the objects that makes."""
    register_fonts()
    print_labels([label()], stock)  # faces are read once
    assert peak(many, stock)[0] - peak(few, stock)[0] < (many - few) * each * KIB
