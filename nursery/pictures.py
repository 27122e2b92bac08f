"""What a phone sends as a photo, made into a plain JPEG that holds nothing but the picture. Pure: no Django, no disk.

The picture is drawn anew, upright and at most 2048 pixels long. What a camera writes beside it (place, time, owner,
model, thumbnails, colour profile) is never copied, because nothing but its pixels goes on.
"""

import hashlib
import io
import threading
from dataclasses import dataclass
from typing import BinaryIO

from PIL import Image, ImageCms, UnidentifiedImageError
from PIL.GifImagePlugin import GifImageFile
from PIL.JpegImagePlugin import JpegImageFile
from PIL.PngImagePlugin import PngImageFile
from PIL.WebPImagePlugin import WebPImageFile

MOST_BYTES = 20_000_000
"""Of a file as sent; photos of 50 megapixels stay below it."""
MOST_PIXELS, MOST_PIXELS_OF_OTHERS = 60_000_000, 25_000_000
"""Of a JPEG as sent, which is unpacked at the size needed, and of any other, which is unpacked whole. Told by its first
bytes: a small file can unfold into more memory than the server has."""
LONG_SIDE = 2048
SMALL_SIDE = 320
QUALITY, SMALL_QUALITY = 85, 75

FORMATS = [reader.format for reader in (JpegImageFile, PngImageFile, WebPImageFile, GifImageFile)]
"""Pillow knows dozens of others, which no phone's camera writes and which are not even tried."""

ORIENTATION = 0x0112
# Exif 2.32, tag Orientation: where the first row and the first column of the stored picture belong.
UPRIGHT = {
    2: Image.Transpose.FLIP_LEFT_RIGHT,
    3: Image.Transpose.ROTATE_180,
    4: Image.Transpose.FLIP_TOP_BOTTOM,
    5: Image.Transpose.TRANSPOSE,
    6: Image.Transpose.ROTATE_270,
    7: Image.Transpose.TRANSVERSE,
    8: Image.Transpose.ROTATE_90,
}

READABLE = "Take it with the phone's camera, or choose a JPEG, PNG, WebP or GIF"
_IN_TURN = threading.Lock()  # one at a time, so that memory holds one large picture, however many are sent at once


class PictureRefused(ValueError):
    """This is no photo that can be kept; the text is a sentence that says what to do."""


@dataclass(frozen=True)
class Picture:
    """A photo as it is kept: JPEG bytes with their measures in pixels, and the same one small."""

    full: bytes
    small: bytes
    width: int
    height: int

    @property
    def sha256(self) -> str:
        return hashlib.sha256(self.full).hexdigest()


def picture_read(sent: BinaryIO) -> Picture:
    """The photo in this file, drawn anew; of an animation, its first frame.

    Raises:
        PictureRefused: it is empty, too large, damaged, cut short, or no picture.
    """
    content = _content(sent)
    with _IN_TURN:
        drawn = _drawn(content)
    return Picture(_jpeg(drawn, QUALITY), small_of(drawn), drawn.width, drawn.height)


def small_from(full: bytes) -> bytes:
    """The small picture of a photo that is kept already."""
    with Image.open(io.BytesIO(full), formats=[JpegImageFile.format]) as image:
        image.draft("RGB", (SMALL_SIDE, SMALL_SIDE))
        return small_of(image.convert("RGB"))


def measures_of(full: bytes) -> tuple[int, int]:
    """Width and height, in pixels, of a photo that is kept already."""
    with Image.open(io.BytesIO(full), formats=[JpegImageFile.format]) as image:
        return image.size


def small_of(drawn: Image.Image) -> bytes:
    small = drawn.copy()
    small.thumbnail((SMALL_SIDE, SMALL_SIDE))
    return _jpeg(small, SMALL_QUALITY)


def _content(sent: BinaryIO) -> bytes:
    content = sent.read(MOST_BYTES + 1)
    if not content:
        raise PictureRefused("This file is empty. Take the photo again, or choose another.")
    if len(content) > MOST_BYTES:
        raise PictureRefused(
            f"This file is larger than {MOST_BYTES // 1_000_000} MB. Choose a smaller size in the camera's settings, "
            "or crop the photo, and send it again."
        )
    return content


def _drawn(content: bytes) -> Image.Image:
    """The picture upright, in red, green and blue, at most ``LONG_SIDE`` long."""
    image = _opened(content)
    most = MOST_PIXELS if isinstance(image, JpegImageFile) else MOST_PIXELS_OF_OTHERS
    if image.width * image.height > most:
        raise _too_many_pixels(most)
    turn = UPRIGHT.get(_orientation(image))
    try:
        image.draft(None, (LONG_SIDE, LONG_SIDE))  # of use to a JPEG only
        image.load()
        drawn = _in_srgb(_shrunk(image))
    except Exception as error:  # Pillow's readers raise whatever they stumble on: OSError, SyntaxError, struct.error
        raise PictureRefused(
            "This photo is damaged, or only a part of it arrived. Send it again, or take another."
        ) from error
    return drawn if turn is None else drawn.transpose(turn)


def _opened(content: bytes) -> Image.Image:
    """The picture's first bytes read: its format and measures, and no pixel yet."""
    try:
        return Image.open(io.BytesIO(content), formats=FORMATS)
    except (Image.DecompressionBombError, Image.DecompressionBombWarning) as error:
        raise _too_many_pixels(MOST_PIXELS) from error
    except UnidentifiedImageError as error:
        raise PictureRefused(_why_not_read(content)) from error
    except Exception as error:  # as above
        raise PictureRefused(f"This file is damaged or no photo. {READABLE}.") from error


def _too_many_pixels(most: int) -> PictureRefused:
    return PictureRefused(
        f"This picture has more than {most // 1_000_000} million pixels. Choose a smaller size in the camera's "
        "settings, or crop it, and send it again."
    )


def _why_not_read(content: bytes) -> str:
    """HEIC, which some phones write, is told by the brand in its first box (ISO/IEC 14496-12, 4.3)."""
    if content[4:8] == b"ftyp" and content[8:12] in {b"heic", b"heix", b"hevc", b"heim", b"heis", b"mif1", b"msf1"}:
        return (
            "This photo is in the HEIC format, which Tepal cannot read. Set the phone's camera to JPEG and retake it."
        )
    return f"This file is no photo that Tepal can read. {READABLE}."


def _orientation(image: Image.Image) -> int:
    """How the camera was held; 1, upright, where that cannot be read."""
    try:
        return image.getexif().get(ORIENTATION, 1)
    except Exception:  # damaged notes of the camera are no reason to refuse its picture
        return 1


def _shrunk(image: Image.Image) -> Image.Image:
    """At most ``LONG_SIDE`` long, in a mode whose colours can be mixed; what shows through is white."""
    profile = image.info.get("icc_profile")
    small = _mixable(image)
    small.thumbnail((LONG_SIDE, LONG_SIDE), Image.Resampling.LANCZOS)
    if small.mode == "RGBA":
        ground = Image.new("RGB", small.size, "white")
        ground.paste(small, mask=small.getchannel("A"))
        small = ground
    small.info = {"icc_profile": profile} if profile else {}
    return small


def _mixable(image: Image.Image) -> Image.Image:
    if image.has_transparency_data:
        return image if image.mode == "RGBA" else image.convert("RGBA")
    if image.mode.startswith("I"):  # greys in 16 bits
        return image.convert("I").point(lambda grey: grey * (1 / 256)).convert("L").convert("RGB")
    return image if image.mode in {"RGB", "CMYK"} else image.convert("RGB")


def _in_srgb(image: Image.Image) -> Image.Image:
    """The colours as the camera's profile means them, since the profile itself is not kept."""
    profile = image.info.get("icc_profile")
    if profile:
        try:
            meant = ImageCms.ImageCmsProfile(io.BytesIO(profile))
            return ImageCms.profileToProfile(image, meant, ImageCms.createProfile("sRGB"), outputMode="RGB")
        except (ImageCms.PyCMSError, OSError, ValueError):
            pass  # a profile that cannot be used, or of another kind of picture: the colours as they stand
    return image.convert("RGB")


def _jpeg(drawn: Image.Image, quality: int) -> bytes:
    """JPEG bytes of the pixels alone: what Pillow remembers of the file they came from stays behind."""
    bare = drawn.copy()
    bare.info = {}
    written = io.BytesIO()
    bare.save(written, "JPEG", quality=quality, optimize=True, progressive=True)
    return written.getvalue()
