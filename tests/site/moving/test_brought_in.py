"""A table looked over and brought in: what each kind of row becomes in the books."""

from datetime import date

import pytest

from breeding.models import PollenLot, Section, SeedLot, SeedPot, Spike
from nursery.days import Day
from nursery.models import Act, Clone, Person, Place, Plant, Remark, Taxon
from nursery.site.models import Import
from nursery.site.moving.imports import brought_in
from nursery.site.moving.places import path_words
from tests.site.moving.tables import looked_over

pytestmark = pytest.mark.django_db

PLANTS = """Species,Own word,Place,Pots,Here since,From whom,Sex
N. hamata,lantern,House 1 / Bench 2,2,spring 2024,Rosa,female
lowii,,House 1 / Bench 2,,unknown,,
hamata lantern x lowii,chisel,House 1 / Bench 3,1,2026-03-09,,
,velvet,,0,,,
"""


def _in(by: Person, kind: str, text: str) -> Import:
    moving = looked_over(by, kind, text)
    assert moving.preview["problems"] == []
    return brought_in(by=by, moving=moving)


def _born(thing) -> tuple:
    act = thing.thing.born_by
    return act.day_first and act.day_first.isoformat(), act.day_last and act.day_last.isoformat(), act.said


def test_plants_become_plants_of_clones(owner: Person) -> None:
    _in(owner, "plants", PLANTS)
    names = {str(clone): clone for clone in Clone.objects.all()}
    assert sorted(names) == ["hamata lantern", "hamata × lowii chisel", "lowii", "unknown velvet"]
    assert names["hamata × lowii chisel"].seed_parent == names["hamata lantern"]
    assert names["hamata × lowii chisel"].pollen_parent == names["lowii"]
    assert names["hamata lantern"].source == "Rosa"
    assert [str(taxon) for taxon in Taxon.objects.all()] == ["Nepenthes hamata", "Nepenthes lowii"]
    where = sorted((str(plant.clone), path_words(plant.place)) for plant in Plant.objects.all())
    assert where == [
        ("hamata lantern", "House 1 / Bench 2"),
        ("hamata lantern", "House 1 / Bench 2"),
        ("hamata × lowii chisel", "House 1 / Bench 3"),
        ("lowii", "House 1 / Bench 2"),
    ]
    assert {place.name: place.size for place in Place.objects.all()} == {
        "House 1": "house",
        "Bench 2": "bench",
        "Bench 3": "bench",
    }


def test_days_are_as_vague_as_they_were_written(owner: Person) -> None:
    _in(owner, "plants", PLANTS)
    days = {str(plant.clone): _born(plant) for plant in Plant.objects.all()}
    assert days == {
        "hamata lantern": ("2024-03-01", "2024-05-31", "season"),
        "lowii": (None, None, "unknown"),
        "hamata × lowii chisel": ("2026-03-09", "2026-03-09", "exact"),
    }


def test_what_has_no_place_of_its_own_is_kept_as_a_remark(owner: Person) -> None:
    _in(owner, "plants", PLANTS)
    [remark] = Remark.objects.all()
    assert remark.words == "Sex: female"
    assert str(remark.act.thing.plant.clone) == "hamata lantern"


def test_every_act_says_where_it_came_from(owner: Person) -> None:
    _in(owner, "plants", PLANTS)
    assert Act.objects.get(kind="remarked").note == "Moved in: table.csv, row 2."
    assert set(Act.objects.values_list("by__name", flat=True)) == {"Ida Fern"}


def test_looking_over_keeps_nothing(owner: Person) -> None:
    moving = looked_over(owner, "plants", PLANTS)
    assert not Act.objects.exists() and not Taxon.objects.exists() and not Place.objects.exists()
    assert moving.preview["made"] == {"clone": 4, "place": 3, "plant": 4}
    assert list(moving.preview["rows"][0]) == [
        2,
        "2 plants of hamata lantern, House 1 / Bench 2, came Mar–May 2024",
    ]
    assert moving.preview["taxa"] == ["Nepenthes hamata", "Nepenthes lowii"]


def test_seed_pots_bring_their_sowing_and_what_is_up(owner: Person) -> None:
    _in(
        owner, "pots", "Cross;Sown;Pots;Place;Seedlings;Looked on\nlowii x hamata;March 2026;3;House 1;few;2026-09-01\n"
    )
    pots = SeedPot.objects.all()
    assert [(str(pot.lot.cross), pot.amount, pot.place.name) for pot in pots] == [
        ("lowii × hamata", "few", "House 1")
    ] * 3
    assert {(pot.sown_first.isoformat(), pot.sown_last.isoformat()) for pot in pots} == {("2026-03-01", "2026-03-31")}
    assert {pot.first_by.isoformat() for pot in pots} == {"2026-09-01"}
    assert SeedLot.objects.get().closed_why == "sown", "what was sown is no seed in store"


def test_what_was_seen_on_no_known_day_dates_no_seedling(owner: Person) -> None:
    _in(owner, "pots", "Cross,Seedlings\nlowii x hamata,plenty\n")
    pot = SeedPot.objects.get()
    assert (pot.amount, pot.first_by, pot.sown_first, pot.last_look) == ("plenty", None, None, None)


def test_seed_in_store_keeps_the_doubt_about_its_father(owner: Person) -> None:
    _in(owner, "seed", "Female\tMale\tHarvested\tStored\tSeeds\nlowii\thamata A or hamata B\t2025\tfridge\tabout 200\n")
    lot = SeedLot.objects.get()
    assert (str(lot.cross), lot.words) == ("lowii × unknown", "pollen parent one of: hamata A or hamata B")
    assert (lot.storage, lot.estimate, _born(lot)) == ("refrigerator", 200, ("2025-01-01", "2025-12-31", "year"))


def test_pollen_may_be_known_by_a_friends_words_only(owner: Person) -> None:
    _in(owner, "pollen", "Pollen of,In words,Collected,Kept\nhamata lantern,,20 Nov 2026,dry\n,the red one,,freezer\n")
    lots = PollenLot.objects.order_by("pk")
    assert [(str(lot.clone or ""), lot.words, lot.storage) for lot in lots] == [
        ("unknown hamata lantern", "", "dry_bench"),
        ("", "the red one", "freezer"),
    ]
    assert lots[1].collected_first is None


def test_a_section_comes_with_its_spike_and_its_pods(owner: Person) -> None:
    text = (
        "Mother,Father,Pollinated,Pods,State,Bagged,Spike\nlowii,hamata,2026-08,12,green,no,a\nlowii,,2026-08,,,yes,a\n"
    )
    _in(owner, "sections", text)
    first, second = Section.objects.order_by("pk")
    assert [str(one.cross) for one in (first, second)] == ["lowii × hamata", "lowii × unknown"]
    assert (first.spike, first.stage, first.bagged, second.bagged) == (second.spike, "swelling", False, True)
    assert (first.day0_first.isoformat(), first.day0_last.isoformat()) == ("2026-08-01", "2026-08-31")
    assert Spike.objects.get().sex == "female"
    assert Plant.objects.get().clone.sex == "female"
    assert not PollenLot.objects.filter(closed_on=None).exists(), "what went on is no pollen in store"
    assert first.last_look.isoformat() == "2026-08-31", "of the pods' look no day is known"


def test_a_plant_that_is_entered_carries_the_section(owner: Person) -> None:
    _in(owner, "plants", "Species,Own word,Place\nlowii,kettle,House 1 / Bench 1\nlowii,kettle,House 1 / Bench 2\n")
    _in(owner, "sections", "Plant,Place,Pollen parent\nlowii kettle,House 1 / Bench 2,unknown\n")
    assert path_words(Section.objects.get().spike.plant.place) == "House 1 / Bench 2"
    assert Plant.objects.count() == 2


def test_a_place_that_does_not_match_the_plant_is_said_by_row(owner: Person) -> None:
    _in(owner, "plants", "Species,Own word,Place\nlowii,kettle,House 1 / Bench 1\n")
    table = (
        "Plant,Place,Pollen parent\nlowii kettle,House 1 / Bench 1,unknown\nlowii kettle,House 1 / Bench 2,unknown\n"
    )
    moving = looked_over(owner, "sections", table)
    assert moving.preview["problems"] == []
    sentence = (
        "lowii kettle stands in House 1 / Bench 1, not in House 1 / Bench 2. A second plant of it is entered there; "
        "if it is the same plant, put its own place in the row or leave the place empty."
    )
    assert [note for _, note in moving.preview["notes"] if "second plant" in note] == [sentence]


def test_a_table_may_say_once_when_things_were_so(owner: Person) -> None:
    text = "Plant,Pollen parent,Pollinated,How the pods are\nlowii,hamata,2026-05-02,turning\n"
    brought_in(by=owner, moving=looked_over(owner, "sections", text, as_of=date(2026, 11, 1)))
    section = Section.objects.get()
    assert (section.stage, section.last_look, section.turning_by) == ("turning", date(2026, 11, 1), date(2026, 11, 1))


def test_an_unknown_day_is_no_day(owner: Person) -> None:
    _in(owner, "plants", "Species,Here since\nlowii,\nhamata,?\nveitchii,unknown\n")
    days = {(act.day_first, act.day_last, act.said) for act in Act.objects.all()}
    assert days == {(Day.unknown().first, None, "unknown")}
