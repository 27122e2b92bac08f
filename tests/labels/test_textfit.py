import pytest
from hypothesis import given
from hypothesis import strategies as st

from labels.metrics import width
from labels.textfit import LEADING_WORDS, LEAST, POINT, USUAL, Block, fitted, line_width, wrapped

BOX = (2.0, 1.0, 30.0, 16.0)
WORDS = st.text(alphabet="abcxyz (×)é茶🌱", min_size=0, max_size=80)
BLOCKS = st.lists(st.lists(st.tuples(WORDS, st.sampled_from(["taxon", "clone", "plain"])), max_size=4), max_size=6)


def plain(*lines: str) -> tuple[Block, ...]:
    return tuple(((line, "plain"),) for line in lines)


def text_of(fit) -> list[str]:
    """Rows from the top, pieces of a row joined."""
    rows: dict[float, str] = {}
    for piece in fit.pieces:
        rows[piece.y] = rows.get(piece.y, "") + piece.text
    return [rows[y] for y in sorted(rows, reverse=True)]


def test_short_lines_stand_one_to_a_row_in_the_largest_size():
    fit = fitted(plain("lowii", "2 pods"), *BOX)
    assert text_of(fit) == ["lowii", "2 pods"]
    assert {piece.size for piece in fit.pieces} == {USUAL.largest}


def test_a_line_a_little_too_long_is_shrunk_first():
    fit = fitted(plain("lowii Trowel × hamata"), *BOX)
    assert len(text_of(fit)) == 1
    assert USUAL.comfortable <= fit.pieces[0].size < USUAL.largest


def test_a_longer_line_is_wrapped_rather_than_shrunk_below_comfort():
    fit = fitted(plain("ampullaria Trowel × veitchii Damask, sown in moss"), *BOX)
    assert len(text_of(fit)) > 1
    assert fit.pieces[0].size >= USUAL.comfortable


def test_many_lines_are_shrunk_to_the_least_and_no_further():
    fit = fitted(plain(*"abcdefghijklmnop"), *BOX)
    assert {piece.size for piece in fit.pieces} == {LEAST}
    assert fit.cut == tuple("ghijklmnop")


def test_what_is_cut_ends_in_an_ellipsis_and_is_reported_whole():
    long = "ampullaria " * 60
    fit = fitted(plain(long, "12 Nov 2026", "MB"), *BOX)
    *name, date, by = text_of(fit)
    assert name[-1].endswith("…")
    assert (date, by) == ("12 Nov 2026", "MB")
    assert fit.cut == (long.strip(),)


def test_a_style_may_change_inside_a_word():
    rows = wrapped((("(", "plain"), ("lowii", "taxon"), (") ×", "plain")), 3.0)
    assert rows == [(("(", "plain"), ("lowii", "taxon"), (")", "plain")), (("×", "plain"),)]


def test_a_word_wider_than_the_box_is_broken():
    rows = wrapped((("x" * 40, "plain"),), 5)
    assert "".join(text for row in rows for text, _ in row) == "x" * 40
    assert all(line_width(row) <= 5 for row in rows)


def test_a_word_that_fits_in_a_smaller_size_is_never_broken_in_a_larger_one():
    fit = fitted(plain("ampullaria × northiana"), 0.0, 0.0, 20.0, 20.0, LEADING_WORDS)
    assert text_of(fit) == ["ampullaria", "×", "northiana"]
    assert USUAL.largest < fit.pieces[0].size < LEADING_WORDS.largest


def test_of_a_formula_that_is_too_long_every_parent_keeps_its_beginning():
    mother, father = "(ampullaria × northiana) Trowel", "(veitchii × maxima) Damask and " + "more " * 20
    block = ((mother, "taxon"), (" × ", "plain"), (father, "clone"))
    fit = fitted((block, *plain("12 Nov 2026", "MB")), *BOX)
    *name, date, by = text_of(fit)
    told = "".join(name)
    assert told.startswith("(ampullaria") and "× (veitchii" in told and told.count("…") == 1
    assert (date, by) == ("12 Nov 2026", "MB")
    assert fit.cut == (mother + " × " + father.strip(),)


def test_nothing_to_say_leaves_the_box_empty():
    assert fitted((), *BOX).pieces == ()
    assert fitted(plain("", "  "), *BOX).pieces == ()


def test_no_room_cuts_everything_and_says_so():
    fit = fitted(plain("lowii", "2 pods"), 0.0, 0.0, 30.0, 1.0)
    assert (fit.pieces, fit.cut) == ((), ("lowii", "2 pods"))


@given(
    blocks=BLOCKS,
    wide=st.floats(min_value=16, max_value=120),
    high=st.floats(min_value=0, max_value=60),
    scale=st.sampled_from([USUAL, LEADING_WORDS]),
)
def test_words_stay_inside_the_box_and_nothing_is_lost_without_a_word(blocks, wide, high, scale):
    box = tuple(tuple(block) for block in blocks)
    fit = fitted(box, 3.0, 4.0, wide, high, scale)
    assert fit.used <= high + 1e-6
    for piece in fit.pieces:
        assert piece.x >= 3.0 - 1e-6
        assert piece.x + width(piece.text, piece.style) * piece.size * POINT <= 3.0 + wide + 1e-6
        assert piece.y - 0.24 * piece.size * POINT >= 4.0 - 1e-6
        assert piece.y + 0.76 * piece.size * POINT <= 4.0 + high + 1e-6
    if not fit.cut:
        assert _letters(fit.pieces) == sum(_letters_shown(text) for block in box for text, _ in block)


def _letters(pieces) -> int:
    return sum(len(piece.text.replace(" ", "")) for piece in pieces)


def _letters_shown(text: str) -> int:
    """A character that the face lacks counts too: it becomes a box."""
    return len(text.replace(" ", ""))


@pytest.mark.parametrize("size", [10.0, 6.0])
def test_rows_do_not_overlap(size: float):
    fit = fitted(plain(*(["Ågy"] * (3 if size == 10 else 6))), *BOX)
    heights = sorted({piece.y for piece in fit.pieces}, reverse=True)
    steps = [upper - lower for upper, lower in zip(heights, heights[1:], strict=False)]
    assert min(steps) >= size * POINT
