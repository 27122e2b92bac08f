"""What a table calls things, and which things of the books are meant."""

import pytest

from breeding.models import Section, SeedLot
from nursery.models import Clone, Person, Place, Plant, Tag, Taxon
from nursery.records.numbers import blank_tags_make
from nursery.site.models import Import
from nursery.site.moving.imports import brought_in
from nursery.site.moving.places import path_words
from nursery.site.moving.untagged import to_tag
from tests.making import Nursery, today
from tests.site.moving.tables import looked_over

pytestmark = pytest.mark.django_db


def _in(by: Person, kind: str, text: str) -> Import:
    moving = looked_over(by, kind, text)
    assert moving.preview["problems"] == []
    return brought_in(by=by, moving=moving)


def _notes(moving: Import) -> list[str]:
    return [words for _, words in moving.preview["notes"]]


@pytest.mark.parametrize(
    "cell", ["House 1 / Bench 2", "house 1/BENCH 2", "House 1 > Bench 2", "House 1, Bench 2", "Bench 2"]
)
def test_places_are_found_by_their_path(cell: str, owner: Person, nursery: Nursery) -> None:
    bench = nursery.bench("Bench 2", inside=nursery.house("House 1"))
    _in(owner, "plants", f'Species,Place\nlowii,"{cell}"\n')
    assert Plant.objects.get().place == bench
    assert Place.objects.count() == 2


def test_a_name_that_two_benches_bear_makes_a_house_of_its_own(owner: Person, nursery: Nursery) -> None:
    for house in ("East", "West"):
        nursery.bench("Ledge", inside=nursery.house(house))
    moving = _in(owner, "plants", "Species,Place\nlowii,Ledge\n")
    assert moving.preview["places"] == ["Ledge"]
    assert Plant.objects.get().place.size == "house"


def test_trays_stand_on_benches(owner: Person) -> None:
    _in(owner, "plants", "Species,Place\nlowii,House / Bench / Tray / Corner\n")
    assert [place.size for place in Place.objects.order_by("pk")] == ["house", "bench", "tray", "tray"]
    assert path_words(Plant.objects.get().place) == "House / Bench / Tray / Corner"


@pytest.mark.parametrize("cell", ["lowii", "N. lowii", "Nepenthes lowii", "n. LOWII", "nepenthes Lowii"])
def test_one_species_is_listed_once(cell: str, owner: Person, nursery: Nursery) -> None:
    taxon = nursery.taxon("lowii")
    moving = _in(owner, "plants", f"Species\n{cell}\n")
    assert Clone.objects.get().taxon == taxon
    assert moving.preview["taxa"] == []


def test_a_named_hybrid_and_another_genus_are_listed_as_such(owner: Person) -> None:
    _in(owner, "plants", "Species\n× hookeriana\nHeliamphora nutans\n")
    assert [(str(taxon), taxon.rank) for taxon in Taxon.objects.all()] == [
        ("Heliamphora nutans", "species"),
        ("Nepenthes ×hookeriana", "hybrid"),
    ]


def test_a_species_of_appendix_one_is_listed_there(owner: Person) -> None:
    """Source: the CITES appendices."""
    _in(owner, "plants", "Species\nrajah\nkhasiana\nlowii\n")
    assert dict(Taxon.objects.values_list("epithet", "cites")) == {"rajah": "I", "khasiana": "I", "lowii": "II"}


def test_a_slip_of_the_pen_is_noticed(owner: Person, nursery: Nursery) -> None:
    nursery.taxon("veitchii")
    moving = looked_over(owner, "plants", "Species\nvietchii\n")
    assert _notes(moving) == ["vietchii is not listed yet. Is veitchii meant? Then correct the table."]


@pytest.mark.parametrize("cell", ["hamata lantern", "N. hamata 'lantern'", "Nepenthes hamata “lantern”"])
def test_a_word_behind_the_species_is_the_clones(cell: str, owner: Person) -> None:
    _in(owner, "plants", f"Species\n{cell}\n")
    assert str(Clone.objects.get()) == "hamata lantern"


def test_rows_of_one_word_are_plants_of_one_clone_and_rows_without_are_not(owner: Person) -> None:
    _in(owner, "plants", "Species,Own word\nlowii,A\nlowii,a\nlowii,\nlowii,\nhamata,A\n")
    assert sorted(str(clone) for clone in Clone.objects.all()) == ["hamata A", "lowii", "lowii", "lowii A"]
    assert Plant.objects.filter(clone__designation="A", clone__taxon__epithet="lowii").count() == 2


def test_a_clone_that_is_entered_gets_another_plant(owner: Person, nursery: Nursery) -> None:
    clone = nursery.clone("lowii", "kettle", source="Rosa")
    _in(owner, "plants", "Species,Own word,From whom\nlowii,Kettle,Vera\n")
    assert Plant.objects.get().clone == clone
    assert (
        Plant.objects.get().thing.acts.get(kind="remarked").remark.words == "Of this plant the table says source: Vera."
    )


def test_one_clone_number_is_one_clone_whatever_its_rows_leave_out(owner: Person) -> None:
    _in(owner, "plants", "Species,Clone number,Plants\nlowii,7,1\n,7,2\nlowii,8,1\n")
    assert Clone.objects.count() == 2
    assert sorted(plant.clone.pk for plant in Plant.objects.all()).count(Clone.objects.first().pk) == 3


def test_parents_may_come_later_in_the_table(owner: Person) -> None:
    _in(owner, "plants", "Species,Own word\nlowii kettle x hamata,chisel\nlowii,kettle\nhamata,\n")
    child = Clone.objects.get(designation="chisel")
    assert (str(child.seed_parent), child.seed_parent.plants.count()) == ("lowii kettle", 1)
    assert (str(child.pollen_parent), child.pollen_parent.words_only) == ("hamata", False)


def test_parents_that_never_stood_here_are_known_by_words_only(owner: Person) -> None:
    _in(owner, "seed", "Seed parent,Pollen parent\nthe red one,lowii x hamata\n")
    cross = SeedLot.objects.get().cross
    assert (cross.seed_parent.designation, cross.seed_parent.words_only) == ("the red one", True)
    assert (str(cross.pollen_parent), cross.pollen_parent.words_only) == ("lowii × hamata", True)


def test_the_same_words_are_the_same_parent(owner: Person) -> None:
    _in(owner, "seed", "Seed parent,Pollen parent\nthe red one,unknown\nThe red  one,?\n")
    assert Clone.objects.count() == 1
    assert SeedLot.objects.values("cross").distinct().count() == 1


def test_a_name_that_several_clones_bear_is_left_open(owner: Person, nursery: Nursery) -> None:
    for _ in range(2):
        nursery.clone("lowii", " ")
    moving = _in(owner, "seed", "Seed parent,Pollen parent\nlowii,unknown\n")
    assert _notes(moving) == ["Several clones go by “lowii”; which of them is left open."]
    assert SeedLot.objects.get().cross.seed_parent.words_only


def test_later_tables_may_name_a_clone_by_its_number(owner: Person) -> None:
    _in(owner, "plants", "Species,Clone number\nlowii,7\nlowii,8\n")
    _in(owner, "seed", "Seed parent,Pollen parent\nlowii [8],[7]\n")
    cross = SeedLot.objects.get().cross
    assert [cross.pollen_parent, cross.seed_parent] == list(Clone.objects.order_by("pk"))


def test_a_section_says_which_plant_was_taken_where_several_may_be_meant(owner: Person, nursery: Nursery) -> None:
    clone = nursery.clone("lowii", "kettle")
    first, _ = nursery.plant(clone), nursery.plant(clone)
    moving = _in(owner, "sections", "Plant,Pollen parent\nlowii kettle,hamata\n")
    assert Section.objects.get().spike.plant == first
    assert _notes(moving) == [
        "Several plants of lowii kettle may be meant; it is put on the first. Say in which place it stands."
    ]


def test_what_does_not_fit_is_taken_and_told(owner: Person, nursery: Nursery) -> None:
    male = nursery.plant(nursery.clone("lowii", "kettle"))
    nursery.spike(male, sex="male")
    moving = looked_over(owner, "sections", "Plant,Pollen parent\nlowii kettle,hamata\n")
    assert all(words.endswith("It will stand under “To sort out”.") for words in _notes(moving))
    assert any("Other spikes of lowii kettle were male" in words for words in _notes(moving))


def test_a_blank_tag_that_hangs_on_a_plant_is_its_tag(owner: Person) -> None:
    blanks = blank_tags_make(count=2)
    _in(owner, "plants", f"Species,Tag\nlowii,{blanks[1].number}\n")
    assert Tag.objects.get(thing=Plant.objects.get().thing) == blanks[1]


def test_what_still_lacks_a_tag_is_counted_and_listed_in_walking_order(owner: Person) -> None:
    [blank] = blank_tags_make(count=1)
    text = f"Species,Place,Tag\nlowii,House / B,\nhamata,House / A,\nveitchii,House / A,{blank.number}\n"
    moving = _in(owner, "plants", text)
    found = to_tag(moving, today())
    assert (found.all, found.without) == (3, 2)
    assert ["".join(part.text for part in row.name_parts) for row in found.rows] == ["hamata", "lowii"]
    Tag.objects.filter(thing__plant__clone__taxon__epithet="lowii").update(printed_at=moving.brought_at)
    assert to_tag(moving, today()).without == 1


@pytest.mark.parametrize("words", ["<script>alert('x')</script>", "=1+1", "🌱👩‍🌾", "नर्सरी 猪笼草 مشتل", "\u202etepaL"])
def test_any_words_are_kept_as_they_are(words: str, owner: Person) -> None:
    _in(owner, "plants", f'Species,Own word,From whom,Remark\nlowii,"{words}","{words}","{words}"\n')
    clone = Clone.objects.get()
    assert (clone.designation, clone.source) == (words, words)
    assert Plant.objects.get().thing.acts.get(kind="remarked").remark.words == words
