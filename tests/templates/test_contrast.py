"""The colours, light and dark, read from the style sheet and measured.

Formula and levels: WCAG 2.2, relative luminance and contrast ratio, success criteria 1.4.3 (text, 4.5:1) and 1.4.11
(edges of controls, 3:1).
"""

import re

import pytest

from tests.templates import STATIC

SHEET = (STATIC / "css/variables.css").read_text()
PAGE = ("paper", "card")
WASHES = ("leaf-wash", "red-wash", "amber-wash")
TEXT = [(ink, ground) for ink in ("ink", "soft", "leaf", "red", "amber") for ground in PAGE]
TEXT += [("ink", wash) for wash in WASHES]
TEXT += [("leaf", "leaf-wash"), ("soft", "leaf-wash"), ("soft", "red-wash"), ("red", "red-wash")]
TEXT += [("amber", "amber-wash"), ("on-fill", "fill")]
EDGES = [("edge", "paper"), ("edge", "card"), ("ink", "card"), ("leaf", "paper"), ("red", "card")]


def _colours(selector: str) -> dict[str, str]:
    block = SHEET.partition(selector + " {")[2].partition("}")[0]
    return dict(re.findall(r"--([a-z-]+): (#[0-9a-f]{6});", block))


LIGHT = _colours(":root")
DARK = _colours(':root[data-theme="dark"]')
SETS = {"light": LIGHT, "dark": DARK}


def contrast(one: str, other: str) -> float:
    """The contrast ratio of two colours, 1 to 21.

    >>> contrast("#000000", "#ffffff")
    21.0
    """
    low, high = sorted((_luminance(one), _luminance(other)))
    return (high + 0.05) / (low + 0.05)


def _luminance(colour: str) -> float:
    red, green, blue = (_linear(int(colour[at : at + 2], 16) / 255) for at in (1, 3, 5))
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def _linear(share: float) -> float:
    return share / 12.92 if share <= 0.04045 else ((share + 0.055) / 1.055) ** 2.4


def test_the_formula_gives_what_is_known() -> None:
    # From memory: #767676 is the lightest grey that passes on white, #777777 the first that does not.
    assert contrast("#767676", "#ffffff") >= 4.5 > contrast("#777777", "#ffffff")


@pytest.mark.parametrize("theme", SETS)
@pytest.mark.parametrize(("ink", "ground"), TEXT)
def test_text_can_be_read(theme: str, ink: str, ground: str) -> None:
    assert contrast(SETS[theme][ink], SETS[theme][ground]) >= 4.5


@pytest.mark.parametrize("theme", SETS)
@pytest.mark.parametrize(("edge", "ground"), EDGES)
def test_edges_of_controls_can_be_seen(theme: str, edge: str, ground: str) -> None:
    assert contrast(SETS[theme][edge], SETS[theme][ground]) >= 3


def test_the_dark_set_keeps_three_quarters_of_each_contrast_of_the_light_one() -> None:
    ratios = {
        (ink, ground): contrast(DARK[ink], DARK[ground]) / contrast(LIGHT[ink], LIGHT[ground]) for ink, ground in TEXT
    }
    assert {pair: round(ratio, 2) for pair, ratio in ratios.items() if ratio < 0.75} == {}


def test_both_ways_to_the_dark_set_give_the_same_colours() -> None:
    assert _colours('  :root:not([data-theme="light"])') == DARK
    assert DARK.keys() == LIGHT.keys()
