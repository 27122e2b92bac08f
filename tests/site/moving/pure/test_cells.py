"""Numbers, choices, names and formulas in cells."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from nursery.site.moving.tables.cells import as_written, neutral
from nursery.site.moving.tables.errors import CellWrong
from nursery.site.moving.tables.names import Leaf, Pair, key_of, may_be_several, name_told
from nursery.site.moving.tables.values import choice, whole_number, yes_no

STORES = (("bench", "on the bench"), ("refrigerator", "refrigerator", "fridge"), ("unknown", "not known"))


@given(st.text(max_size=20))
def test_what_is_marked_comes_back_as_it_was(text: str) -> None:
    assert as_written(neutral(text)) == text
    assert not neutral(text).startswith(("=", "+", "-", "@", "\t", "\r"))


@pytest.mark.parametrize(
    ("text", "number"),
    [("12", 12), ("12.0", 12), ("about 1,200", 1200), ("~ 40", 40), ("1 200", 1200), ("", None), ("?", None), ("0", 0)],
)
def test_counts(text: str, number: int | None) -> None:
    assert whole_number(text) == number


@pytest.mark.parametrize("text", ["many", "-3", "1.5", "1,2", "3 or 4", "१२x", "9" * 13, "=1+1"])
def test_no_counts(text: str) -> None:
    with pytest.raises(CellWrong):
        whole_number(text)


@pytest.mark.parametrize(
    ("text", "said"), [("Yes", True), ("x", True), ("no", False), ("0", False), ("", None), ("?", None)]
)
def test_yes_and_no(text: str, said: bool | None) -> None:
    assert yes_no(text) is said


@pytest.mark.parametrize(
    ("text", "code"),
    [
        ("Fridge", "refrigerator"),
        ("on the Bench", "bench"),
        ("bench", "bench"),
        ("", ""),
        ("?", ""),
        ("unknown", "unknown"),
    ],
)
def test_choices(text: str, code: str) -> None:
    assert choice(text, STORES) == code


def test_no_choice_lists_what_there_is() -> None:
    with pytest.raises(CellWrong) as wrong:
        choice("shed", STORES)
    assert str(wrong.value) == (
        "“shed” is not one of these: on the bench; refrigerator; not known. Write one of them, or leave it empty."
    )


@pytest.mark.parametrize(
    ("text", "name"),
    [
        ("", None),
        ("?", None),
        ("Unknown", None),
        ("hamata lantern", Leaf("hamata lantern")),
        ("hamata [12]", Leaf("hamata", "12")),
        ("[12]", Leaf("", "12")),
        ("× hookeriana", Leaf("× hookeriana")),
        ("lowii x hamata", Pair(Leaf("lowii"), Leaf("hamata"))),
        ("lowii×hamata", Pair(Leaf("lowii"), Leaf("hamata"))),
        ("lowii X ?", Pair(Leaf("lowii"), None)),
        ("(lowii × hamata) x veitchii", Pair(Pair(Leaf("lowii"), Leaf("hamata")), Leaf("veitchii"))),
        ("(lowii × hamata)", Pair(Leaf("lowii"), Leaf("hamata"))),
        ("(lowii × hamata) [7]", Leaf("(lowii × hamata)", "7")),
        ("maxima x", Leaf("maxima x")),
    ],
)
def test_names(text: str, name: object) -> None:
    assert name_told(text) == name


@given(st.text(alphabet="ab ×x()[]1", max_size=16))
def test_no_name_breaks_the_reading(text: str) -> None:
    try:
        name_told(text)
    except CellWrong as wrong:
        assert str(wrong).endswith(".")


@pytest.mark.parametrize(
    ("one", "other"),
    [
        ("N. Lowii", "lowii"),
        ("Nepenthes lowii", "LOWII"),
        ("lowii X veitchii", "lowii × veitchii"),
        ("× hybrid", "×hybrid"),
    ],
)
def test_two_ways_of_writing_one_name(one: str, other: str) -> None:
    assert key_of(one) == key_of(other)


@pytest.mark.parametrize(
    ("text", "several"),
    [("A or B", True), ("one of these", True), ("A | B", True), ("Oregon", False), ("floor", False), ("", False)],
)
def test_one_of_these(text: str, several: bool) -> None:
    assert may_be_several(text) is several
