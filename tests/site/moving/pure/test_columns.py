"""Which heading is taken for what, and in which order rows come."""

import pytest

from nursery.site.moving.kinds import KINDS
from nursery.site.moving.tables.columns import LEAVE_OUT, REMARK, Told, guessed
from nursery.site.moving.tables.order import parents_first

HEADINGS = {
    "plants": {
        "Species": "species",
        "Taxon": "species",
        "Clone name": "word",
        "Accession No": "ref",
        "♀": REMARK,
        "Mother": "seed_parent",
        "pollen parent (male)": "pollen_parent",
        "Bench": "place",
        "Qty": "plants",
        "Date acquired": "came",
        "Supplier": "source",
        "Pot size": "pot",
        "Sex": REMARK,
        "Notes": REMARK,
        "Number in Tepal": LEAVE_OUT,
        "Problem": LEAVE_OUT,
        "": REMARK,
    },
    "pots": {
        "Cross": "cross",
        "Date sown (approx.)": "sown",
        "How many pots": "pots",
        "Germination": "seen",
        "Seeds in each pot": "seeds",
        "Mix": "medium",
        "Where": "place",
    },
    "seed": {
        "Female": "seed_parent",
        "Male": "pollen_parent",
        "Stored": "storage",
        "Date": "harvested",
        "Label": "words",
    },
    "pollen": {"Pollen of": "clone", "Date collected": "collected", "Kept in": "storage"},
    "sections": {"On plant": "plant", "Father": "pollen_parent", "Date crossed": "pollinated", "Ripeness": "seen"},
}


@pytest.mark.parametrize(("kind", "heading"), [(kind, one) for kind, all in HEADINGS.items() for one in all])
def test_a_heading_by_itself(kind: str, heading: str) -> None:
    assert guessed([heading], KINDS[kind]) == [HEADINGS[kind][heading]]


@pytest.mark.parametrize("kind", KINDS)
def test_our_own_headings_are_known(kind: str) -> None:
    assert guessed(KINDS[kind].headings(), KINDS[kind]) == [column.name for column in KINDS[kind].columns]


def test_a_columns_own_words_come_before_other_ways_of_saying_it() -> None:
    headings = ["Name", "Species", "House", "Bought", "Sex"]
    assert guessed(headings, KINDS["plants"]) == ["word", "species", "place", "came", REMARK]
    assert guessed(["Name", "House"], KINDS["plants"]) == ["species", "place"]


def test_no_column_is_taken_twice_but_remarks() -> None:
    assert guessed(["Species", "Taxon", "Notes", "Comments"], KINDS["plants"]) == ["species", REMARK, REMARK, REMARK]


@pytest.mark.parametrize("kind", KINDS)
def test_no_way_of_saying_a_choice_means_two(kind: str) -> None:
    for column in KINDS[kind].columns:
        ways = [way.lower() for option in column.options for way in dict.fromkeys(option)]
        assert len(ways) == len(set(ways)), column.name


def _rows(*cells: dict[str, str]) -> list[Told]:
    return [Told(number, values) for number, values in enumerate(cells, 2)]


def test_parents_come_before_their_offspring() -> None:
    rows = _rows(
        {"word": "grandchild", "seed_parent": "child"},
        {"word": "child", "species": "lowii kettle x hamata [7]"},
        {"species": "lowii", "word": "kettle"},
        {"species": "veitchii"},
        {"species": "hamata", "ref": "7"},
    )
    assert [row.number for row in parents_first(rows)] == [4, 5, 6, 3, 2]


def test_a_circle_comes_as_it_stands() -> None:
    rows = _rows(
        {"word": "a", "seed_parent": "b"}, {"word": "b", "seed_parent": "a"}, {"word": "c", "seed_parent": "c"}
    )
    assert [row.number for row in parents_first(rows)] == [4, 2, 3]
