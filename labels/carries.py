"""How well the codes of tags are read on a stock, in words. Pure.

The trials: codes drawn in whole dots, read as printed after blurs of 0.5 to 1.5 dots at 203 dots an inch. Four dots a
module (0.50 mm) were read through every blur, six (0.75 mm) passed everything tried, three (0.375 mm) failed when the
print was blurred by 1.5 dots. Measured; a blot of 15 % of the code beats every level some of the time.
"""

from labels.examples import example
from labels.frame import NARROW, SAFE_MODULE
from labels.layout import Placed, placed
from labels.stock import Measures

STRONG_MODULE = 0.74
"""Millimetres: six dots at 203 dpi."""

LEVELS = {"H": "the strongest", "Q": "strong", "M": "middling", "L": "the weakest"}


def carries(stock: Measures, address: str) -> str:
    """One or two sentences on the code that a tag gets on this stock.

    Raises:
        AddressUnfit: the public address cannot stand in a code.
    """
    size = {"width": stock.label_width, "height": stock.label_height, "dpi": stock.dpi}
    label = placed(example("seedpot", address), **size, free=stock.free, free_last=stock.free_last)
    return _code(label, stock.dpi) if label.codes else _digits(label)


def _digits(label: Placed) -> str:
    return (
        f"No code fits: it needs a label {NARROW:g} mm high, and room beside it. "
        f"Tags carry their digits alone, {label.pieces[0].size:g} points high."
    )


def _code(label: Placed, dpi: int) -> str:
    code = label.codes[0]
    dots = round(code.module * dpi / 25.4)
    level = LEVELS[code.matrix.level]
    twice = ", at both ends" if len(label.codes) > 1 else ""
    size = f"A code of {code.side:.1f} mm{twice}, {dots} dots ({code.module:.2f} mm) a module"
    return f"{size}, with {level} error correction ({code.matrix.level}). {_read(code.module)}"


def _read(module: float) -> str:
    if module >= STRONG_MODULE:
        return "In trials such codes were read through every blur tried."
    if module >= SAFE_MODULE - 0.005:
        return "In trials such codes were read through every blur tried, if with less to spare than larger ones."
    return "In trials such codes were read when the print was crisp, and lost when it was soft: try one first."
