"""Pictures drawn by code, as a phone, a careless person or an attacker might send them. None shows anything real."""

import io
import zlib
from typing import Any

from PIL import Image, ImageDraw

from nursery.photo_files import KeptPhoto, photo_keep
from nursery.pictures import picture_read

RED, GREEN, BLUE, YELLOW = (200, 30, 40), (30, 140, 60), (40, 60, 190), (230, 200, 40)
CORNERS = (RED, GREEN, BLUE, YELLOW)
"""Top left, top right, bottom left, bottom right."""


def drawn(width: int = 120, height: int = 80, mode: str = "RGB") -> Image.Image:
    """A picture whose four quarters each have a colour of their own, so that its turning shows."""
    picture = Image.new("RGB", (width, height))
    pen = ImageDraw.Draw(picture)
    for number, colour in enumerate(CORNERS):
        left, top = (number % 2) * width // 2, (number // 2) * height // 2
        pen.rectangle((left, top, left + width // 2, top + height // 2), fill=colour)
    return picture.convert(mode)


def written(picture: Image.Image, format: str = "JPEG", **how: Any) -> bytes:
    file = io.BytesIO()
    picture.save(file, format, **how)
    return file.getvalue()


def jpeg(width: int = 120, height: int = 80, **how: Any) -> bytes:
    return written(drawn(width, height), quality=95, **how)


def kept(width: int = 120, height: int = 80) -> KeptPhoto:
    """A drawn photo, on the disk as one that was sent."""
    return photo_keep(picture_read(io.BytesIO(jpeg(width, height))))


def corners(content: bytes) -> list[str]:
    """The colours in the four corners of a picture, by name, read as a browser would show it."""
    picture = Image.open(io.BytesIO(content)).convert("RGB")
    right, bottom = picture.width - 4, picture.height - 4
    return [nearest(picture.getpixel(at)) for at in ((3, 3), (right, 3), (3, bottom), (right, bottom))]


def nearest(colour: tuple[int, ...]) -> str:
    """The name of the drawn colour that this one is nearest to."""
    names = {"red": RED, "green": GREEN, "blue": BLUE, "yellow": YELLOW, "white": (255, 255, 255), "black": (0, 0, 0)}
    return min(names, key=lambda name: sum((a - b) ** 2 for a, b in zip(names[name], colour, strict=True)))


def png_of(width: int, height: int) -> bytes:
    """A PNG that says it is so large, its rows all nought and packed to almost nothing (ISO/IEC 15948, 11.2)."""
    packer = zlib.compressobj(9)
    rows = b"".join(packer.compress(bytes(1 + width // 8)) for _ in range(height)) + packer.flush()
    header = width.to_bytes(4) + height.to_bytes(4) + bytes([1, 0, 0, 0, 0])
    return b"\x89PNG\r\n\x1a\n" + _chunk(b"IHDR", header) + _chunk(b"IDAT", rows) + _chunk(b"IEND", b"")


def _chunk(name: bytes, content: bytes) -> bytes:
    return len(content).to_bytes(4) + name + content + zlib.crc32(name + content).to_bytes(4)
