"""A table of 300 rows with more than 40 kinds of fault: each is told at its row and heading, in a sentence."""

import csv
import io
from dataclasses import dataclass

import pytest

from nursery.models import Act, Person, Plant, Taxon
from nursery.records.numbers import blank_tags_make
from nursery.site.models import Import
from nursery.site.moving.imports import NotWhole, brought_in
from nursery.site.moving.kinds import PLANTS
from tests.making import Nursery, tag_of
from tests.site.moving.tables import looked_over, problems

pytestmark = pytest.mark.django_db
ROWS = 300
HEADINGS = PLANTS.headings()
TWICE = "The parents are told twice, as a formula and one by one. Leave one of them out."
NO_SPECIES = "Write one species as a single word, such as lowii; got “{}”."


@dataclass(frozen=True)
class Fault:
    """What stands in a row, which heading is at fault (none: the row), and what is said."""

    cells: dict[str, str]
    heading: str
    sentence: str


def _own(heading: str, cell: str, sentence: str, **more: str) -> Fault:
    """A fault of one cell, in a row that is sound but for it."""
    return Fault({"Species": "lowii", heading: cell} | more, heading, sentence)


def _day(cell: str, sentence: str) -> Fault:
    return _own("Here since", cell, sentence)


def _too_long(most: int) -> str:
    return f"Write at most {most} characters; these are {most + 1}."


FAULTS = {
    "nothing says what it is": Fault({"Pot": "9 cm"}, "", "Give the taxon, a parent, or a name of your own for it."),
    "no species": Fault({"Species": "12+!"}, "Species", NO_SPECIES.format("12+!")),
    "two species": Fault({"Species": "lowii / hamata"}, "Species", NO_SPECIES.format("lowii / hamata")),
    "an initial of another genus": Fault(
        {"Species": "H. minor"}, "Species", "Write the genus in full where it is not Nepenthes; got “H. minor”."
    ),
    "three parents": Fault(
        {"Species": "lowii x hamata x veitchii"},
        "Species",
        "“lowii x hamata x veitchii” has more than two parents. Put brackets round the pair that was crossed first.",
    ),
    "an open bracket": Fault(
        {"Species": "(lowii x hamata"},
        "Species",
        "“(lowii x hamata” has a bracket that does not close. Look at it again.",
    ),
    "parents twice": Fault({"Species": "lowii x hamata", "Pollen parent": "hamata"}, "Species", TWICE),
    "a word behind the species and another": Fault(
        {"Species": "hamata whisk", "Own word": "ladle"}, "Species", NO_SPECIES.format("hamata whisk")
    ),
    "a long word": _own("Own word", "w" * 41, _too_long(40)),
    "a number of another clone": _own(
        "Clone number", "A-1", "Number “A-1” is hamata in an earlier row. Give this row another number."
    ),
    "a long name of a parent": Fault(
        {"Own word": "cross", "Seed parent": "the very big red one with the wide lip and all"},
        "Seed parent",
        "“the very big red one with the wide lip…” is too long for a name: 40 letters is the most. Shorten it.",
    ),
    "an open bracket in a parent": Fault(
        {"Own word": "cross", "Pollen parent": "lowii) x hamata"},
        "Pollen parent",
        "“lowii) x hamata” has a bracket that does not close. Look at it again.",
    ),
    "a clone number nobody has": Fault(
        {"Own word": "cross", "Seed parent": "[Z-9]"},
        "Seed parent",
        "No clone of the number [Z-9] was brought in. Write its name.",
    ),
    "an origin of its own": _own(
        "Origin",
        "bartered",
        "“bartered” is not one of these: raised here; bought; a gift; collected under permit; not known. "
        "Write one of them, or leave it empty.",
    ),
    "a long giver": _own("From whom", "w" * 121, _too_long(120)),
    "a long document": _own("Document", "w" * 121, _too_long(120)),
    "neither yes nor no": _own(
        "Known by words only", "perhaps", "“perhaps” is neither yes nor no. Write yes or no, or leave it empty."
    ),
    "a number in words": _own("Plants", "a dozen", "“a dozen” is no whole number. Write digits only."),
    "below nothing": _own("Plants", "-1", "“-1” is no whole number. Write digits only."),
    "half a plant": _own("Plants", "1.5", "“1.5” is no whole number. Write digits only."),
    "too many plants": _own("Plants", "101", "One row brings in 0 to 100; this one says 101. Use more rows."),
    "no day of a calendar": _day("31 Feb 2025", "“31 Feb 2025” is no day of any calendar. Look at it again."),
    "a thirteenth month": _day("2024-13-01", "“2024-13-01” is no day of any calendar. Look at it again."),
    "a day to come": _day("2190-01-01", "That day is still to come. Choose today or an earlier day."),
    "an old year": _day("1893", "“1893”: give a year from 1950 to 2199."),
    "before anybody": _day("May 1930", "“May 1930”: give a year from 1950 to 2199."),
    "a memory": _day(
        "when we moved",
        "“when we moved” is no day that can be read here. Write it like 2026-03-09, 9 Mar 2026, March 2026, "
        "spring 2026, 2026 or unknown.",
    ),
    "days as a spreadsheet counts them": _day(
        "45718",
        "“45718” is how a spreadsheet counts days. Show that column as a date there, and copy it again.",
    ),
    "a winter of two years": _day(
        "winter 2024",
        "“winter 2024” may begin or end in 2024. Write winter 2023/24 or winter 2024/25.",
    ),
    "a summer of two years": _day(
        "summer 2023/24", "“summer 2023/24” is no season that can be read here. Write, say, March 2023."
    ),
    "the month first": _day("3/25/2024", "“3/25/2024” does not put the day first, as the others do."),
    "neither first": _day("13/13/2024", "“13/13/2024” is no day of any calendar. Look at it again."),
    "a year of two centuries": _day("9 Mar 89", "The year “89” may be of two centuries. Write it with four digits."),
    "places without end": _own(
        "Place", "A/B/C/D/E/F/G", "“A/B/C/D/E/F/G” names more than 6 places inside each other. Name fewer."
    ),
    "a long place": _own("Place", "w" * 61, _too_long(60)),
    "a long pot": _own("Pot", "w" * 41, _too_long(40)),
    "a tag in letters": _own("Blank tag", "A17", "“A17” is no whole number. Write digits only."),
    "a tag never made": _own("Blank tag", "12", "No tag 12 was ever made here. Check the digits."),
    "a tag without end": _own("Blank tag", "9" * 30, f"“{'9' * 30}” is no whole number. Write digits only."),
    "a tag of something else": _own(
        "Blank tag", "{taken}", "Tag {taken} is already on something: plant of {on}. Use another blank tag."
    ),
    "one tag for two": _own(
        "Blank tag", "{blank}", "One tag cannot hang on 2 plants. Give each a row of its own.", Plants="2"
    ),
    "a novel": _own("Remark", "w" * 4_001, "This cell has 4,001 letters; 4,000 is the most. Shorten it."),
    "a control character": _own(
        "Remark", "bell\x07", "This cell holds a control character that nobody can see. Type it again."
    ),
    "a cell too many": Fault(
        {"Species": "lowii", "beyond": "surprise"},
        "",
        "There are more cells than headings. Give this cell a heading, or empty it.",
    ),
}


def _table(**filled: str) -> tuple[str, list[tuple[int, str, str]]]:
    """300 rows, each fault among sound ones, and what must be said of them."""
    out = io.StringIO()
    writer = csv.writer(out)
    writer.writerow(HEADINGS)
    faults = list(FAULTS.values())
    expected = []
    for at in range(ROWS):
        fault = faults[at // 6] if at % 6 == 5 and at // 6 < len(faults) else None
        cells = fault.cells if fault else _sound(at)
        row = [cells.get(heading, "").format(**filled) for heading in HEADINGS]
        writer.writerow([*row, cells.get("beyond", "")])
        if fault:
            expected.append((at + 2, fault.heading, fault.sentence.format(**filled)))
    return out.getvalue(), expected


def _sound(at: int) -> dict[str, str]:
    days = ("2024-03-09", "9 Mar 2024", "March 2024", "spring 2024", "2024", "unknown", "", "3/4/2024", "25/3/2024")
    kept = {"Species": "hamata", "Place": f"House 1 / Bench {at // 60}", "Here since": days[at % len(days)]}
    return kept | ({"Clone number": "A-1"} if at == 0 else {})


@pytest.fixture
def table(nursery: Nursery) -> tuple[str, list[tuple[int, str, str]]]:
    [blank] = blank_tags_make(count=1)
    plant = nursery.plant(nursery.clone("veitchii"))
    return _table(blank=str(blank.number), taken=str(tag_of(plant).number), on=str(plant.clone))


def test_there_are_more_than_forty_kinds() -> None:
    assert len(FAULTS) >= 40
    assert len({fault.sentence for fault in FAULTS.values()}) >= 35


def test_each_fault_is_told_at_its_row_and_heading(table: tuple, owner: Person) -> None:
    text, expected = table
    moving = looked_over(owner, "plants", text, day_order="day")
    assert problems(moving) == expected
    assert len(moving.preview["rows"]) == ROWS - len(FAULTS)
    assert moving.preview["made"]["plant"] == ROWS - len(FAULTS)


SMALL = "Species,Here since\nlowii,2024\nhamata,31 Feb 2025\nlowii,2190-01-01\nveitchii,\n"


def test_with_faults_nothing_is_half_done(owner: Person) -> None:
    moving = looked_over(owner, "plants", SMALL)
    for without in ((), (3,), (4,)):
        with pytest.raises(NotWhole):
            brought_in(by=owner, moving=moving, without=without)
        assert not Act.objects.exists() and not Taxon.objects.exists()
    assert Import.objects.get().state == "draft"
    brought_in(by=owner, moving=moving, without=(3, 4))
    assert sorted(str(plant.clone) for plant in Plant.objects.all()) == ["lowii", "veitchii"]


def test_a_table_of_faults_only_brings_nothing_in(owner: Person) -> None:
    moving = looked_over(owner, "plants", "Species\n12+!\n")
    assert problems(moving) == [(2, "Species", "Write one species as a single word, such as lowii; got “12+!”.")]
    with pytest.raises(NotWhole):
        brought_in(by=owner, moving=moving, without=[2])


def test_what_changed_since_it_was_looked_over_is_told_anew(owner: Person, nursery: Nursery) -> None:
    [blank] = blank_tags_make(count=1)
    moving = looked_over(owner, "plants", f"Species,Blank tag\nlowii,\nhamata,{blank.number}\n")
    assert problems(moving) == []
    plant = nursery.plant(tag=blank.number)
    acts = Act.objects.count()
    with pytest.raises(NotWhole):
        brought_in(by=owner, moving=moving)
    assert Act.objects.count() == acts
    moving.refresh_from_db()
    assert problems(moving) == [
        (3, "Blank tag", f"Tag {blank.number} is already on something: {plant}. Use another blank tag.")
    ]
