"""Photos for the demo, drawn by code: no camera, no plant and no person stood before them."""

import io
from collections.abc import Callable
from dataclasses import dataclass
from functools import cache
from random import Random

from PIL import Image, ImageDraw, ImageFilter

from nursery.photo_files import KeptPhoto, photo_keep
from nursery.pictures import Picture, picture_read

WIDE, HIGH = 960, 1280
Pen = ImageDraw.ImageDraw


@dataclass(frozen=True)
class Drawn:
    """A photo to be drawn when its line goes into the books; ``seed`` makes one differ from the next."""

    subject: str
    seed: str

    def kept(self) -> KeptPhoto:
        return photo_keep(_picture(self.subject, self.seed))


@cache
def _picture(subject: str, seed: str) -> Picture:
    chance = Random(seed)
    image = _greenhouse(chance)
    SUBJECTS[subject](ImageDraw.Draw(image), chance)
    sent = io.BytesIO()
    image.filter(ImageFilter.BoxBlur(1)).save(sent, "JPEG")
    sent.seek(0)
    return picture_read(sent)


def _greenhouse(chance: Random) -> Image.Image:
    """Blurred leaves behind everything."""
    image = Image.new("RGB", (WIDE // 8, HIGH // 8), (70, 92, 66))
    pen = ImageDraw.Draw(image)
    for _ in range(60):
        x, y, size = chance.randrange(-10, WIDE // 8), chance.randrange(-10, HIGH // 8), chance.randrange(6, 30)
        green = chance.randrange(70, 150)
        pen.ellipse((x, y, x + size, y + size // 2), fill=(green // 2, green, green // 2 - 10))
    return image.filter(ImageFilter.GaussianBlur(4)).resize((WIDE, HIGH))


def _spike(pen: Pen, chance: Random, flower: Callable[[Pen, int, int], None]) -> None:
    middle = WIDE // 2
    pen.line((middle, HIGH, middle + 20, 90), fill=(96, 120, 60), width=16)
    for step in range(15):
        y = 140 + step * 70
        side = 1 if step % 2 else -1
        x = middle + side * (90 + 9 * step) + chance.randrange(-12, 12)
        pen.line((middle, y + 40, x, y), fill=(110, 134, 70), width=7)
        flower(pen, x, y)


def _female(pen: Pen, x: int, y: int) -> None:
    """Longer than wide, with a flat stigma on top."""
    pen.ellipse((x - 20, y - 58, x + 20, y + 36), fill=(150, 170, 82))
    pen.ellipse((x - 26, y - 66, x + 26, y - 48), fill=(206, 204, 140))


def _male(pen: Pen, x: int, y: int) -> None:
    """Round, with a ball of yellow anthers."""
    pen.ellipse((x - 34, y - 34, x + 34, y + 34), fill=(132, 74, 60))
    pen.ellipse((x - 15, y - 46, x + 15, y - 16), fill=(236, 200, 66))


def _pitcher(pen: Pen, chance: Random) -> None:
    red = chance.randrange(120, 170)
    pen.ellipse((290, 420, 670, 1160), fill=(150, 160, 86))
    for _ in range(70):
        x, y = chance.randrange(330, 620), chance.randrange(520, 1080)
        pen.ellipse((x, y, x + 26, y + 34), fill=(red, 52, 50))
    pen.ellipse((280, 380, 680, 560), fill=(red + 20, 60, 54))
    pen.ellipse((330, 410, 630, 530), fill=(60, 30, 30))
    pen.ellipse((330, 210, 650, 350), fill=(166, 170, 90))
    pen.line((640, 290, 660, 430), fill=(120, 134, 70), width=26)


def _seedlings(pen: Pen, chance: Random) -> None:
    pen.rectangle((90, 240, 870, 1100), fill=(52, 46, 44))
    pen.rectangle((120, 270, 840, 1070), fill=(92, 72, 48))
    for _ in range(130):
        x, y, size = chance.randrange(140, 800), chance.randrange(290, 1040), chance.randrange(12, 34)
        green = (chance.randrange(90, 140), chance.randrange(150, 200), 70)
        pen.ellipse((x, y, x + size, y + size // 2), fill=green)
        pen.ellipse((x - size // 2, y - size // 2, x + size // 3, y + size // 3), fill=green)


SUBJECTS: dict[str, Callable[[Pen, Random], None]] = {
    "female": lambda pen, chance: _spike(pen, chance, _female),
    "male": lambda pen, chance: _spike(pen, chance, _male),
    "pitcher": _pitcher,
    "seedlings": _seedlings,
}
