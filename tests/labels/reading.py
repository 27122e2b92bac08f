"""Looks at drawn labels the way a printer and a phone do: dots, then a decoder of another library than drew them."""

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property, lru_cache
from io import BytesIO

import cv2
import numpy as np
import pypdfium2
from numpy.typing import NDArray

from labels.layout import LabelText
from labels.sheets import Group, print_groups
from labels.stock import Measures

Picture = NDArray[np.uint8]

cv2.setNumThreads(1)  # it would wait for every core, and workers share them


@dataclass(frozen=True)
class Drawn:
    """A PDF under test, with the stock it was drawn for."""

    pdf: bytes
    stock: Measures

    @cached_property
    def pages(self) -> int:
        return len(pypdfium2.PdfDocument(self.pdf))

    def page(self, index: int, *, dpi: int) -> Picture:
        """Grey picture of a page, one pixel a dot; not to be written on, for the next label is cut from it too."""
        return _page(self.pdf, index, dpi)

    def label(self, position: int, *, dpi: int, page: int = 0) -> Picture:
        """Cut one label out of a page; 0 is the first."""
        return cut(self.page(page, dpi=dpi), self.stock, position, dpi)

    def words(self, page: int = 0) -> str:
        """The page's text as a search or a screen reader gets it, in one line."""
        return " ".join(pypdfium2.PdfDocument(self.pdf)[page].get_textpage().get_text_range().split())


@lru_cache(maxsize=1)
def _page(pdf: bytes, index: int, dpi: int) -> Picture:
    return np.asarray(pypdfium2.PdfDocument(pdf)[index].render(scale=dpi / 72, grayscale=True).to_pil())


def printed(groups: Sequence[Group]) -> bytes:
    """The PDF of some groups."""
    out = BytesIO()
    print_groups(groups, out)
    return out.getvalue()


def drawn(texts: Sequence[LabelText], stock: Measures, *, first: int = 1) -> Drawn:
    """Labels on one stock."""
    return Drawn(printed([Group(texts, stock, first)]), stock)


def cut(picture: Picture, stock: Measures, position: int, dpi: int) -> Picture:
    """The part of a page's picture that is one label."""
    dots = dpi / 25.4
    x, y = stock.corner(position)
    top = stock.page_height - y - stock.label_height
    return picture[
        round(top * dots) : round((top + stock.label_height) * dots),
        round(x * dots) : round((x + stock.label_width) * dots),
    ]


def decoded(picture: Picture) -> set[str]:
    """What the codes in a picture say; OpenCV reads, while zxing-cpp wrote."""
    found, texts, _, _ = cv2.QRCodeDetectorAruco().detectAndDecodeMulti(picture)
    return {text for text in texts if text} if found else set()


def read(picture: Picture) -> set[str]:
    """What a label's code says: looked for where it usually is, then anywhere, as it is and as a phone sees it."""
    high, wide = picture.shape
    half = picture[:, : wide // 2] if wide > high else picture[high // 2 :]
    return decoded(half) or decoded(photographed(half)) or decoded(picture) or decoded(photographed(picture))


def blurred(picture: Picture, sigma: float) -> Picture:
    """Soft print: Gaussian blur, sigma in dots."""
    return np.asarray(cv2.GaussianBlur(picture, (0, 0), sigma))


def photographed(picture: Picture) -> Picture:
    """As a phone sees it: several pixels to each dot of the printer."""
    return np.asarray(cv2.resize(picture, None, fx=3, fy=3, interpolation=cv2.INTER_CUBIC))


def ink_outside(picture: Picture, stock: Measures, dpi: int) -> int:
    """Dark pixels on a page that lie on no label."""
    left = picture.copy()
    for position in range(stock.per_page):
        cut(left, stock, position, dpi)[:] = 255
    return int((left < 128).sum())
