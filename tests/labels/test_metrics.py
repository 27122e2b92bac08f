import pytest

from labels.metrics import FACES, FONTS, font, printable, width


@pytest.mark.parametrize("style", FACES)
@pytest.mark.parametrize("sign", "×♀♂°…□·–½±éüñŁřжΩ")
def test_every_face_has_the_signs_of_labels(style: str, sign: str):
    assert printable(sign, style) == (sign, "")


@pytest.mark.parametrize("style", FACES)
def test_faces_are_shipped_with_their_licence(style: str):
    assert (FONTS / f"{FACES[style]}.ttf").is_file()
    assert "Bitstream Vera" in (FONTS / "LICENSE").read_text(encoding="utf-8")
    assert font(style).face.name.decode() == FACES[style]


@pytest.mark.parametrize(
    ("typed", "shown", "lost"),
    [
        ("Kettle", "Kettle", ""),
        ("茶壺 Kettle", "□□ Kettle", "茶壺"),
        ("🌱 up", "□ up", "🌱"),
        ("नीला", "□□□□", "नीला"),
        ("إبريق", "□□□□□", "إبريق"),
        ("קומקום", "□□□□□□", "קומקום"),
        ("a\tb\nc\u00a0d", "a b c d", ""),
        ("a  b   c", "a b c", ""),
        ("a\u200bb\u202ec\x00d\x1be", "abcde", ""),
        ("cafe\u0301", "café", ""),
        ("<b>bold</b> & “quoted”", "<b>bold</b> & “quoted”", ""),
        ("чайник κανάτα", "чайник κανάτα", ""),
        ("", "", ""),
    ],
)
def test_what_the_face_cannot_show_is_a_box_and_is_reported(typed: str, shown: str, lost: str):
    assert printable(typed, "plain") == (shown, lost)


def test_width_is_that_of_the_signs_one_by_one():
    assert width("× 18", "clone") == pytest.approx(sum(width(sign, "clone") for sign in "× 18"))


def test_bold_is_wider_than_plain():
    assert width("Trowel", "clone") > width("Trowel", "plain")
