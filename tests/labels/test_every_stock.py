"""Each shipped stock, begun anywhere; long and odd words; and codes that are soft or stained."""

import cv2
import numpy as np
import pytest

from labels.codes import tag_url
from labels.layout import Leads, placed
from labels.models import Stock
from labels.sheets import print_labels
from labels.shipped import SHIPPED
from labels.stock import Measures
from tests.labels.cast import label, labels
from tests.labels.reading import Drawn, Picture, blurred, decoded, photographed

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
        printed = print_labels(labels(count), stock, first=first)
        drawn = Drawn(printed.pdf, stock)
        assert printed.pages == -(-(first - 1 + count) // places)
        for page in {0, printed.pages - 1}:
            on_it = [str(2087000 + index) for index in range(count) if (first - 1 + index) // places == page]
            told = drawn.words(page).replace(" ", "")
            assert [number for number in on_it if number not in told] == []
        assert str(2087000 + count) not in drawn.words(printed.pages - 1).replace(" ", "")


@STOCKS
@pytest.mark.parametrize("leads", Leads)
def test_long_and_odd_names_never_leave_the_label_nor_cost_the_number(columns, leads):
    assert sum(len(words) for words, _ in LONGEST) >= 200
    stock = measures(columns)
    texts = [label(2087461, name_parts=name, leads=leads) for name in (LONGEST, ODD, LONGEST[:6])]
    printed = print_labels(texts, stock)
    drawn = Drawn(printed.pdf, stock)
    assert drawn.words(0).replace(" ", "").count("2087461") == min(3, stock.per_page)
    assert "🌱" in printed.replaced
    for page in range(printed.pages):
        picture = drawn.page(page, dpi=150)
        edge = np.ones_like(picture, bool)
        edge[2:-2, 2:-2] = False
        assert not (picture[edge] < 128).any()


def code_of(dots: int) -> Picture:
    """A tag's code as a printer of 203 dots an inch sets it, so many dots a module, with its quiet zone."""
    [code] = placed(label(1234567), width=54, height=25, dpi=203).codes
    side = code.matrix.size + 8
    modules = np.full((side, side), 255, np.uint8)
    for row, start, length in code.matrix.runs:
        modules[4 + row, 4 + start : 4 + start + length] = 0
    return np.kron(modules, np.ones((dots, dots), np.uint8))


def read_times(pictures) -> int:
    wanted = {tag_url("https://tags.example", 1234567)}
    return sum(wanted in (decoded(picture), decoded(photographed(picture))) for picture in pictures)


@pytest.mark.parametrize("sigma", [0.5, 1.0])
def test_codes_of_four_dots_a_module_are_read_when_the_print_is_soft(sigma):
    # Measured with fixed seeds, another reader: blur of sigma 0.5 and 1.0 dots, 4 dots a module, level H: 50 of 50.
    draw = np.random.default_rng(6)
    noisy = (np.clip(code_of(4) + draw.normal(0, 6, code_of(4).shape), 0, 255).astype(np.uint8) for _ in range(10))
    assert read_times(blurred(picture, sigma) for picture in noisy) == 10


def test_a_stain_of_five_percent_off_the_corner_squares_is_outlived():
    # Measured with fixed seeds, another reader: blot of 5 % off the corner squares, level H: 199 of 200.
    draw = np.random.default_rng(5)
    assert read_times(_stained(code_of(4), 0.05, draw) for _ in range(20)) >= 18


def _stained(picture: Picture, share: float, draw: np.random.Generator) -> Picture:
    """A round grey blot of that share of the symbol (29 modules of 4 dots), off its three corner squares."""
    radius = round((share * (29 * 4) ** 2 / np.pi) ** 0.5)
    low, high = 16 + 8 * 4 + radius, 16 + 29 * 4 - radius
    x, y = draw.integers(low, high, 2)
    stained = picture.copy()
    cv2.circle(stained, (int(x), int(y)), radius, int(draw.integers(30, 130)), -1)
    return stained
