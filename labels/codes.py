"""What a tag's code holds, and its pattern of dark modules. Pure: no Django, no clock."""

from dataclasses import dataclass
from functools import lru_cache
from urllib.parse import urlsplit

import numpy as np
import zxingcpp

QUIET = 4
"""Modules of white that ISO/IEC 18004 asks for on every side of the symbol."""

USUAL_VERSION = 3
"""29 modules a side: level H fits with a host of up to 17 letters, and four dots a module make 18.5 mm."""

LEVELS = ("H", "Q", "M", "L")

ANY_DIGIT = str.maketrans("123456789", "000000000")


class AddressUnfit(ValueError):
    """The public address cannot be printed in a code; the message is a sentence that says why."""


@dataclass(frozen=True, slots=True)
class Matrix:
    """A symbol without its quiet zone; its modules are worked out only when they are asked for.

    Attributes:
        text: what it says.
        size: modules a side.
        level: error correction, one of L, M, Q, H.
    """

    text: str
    size: int
    level: str

    @property
    def runs(self) -> tuple[tuple[int, int, int], ...]:
        """Dark modules as (row, first column, how many), rows from the top."""
        return _runs(self.text, self.level)

    @property
    def version(self) -> int:
        return (self.size - 17) // 4


def grouped(number: int) -> str:
    """The number as people read it, in threes from the left, the same as on screen.

    >>> grouped(208746), grouped(2087461), grouped(18)
    ('208 746', '208 746 1', '18')
    """
    digits = str(number)
    return " ".join(digits[start : start + 3] for start in range(0, len(digits), 3))


def tag_url(public_address: str, number: int) -> str:
    """The text of the code: the tag's address in capitals, which a QR code packs 45% denser than mixed case.

    Raises:
        AddressUnfit: no scheme, no host, or a path: paths are not the same in capitals.

    >>> tag_url("https://tags.example", 208746)
    'HTTPS://TAGS.EXAMPLE/T/208746'
    """
    parts = urlsplit(public_address.strip())
    if parts.scheme not in ("http", "https") or not parts.hostname:
        raise AddressUnfit(f"The public address must begin with https:// and a host name; it is “{public_address}”.")
    if parts.path.strip("/") or parts.query or parts.fragment or parts.username:
        raise AddressUnfit(f"The public address must end with the host name; it is “{public_address}”.")
    return f"{parts.scheme}://{_host(parts.netloc)}/T/{number}".upper()


def _host(netloc: str) -> str:
    """The host with its port; a name in other letters than a-z in the form that the network uses."""
    if netloc.isascii():
        return netloc
    try:
        return netloc.encode("idna").decode("ascii")
    except UnicodeError as error:
        raise AddressUnfit(f"“{netloc}” is not a host name.") from error


def matrix(text: str, *, version: int = USUAL_VERSION) -> Matrix:
    """The symbol for a text, at the highest error level that needs no larger symbol than asked for.

    Dirt is the enemy of a tag, so spare room goes into error correction. A text too long for
    ``version`` even at level L takes the smallest version that holds it, at the highest level there.

    Args:
        text: what the code says; capitals, digits and the signs of a web address pack best.
        version: size to fill, 1 to 40; the side in modules is 17 + 4 x version.
    """
    size, level = _size_and_level(text.translate(ANY_DIGIT), version)
    return Matrix(text, size, level)


@lru_cache(maxsize=100)
def _size_and_level(text: str, version: int) -> tuple[int, str]:
    """Modules a side, and the level. The same for texts that differ in which digits stand in the same places.

    Every way in which a symbol packs digits takes as many bits for one as for another (ISO/IEC 18004). So the symbols
    of a nursery's tags need not be drawn to know how much room they take.
    """
    for level in LEVELS:
        size = _image(text, level).shape[0]
        if size <= 17 + 4 * version:
            return size, level
    return _size_and_level(text, (size - 17) // 4)


def _image(text: str, level: str) -> np.ndarray:
    barcode = zxingcpp.create_barcode(text, zxingcpp.BarcodeFormat.QRCode, ec_level=level)
    return np.asarray(barcode.to_image(scale=1, add_quiet_zones=False))


@lru_cache(maxsize=2)
def _runs(text: str, level: str) -> tuple[tuple[int, int, int], ...]:
    """Runs of dark modules (0) along each row; kept for the other end of a long tag, and for its copies."""
    image = _image(text, level)
    dark = np.zeros((image.shape[0], image.shape[1] + 2), np.int8)
    dark[:, 1:-1] = image == 0
    edges = np.diff(dark)
    rows, starts = np.nonzero(edges == 1)
    _, ends = np.nonzero(edges == -1)
    return tuple(zip(rows.tolist(), starts.tolist(), (ends - starts).tolist(), strict=True))
