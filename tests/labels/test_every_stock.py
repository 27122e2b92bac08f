"""Each shipped stock, begun anywhere; long and odd words."""

import numpy as np
import pytest

from labels.layout import Leads
from labels.models import Stock
from labels.sheets import Group, lost_on
from labels.shipped import SHIPPED
from labels.stock import Measures
from tests.labels.cast import label, labels
from tests.labels.reading import drawn

STOCKS = pytest.mark.parametrize("columns", SHIPPED, ids=lambda columns: columns["name"])
LONGEST = (
    ("(lowii", "taxon"),
    (" × ", "plain"),
    ("ventricosa)", "taxon"),
    (" Red Kettle", "clone"),
    (" × ", "plain"),
    ("(veitchii × (boschiana × truncata))", "taxon"),
    (" " + "Long Damask " * 11, "clone"),
)
ODD = (("🌱" * 30, "clone"), (" × ", "plain"), ("إبريق " * 5, "clone"))


def measures(columns: dict) -> Measures:
    return Stock(**columns).measures


@STOCKS
def test_every_stock_is_begun_anywhere_and_filled_to_one_more_than_it_holds(columns):
    stock = measures(columns)
    places = stock.per_page
    for count, first in ((1, 1), (1, places), (places, 1), (places + 1, 1), (places, (places + 1) // 2)):
        printed = drawn(labels(count), stock, first=first)
        assert printed.pages == -(-(first - 1 + count) // places)
        for page in {0, printed.pages - 1}:
            on_it = [str(2087000 + index) for index in range(count) if (first - 1 + index) // places == page]
            told = printed.words(page).replace(" ", "")
            assert [number for number in on_it if number not in told] == []
        assert str(2087000 + count) not in printed.words(printed.pages - 1).replace(" ", "")


@STOCKS
@pytest.mark.parametrize("leads", Leads)
def test_long_and_odd_names_never_leave_the_label_nor_cost_the_number(columns, leads):
    assert sum(len(words) for words, _ in LONGEST) >= 200
    stock = measures(columns)
    texts = [label(2087461, name_parts=name, leads=leads) for name in (LONGEST, ODD, LONGEST[:6])]
    printed = drawn(texts, stock)
    assert printed.words(0).replace(" ", "").count("2087461") == min(3, stock.per_page)
    assert "🌱" in lost_on([Group(texts, stock)]).signs
    for page in range(printed.pages):
        picture = printed.page(page, dpi=150)
        edge = np.ones_like(picture, bool)
        edge[2:-2, 2:-2] = False
        assert not (picture[edge] < 128).any()
