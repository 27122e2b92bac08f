"""How much memory a print holds while it goes on; pages are in the file once they are drawn."""

import gc
import tracemalloc
from io import BytesIO

import pytest

from labels.sheets import Group, print_groups
from labels.stock import Measures
from tests.benchmarks.labels import forget, texts
from tests.labels.cast import ROLL, SHEET

KIB = 1024
FILLED, COUNT = 600, 1_300
"""Labels until all is remembered that is ever remembered of words, and labels in all."""


class Watched(BytesIO):
    """A file that keeps nothing, and notes now and then how many bytes Python holds, garbage left out."""

    def __init__(self, every: int) -> None:
        super().__init__()
        self.every = every
        self.held: list[int] = []
        self.writes = self.length = 0

    def write(self, data) -> int:
        self.writes += 1
        self.length += len(data)
        if self.writes % self.every == 0:
            gc.collect()
            self.held.append(tracemalloc.get_traced_memory()[0])
        return len(data)

    def tell(self) -> int:
        return self.length


@pytest.mark.parametrize(("stock", "every", "each"), [(SHEET, 4, 0.1), (ROLL, 40, 0.3)], ids=["sheet", "roll"])
def test_many_labels_take_hardly_more_memory_than_some(stock: Measures, every: int, each: float) -> None:
    """A label laid out and drawn takes 24 KiB, a page packed 0.35 KiB for each of its labels or more.

    Of each page stays where it begins, on a roll some 0.17 KiB a label.
    """
    labels, out = texts(COUNT), Watched(every)
    forget()
    gc.collect()
    gc.freeze()  # what was there before need not be looked through at every write
    tracemalloc.start()
    try:
        print_groups([Group(labels, stock)], out)
    finally:
        tracemalloc.stop()
    filled = out.held[len(out.held) * FILLED // COUNT]
    assert max(out.held[-len(out.held) // 10 :]) - filled < (COUNT - FILLED) * each * KIB
