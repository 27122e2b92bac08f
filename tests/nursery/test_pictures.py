"""What comes as a photo is drawn anew and bare, or refused with a sentence that says what to do."""

import io
import threading

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from PIL import Image, ImageCms

from nursery import pictures
from nursery.pictures import Picture, PictureRefused, measures_of, picture_read, small_from
from tests.drawing import GREEN, RED, corners, drawn, jpeg, png_of, written

AS_DRAWN = ["red", "green", "blue", "yellow"]


def _read(content: bytes) -> Picture:
    return picture_read(io.BytesIO(content))


def _refusal(content: bytes) -> str:
    with pytest.raises(PictureRefused) as refused:
        _read(content)
    return str(refused.value)


def _segments(content: bytes) -> list[int]:
    """The markers of a JPEG before its picture data. Source: ITU-T T.81, annex B.1.1."""
    assert content[:2] == b"\xff\xd8"
    at, found = 2, []
    while content[at + 1] != 0xDA:
        assert content[at] == 0xFF
        found.append(content[at + 1])
        at += 2 + int.from_bytes(content[at + 2 : at + 4])
    return found


def test_it_works():
    picture = _read(jpeg(1200, 800))
    assert (picture.width, picture.height) == measures_of(picture.full) == (1200, 800)
    assert corners(picture.full) == corners(picture.small) == AS_DRAWN
    assert measures_of(picture.small) == (320, 213)
    with Image.open(io.BytesIO(picture.full)) as image:
        assert (image.format, image.mode) == ("JPEG", "RGB")


def test_the_same_file_gives_the_same_name():
    assert _read(jpeg()).sha256 == _read(jpeg()).sha256 != _read(jpeg(121)).sha256


def test_the_small_one_can_be_made_again():
    full = _read(jpeg(3000, 1000)).full
    assert measures_of(small_from(full)) == (320, 107)
    assert corners(small_from(full)) == AS_DRAWN


# --- turned ---

# Exif 2.32, table 6 (Orientation): which side of the scene the stored first row and first column are.
STORED = {
    1: lambda scene: scene,
    2: lambda scene: scene.transpose(Image.Transpose.FLIP_LEFT_RIGHT),  # row: top, column: right
    3: lambda scene: scene.rotate(180),  # bottom, right
    4: lambda scene: scene.transpose(Image.Transpose.FLIP_TOP_BOTTOM),  # bottom, left
    5: lambda scene: scene.transpose(Image.Transpose.TRANSPOSE),  # left, top
    6: lambda scene: scene.rotate(90, expand=True),  # right, top: a phone held upright
    7: lambda scene: scene.transpose(Image.Transpose.TRANSVERSE),  # right, bottom
    8: lambda scene: scene.rotate(-90, expand=True),  # left, bottom
}
FIRST_ROW_AND_COLUMN = {
    1: ("top", "left"),
    2: ("top", "right"),
    3: ("bottom", "right"),
    4: ("bottom", "left"),
    5: ("left", "top"),
    6: ("right", "top"),
    7: ("right", "bottom"),
    8: ("left", "bottom"),
}
SIDES = {"top": {"red", "green"}, "bottom": {"blue", "yellow"}, "left": {"red", "blue"}, "right": {"green", "yellow"}}


def _turned(orientation: int, format: str = "JPEG") -> bytes:
    exif = Image.Exif()
    exif[0x0112] = orientation
    return written(STORED[orientation](drawn(200, 100)), format, exif=exif)


@pytest.mark.parametrize("orientation", STORED)
def test_the_samples_are_stored_as_the_standard_says(orientation: int):
    top_left, top_right, bottom_left, _ = corners(_turned(orientation))
    row, column = FIRST_ROW_AND_COLUMN[orientation]
    assert {top_left, top_right} == SIDES[row]
    assert {top_left, bottom_left} == SIDES[column]


@pytest.mark.parametrize("format", ["JPEG", "PNG", "WEBP"])
@pytest.mark.parametrize("orientation", STORED)
def test_however_the_phone_was_held_it_stands_upright(orientation: int, format: str):
    picture = _read(_turned(orientation, format))
    assert (picture.width, picture.height) == (200, 100)
    assert corners(picture.full) == corners(picture.small) == AS_DRAWN


@pytest.mark.parametrize("orientation", [0, 9, 65535])
def test_an_orientation_that_does_not_exist_is_no_turn(orientation: int):
    exif = Image.Exif()
    exif[0x0112] = orientation
    assert corners(_read(jpeg(exif=exif)).full) == AS_DRAWN


@pytest.mark.filterwarnings("ignore:Corrupt EXIF data")
def test_damaged_camera_notes_do_not_spoil_the_picture():
    assert corners(_read(jpeg(exif=b"Exif\x00\x00II*\x00\xff\xff\xff\xffgarbage")).full) == AS_DRAWN


# --- nothing beside the picture ---


def _telling(format: str) -> bytes:
    """A photo with everything that a camera and an editor write beside it."""
    exif = Image.Exif()
    exif[0x010F], exif[0x013B] = "Invented Camera Works", "Ida Fern"
    exif.get_ifd(0x8825).update({1: "N", 2: (1.0, 33.0, 12.5), 3: "E", 4: (110.0, 20.0, 41.0)})
    exif.get_ifd(0x8769).update({0x9003: "2026:03:09 07:30:00", 0x927C: b"maker's secret"})
    profile = ImageCms.ImageCmsProfile(ImageCms.createProfile("sRGB")).tobytes()
    how = {"exif": exif, "icc_profile": profile}
    if format in {"JPEG", "WEBP"}:
        how["xmp"] = b'<x:xmpmeta xmlns:x="adobe:ns:meta/"><photographer>Ida Fern</photographer></x:xmpmeta>'
    if format == "JPEG":
        how["comment"] = b"by the third bench"
    return written(drawn(400, 300), format, **how)


SECRETS = [b"Exif", b"xmpmeta", b"ns.adobe.com", b"ICC_PROFILE", b"acsp", b"Ida Fern", b"Invented", b"secret", b"bench"]


@pytest.mark.parametrize("format", ["JPEG", "PNG", "WEBP"])
def test_what_was_written_beside_the_picture_is_gone(format: str):
    sent = _telling(format)
    with Image.open(io.BytesIO(sent)) as image:
        assert image.getexif().get_ifd(0x8825)[4] == (110.0, 20.0, 41.0), "the sample knows where it was taken"
    picture = _read(sent)
    for content in (picture.full, picture.small):
        assert [secret for secret in SECRETS if secret in content] == []
        with Image.open(io.BytesIO(content)) as image:
            assert dict(image.getexif()) == {}
            assert set(image.info) <= {
                "jfif",
                "jfif_version",
                "jfif_unit",
                "jfif_density",
                "progressive",
                "progression",
            }


def test_the_samples_carry_what_the_test_looks_for():
    sent = _telling("JPEG")
    assert [secret for secret in SECRETS if secret not in sent] == []


@pytest.mark.parametrize("format", ["JPEG", "PNG", "WEBP"])
def test_the_file_has_no_segment_for_notes(format: str):
    """APP1 to APP15 carry Exif, XMP and profiles, COM a comment. Source: ITU-T T.81, table B.1."""
    picture = _read(_telling(format))
    for content in (picture.full, picture.small):
        notes = [marker for marker in _segments(content) if 0xE1 <= marker <= 0xEF or marker == 0xFE]
        assert notes == []
        assert content.endswith(b"\xff\xd9"), "nothing stands behind its end"


def test_what_stands_behind_the_picture_is_gone():
    assert b"another picture" not in _read(jpeg() + b"another picture").full


def test_a_wide_gamut_is_brought_home_before_its_profile_goes():
    """Green (0, 255, 0) in a profile of wider primaries must come out greener than it stands in plain numbers.

    The profile is sRGB with red and green swapped, so that a transformation shows beyond doubt.
    """
    profile = bytearray(ImageCms.ImageCmsProfile(ImageCms.createProfile("sRGB")).tobytes())
    red, green = profile.index(b"rXYZ"), profile.index(b"gXYZ")
    profile[red : red + 4], profile[green : green + 4] = b"gXYZ", b"rXYZ"
    picture = Image.new("RGB", (64, 64), (255, 0, 0))
    content = _read(written(picture, "PNG", icc_profile=bytes(profile))).full
    red_out, green_out, _ = Image.open(io.BytesIO(content)).getpixel((32, 32))
    assert green_out > 200 > 60 > red_out


@pytest.mark.parametrize("profile", [b"no profile at all", b"\x00" * 128])
def test_a_profile_that_makes_no_sense_is_left_out(profile: bytes):
    assert corners(_read(jpeg(icc_profile=profile)).full) == AS_DRAWN


# --- kinds of pictures ---


@pytest.mark.parametrize("mode", ["L", "P", "CMYK", "RGB"])
def test_every_mode_becomes_red_green_and_blue(mode: str):
    format = "JPEG" if mode in {"CMYK", "L"} else "PNG"
    with Image.open(io.BytesIO(_read(written(drawn(120, 80, mode), format)).full)) as image:
        assert image.mode == "RGB"


@pytest.mark.parametrize("mode", ["P", "CMYK", "RGB"])
def test_colours_stay_what_they_were(mode: str):
    format = "JPEG" if mode == "CMYK" else "PNG"
    assert corners(_read(written(drawn(120, 80, mode), format)).full) == AS_DRAWN


def test_what_shows_through_is_white():
    picture = drawn(200, 200, "RGBA")
    picture.paste((0, 0, 0, 0), (0, 0, 100, 100))
    assert corners(_read(written(picture, "PNG")).full) == ["white", "green", "blue", "yellow"]


def test_a_palette_that_shows_through_is_white_too():
    picture = drawn(200, 200).quantize(8)
    clear = picture.getpixel((10, 10))
    assert corners(_read(written(picture, "GIF", transparency=clear)).full) == ["white", "green", "blue", "yellow"]


def test_greys_in_sixteen_bits_keep_their_brightness():
    half = Image.new("I;16", (40, 40), 0x8000)
    grey = Image.open(io.BytesIO(_read(written(half, "PNG")).full)).getpixel((20, 20))
    assert all(abs(part - 128) <= 2 for part in grey)


@pytest.mark.parametrize("format", ["GIF", "WEBP", "PNG"])
def test_of_an_animation_the_first_frame_is_kept(format: str):
    first, second = Image.new("RGB", (60, 40), RED), Image.new("RGB", (60, 40), GREEN)
    picture = _read(written(first, format, save_all=True, append_images=[second], duration=100))
    assert set(corners(picture.full)) == {"red"}


def test_of_several_pictures_in_one_file_the_first_is_kept():
    """Some phones add a preview behind the photo (CIPA DC-007, multi-picture format)."""
    second = Image.new("RGB", (120, 80), GREEN)
    assert corners(_read(written(drawn(), "MPO", save_all=True, append_images=[second])).full) == AS_DRAWN


# --- sizes ---


@pytest.mark.parametrize(
    ("sent", "kept"),
    [
        ((2048, 1536), (2048, 1536)),
        ((4000, 3000), (2048, 1536)),
        ((3000, 4000), (1536, 2048)),
        ((6000, 20), (2048, 7)),
        ((9000, 1), (2048, 1)),
        ((1, 1), (1, 1)),
    ],
)
def test_it_is_at_most_so_long_and_never_made_larger(sent: tuple[int, int], kept: tuple[int, int]):
    picture = _read(jpeg(*sent))
    assert (picture.width, picture.height) == measures_of(picture.full) == kept


def test_a_photo_of_fifty_megapixels_is_taken():
    picture = _read(written(Image.new("RGB", (8192, 6144), GREEN)))
    assert (picture.width, picture.height) == (2048, 1536)


# --- refused ---

READABLE = "Take it with the phone's camera, or choose a JPEG, PNG, WebP or GIF."
NO_PHOTO = {
    "text renamed": b"Dear all, the pods on bench three are turning.\n" * 40,
    "svg": b'<svg xmlns="http://www.w3.org/2000/svg"><script>alert(1)</script></svg>',
    "html": b"<!doctype html><script>alert(1)</script>",
    "pdf": b"%PDF-1.7\n%%EOF",
    "zip": b"PK\x03\x04" + bytes(60),
    "one byte": b"\x00",
    "bmp": written(drawn(), "BMP"),
    "tiff": written(drawn(), "TIFF"),
    "postscript": b"%!PS-Adobe-3.0 EPSF-3.0\n%%BoundingBox: 0 0 10 10\n",
}


@pytest.mark.parametrize("content", NO_PHOTO.values(), ids=NO_PHOTO)
def test_what_is_no_photo_is_refused(content: bytes):
    assert _refusal(content) == f"This file is no photo that Tepal can read. {READABLE}"


def test_an_empty_file_is_refused():
    assert _refusal(b"") == "This file is empty. Take the photo again, or choose another."


def test_heic_is_refused_by_its_name():
    """Brands in the first box of the file. Source: ISO/IEC 23008-12, 10.2 and 10.4 (heic, mif1)."""
    said = "This photo is in the HEIC format, which Tepal cannot read. Set the phone's camera to JPEG and retake it."
    assert _refusal(b"\x00\x00\x00\x18ftypheic" + bytes(40)) == said
    assert _refusal(b"\x00\x00\x00\x18ftypmif1" + bytes(40)) == said


DAMAGED = "This photo is damaged, or only a part of it arrived. Send it again, or take another."


@pytest.mark.parametrize("format", ["JPEG", "PNG", "WEBP", "GIF"])
@pytest.mark.parametrize("share", [0.3, 0.6, 0.95])
def test_a_photo_that_was_cut_short_is_refused(format: str, share: float):
    whole = written(Image.effect_noise((300, 200), 90).convert("RGB"), format)
    said = _refusal(whole[: int(len(whole) * share)])
    assert said in {
        DAMAGED,
        f"This file is damaged or no photo. {READABLE}",
        f"This file is no photo that Tepal can read. {READABLE}",
    }


def test_only_the_first_bytes_of_a_photo_are_refused():
    assert _refusal(jpeg()[:20]).endswith(".")


def test_a_file_that_is_too_large_is_refused_without_being_read_whole():
    class Endless(io.RawIOBase):
        given = 0

        def read(self, size: int = -1) -> bytes:
            assert size > 0, "asked for all of it"
            self.given += size
            return bytes(size)

    endless = Endless()
    with pytest.raises(PictureRefused) as refused:
        picture_read(endless)
    assert str(refused.value) == (
        "This file is larger than 20 MB. Choose a smaller size in the camera's settings, or crop the photo, and send "
        "it again."
    )
    assert endless.given == pictures.MOST_BYTES + 1


@pytest.mark.parametrize(("measures", "most"), [((20_000, 20_000), 60), ((10_000, 9_500), 60), ((25_000, 1_001), 25)])
def test_a_small_file_that_would_unfold_into_a_huge_picture_is_refused(
    measures: tuple[int, int], most: int, monkeypatch
):
    def unfolded(*_):
        raise AssertionError("It began to unpack the pixels.")

    monkeypatch.setattr("PIL.ImageFile.ImageFile.load", unfolded)
    bomb = png_of(*measures)
    assert len(bomb) < 200_000
    assert _refusal(bomb) == (
        f"This picture has more than {most} million pixels. Choose a smaller size in the camera's settings, or crop "
        "it, and send it again."
    )


def test_a_picture_within_the_limit_is_unfolded():
    assert _read(png_of(3_504, 7_008)).width == 1024


def test_a_jpeg_that_says_it_is_huge_is_refused():
    """Its height and width stand in the frame header. Source: ITU-T T.81, B.2.2."""
    sent = bytearray(jpeg())
    frame = sent.index(b"\xff\xc0")
    sent[frame + 5 : frame + 9] = (8_000).to_bytes(2) + (7_600).to_bytes(2)
    assert _refusal(bytes(sent)).startswith("This picture has more than 60 million pixels.")


def test_many_at_once_are_drawn_one_after_another(monkeypatch):
    at_once, most = [], []
    usual = pictures._drawn

    def watched(content: bytes):
        at_once.append(1)
        most.append(len(at_once))
        try:
            return usual(content)
        finally:
            at_once.pop()

    monkeypatch.setattr(pictures, "_drawn", watched)
    threads = [threading.Thread(target=_read, args=(jpeg(900, 600),)) for _ in range(4)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    assert most == [1, 1, 1, 1]


@pytest.mark.filterwarnings("ignore::UserWarning")  # Pillow says so when it meets damage
@settings(max_examples=150, deadline=None)
@given(st.data())
def test_whatever_bytes_come_it_is_a_picture_or_a_sentence(data: st.DataObject):
    format = data.draw(st.sampled_from(["JPEG", "PNG", "WEBP", "GIF"]))
    content = bytearray(written(drawn(40, 30), format))
    for _ in range(data.draw(st.integers(1, 6))):
        content[data.draw(st.integers(0, len(content) - 1))] = data.draw(st.integers(0, 255))
    try:
        picture = _read(bytes(content))
    except PictureRefused as refused:
        assert str(refused).endswith(".")
    else:
        assert _segments(picture.full)[0] == 0xE0
