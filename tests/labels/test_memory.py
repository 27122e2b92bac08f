"""How much memory a print takes, by what Python holds at once; pages are in the file once they are drawn."""

import pytest

from tests.benchmarks.labels import peak
from tests.labels.cast import ROLL, SHEET, label
from tests.labels.reading import drawn

KIB = 1024


@pytest.mark.parametrize("stock", [SHEET, ROLL], ids=["sheet", "roll"])
def test_many_labels_take_hardly_more_memory_than_some(stock):
    """A label laid out and drawn takes 24 KiB, a page in the file 1 KiB; of each page stays where it begins.

    Of 500 labels all is remembered that is ever remembered of words (``tests.benchmarks.labels.forget``).
    """
    few, many = 500, 1_500
    drawn([label()], stock)  # faces are read once
    assert peak(many, stock)[0] - peak(few, stock)[0] < (many - few) * 0.2 * KIB
