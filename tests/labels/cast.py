"""Labels and stocks that the tests share."""

from labels.examples import CROSS
from labels.layout import LabelText
from labels.stock import Measures

SHEET = Measures(210, 297, 3, 8, 63.5, 33.9, left=7.25, top=12.9, gap_across=2.5, dpi=600)
FULL_SHEET = Measures(210, 297, 3, 8, 70, 37, left=0, top=0.5, dpi=600)
ROLL = Measures(54, 25, 1, 1, 54, 25, dpi=203)
STAKE = Measures(120, 14, 1, 1, 120, 14, dpi=203)
UPRIGHT_STAKE = Measures(15, 90, 1, 1, 15, 90, dpi=203)
SQUARE = Measures(30, 30, 1, 1, 30, 30, dpi=203)
STRIP = Measures(160, 20, 1, 1, 160, 20, dpi=300)
SLIM = Measures(60, 17.5, 1, 1, 60, 17.5, dpi=203)

ADDRESS = "https://tags.example"


def label(number: int = 208746, **changes: object) -> LabelText:
    """A seed pot of an invented cross."""
    facts = {
        "address": ADDRESS,
        "kind_words": "Seed pot",
        "name_parts": CROSS,
        "lines": ("sown 12 Nov 2026 · MB", "2 pods"),
    }
    return LabelText(number=number, **(facts | changes))


def labels(count: int, **changes: object) -> list[LabelText]:
    """That many different ones."""
    return [label(2087000 + index, **changes) for index in range(count)]
