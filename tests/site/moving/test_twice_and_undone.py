"""The same table again, half a table, and a table taken back."""

import uuid
from typing import Any

import pytest
from django.db.models import Count

from breeding.models import SeedPot, Spike
from breeding.records.pots import pot_looked_at
from breeding.records.spikes import spike_found
from nursery.models import Act, Clone, Person, Place, Plant, Tag, Thing, Void
from nursery.records import registry
from nursery.records.clones import clone_made
from nursery.records.errors import Refused
from nursery.records.milestones import worked_out
from nursery.records.moves import moved
from nursery.records.plants import plant_arrived
from nursery.records.remarks import remarked
from nursery.records.undo import undone
from nursery.site.models import Import
from nursery.site.moving import running
from nursery.site.moving.imports import brought_in, import_undone, rows_again, table_read, thrown_away
from nursery.site.moving.tables.decode import Decoded
from tests.making import Nursery
from tests.site.moving.tables import looked_over, problems, table

pytestmark = pytest.mark.django_db

PLANTS = """Species,Own word,Clone number,Seed parent,Pollen parent,Plants,Place,Remark
lowii,kettle,1,,,2,House 1 / Bench 1,tall
lowii,,2,,,1,House 1 / Bench 1,
lowii,,3,,,1,House 1 / Bench 2,
,chisel,4,lowii kettle,lowii,1,House 1 / Bench 2,
"""
OTHERS = {
    "pots": "Cross,Sown,Pots,Place,Seedlings\nlowii x hamata,2025,2,House 1 / Bench 1,few\n",
    "seed": "Cross,Harvested,Seeds\nlowii x hamata,2025,40\n",
    "pollen": "Pollen of,Kept\nhamata,freezer\n",
    "sections": "Plant,Pollen parent,Pollinated,How the pods are,Bagged\nlowii,hamata,2026-06-01,turning,yes\n",
}
ALL = {"plants": PLANTS} | OTHERS


def _in(by: Person, kind: str, text: str) -> Import:
    return brought_in(by=by, moving=looked_over(by, kind, text))


def _rows() -> dict[str, int]:
    return {model.__name__: model.objects.count() for model in (Act, Thing, Tag, Clone, Plant, Place, Void, Import)}


# --- twice ---


@pytest.mark.parametrize("kind", ALL)
def test_brought_in_twice_it_is_once(kind: str, owner: Person) -> None:
    moving = _in(owner, kind, ALL[kind])
    rows = _rows()
    assert brought_in(by=owner, moving=moving) == moving
    assert _rows() == rows


@pytest.mark.parametrize("kind", ALL)
def test_run_again_behind_the_back_of_its_state_it_changes_nothing(kind: str, owner: Person) -> None:
    moving = _in(owner, kind, ALL[kind])
    rows = _rows()
    again = running.run(moving, by=owner, without=())
    assert again.problems == []
    assert _rows() == rows
    assert {act.pk for _, act in again.making.acts} == set(moving.acts.values_list("act", flat=True))


def test_the_ids_of_its_acts_follow_from_its_own_and_the_row(owner: Person) -> None:
    moving = _in(owner, "plants", PLANTS)
    plants = Act.objects.filter(kind="plant_arrived", imported__row=2).values_list("pk", flat=True)
    assert set(plants) == {uuid.uuid5(moving.pk, "row 2 plant 1"), uuid.uuid5(moving.pk, "row 2 plant 2")}


@pytest.mark.parametrize(
    "text", [PLANTS, PLANTS.replace(",", ";"), PLANTS.replace(",", "\t"), PLANTS.replace("\n", "\r\n")]
)
def test_the_same_table_is_known_again_however_it_is_separated(text: str, owner: Person) -> None:
    first = table(owner, "plants", PLANTS)
    again = table_read(by=owner, kind="plants", name="other.csv", decoded=Decoded(text, "Windows-1252"))
    assert (again.moving, again.before) == (first, True)
    assert Import.objects.count() == 1


def test_one_cell_more_is_another_table(owner: Person) -> None:
    assert table(owner, "plants", PLANTS) != table(owner, "plants", PLANTS + "hamata,,,,,,,\n")


def test_a_draft_read_again_as_something_else_is_that(owner: Person) -> None:
    draft = table(owner, "plants", OTHERS["seed"])
    again = table_read(by=owner, kind="seed", name="t", decoded=Decoded(OTHERS["seed"], "UTF-8")).moving
    assert (again.pk, again.kind, again.columns) == (draft.pk, "seed", ["cross", "harvested", "seeds"])


# --- the same table, grown ---


GROWN = (
    PLANTS.replace("lowii,,3,,,1,House 1 / Bench 2,", "lowii,,3,,,2,House 1 / Bench 2,")
    + ",ladle,5,[4],[1],1,House 1 / Bench 2,\n"
)


def test_a_table_that_grew_brings_in_what_was_added_and_no_more(owner: Person, nursery: Nursery) -> None:
    """Row 4 says two plants now, row 6 is new and names its parents by the numbers of rows that stay out."""
    _in(owner, "plants", PLANTS)
    moving = looked_over(owner, "plants", GROWN)
    assert [row for row, _ in moving.preview["before"]] == [2, 3, 5]
    assert moving.preview["before"][0][1].startswith("the same as row 2 of table.csv, brought in on ")
    assert [row for row, _ in moving.preview["rows"]] == [4, 6]
    [(row, note)] = [(row, words) for row, words in moving.preview["notes"] if "differs" in words]
    assert row == 4 and note.startswith("Only “Plants” differs from row 4 of table.csv")
    brought_in(by=owner, moving=moving)
    ladle = Clone.objects.get(designation="ladle")
    assert (ladle.seed_parent.designation, ladle.pollen_parent.designation) == ("chisel", "kettle")
    assert Plant.objects.count() == 5 + 3


def test_rows_that_read_the_same_come_in_once_more_where_that_is_said(owner: Person) -> None:
    row = "lowii,House 1 / Bench 1\n"
    _in(owner, "plants", f"Species,Place\n{row}")
    moving = looked_over(owner, "plants", f'Place,Species\n"House 1 / Bench 1",LOWII\n{"House 1 / Bench 1,lowii"}\n')
    assert [len(moving.preview[part]) for part in ("before", "rows")] == [1, 1], "one row stands for one row"
    moving = rows_again(by=owner, moving=moving, again=True)
    assert [len(moving.preview[part]) for part in ("before", "rows")] == [1, 2]
    brought_in(by=owner, moving=moving)
    assert Plant.objects.count() == 3


def test_what_was_undone_since_comes_in_again(owner: Person, nursery: Nursery) -> None:
    first = _in(owner, "pollen", OTHERS["pollen"])
    undone(act=nursery.act(by=owner), target=first.acts.exclude(row=0).last().act)
    moving = looked_over(owner, "pollen", OTHERS["pollen"] + "lowii,freezer\n")
    assert moving.preview["before"] == []


def test_a_section_added_to_a_spike_of_the_same_table_is_on_that_spike(owner: Person) -> None:
    text = "Plant,Spike,Pollen parent\nlowii,first,hamata\n"
    _in(owner, "sections", text)
    _in(owner, "sections", text + "lowii,first,veitchii\n")
    assert list(Spike.objects.annotate(count=Count("sections")).values_list("count", flat=True)) == [2]


# --- what nobody can tell ---


def test_a_number_for_several_pots_is_asked_for_pot_by_pot(owner: Person) -> None:
    """Sixty in six pots are not sixty in each of them."""
    moving = looked_over(owner, "pots", "Cross,Pots,Seedlings counted\nlowii x hamata,6,60\nlowii x hamata,1,60\n")
    assert problems(moving) == [
        (
            2,
            "Seedlings counted",
            "60 seedlings in 6 pots: give each pot a row of its own with its number, or keep this column as a remark.",
        )
    ]


def test_a_take_told_beside_later_pods_gets_neither_their_day_nor_their_number(owner: Person) -> None:
    text = "Plant,Pollen parent,Take,Pods,How the pods are,Looked on\nlowii,hamata,most,12,turning,2026-06-01\n"
    _in(owner, "sections", text)
    take, pods = Act.objects.get(kind="take_look"), Act.objects.get(kind="pod_look")
    assert (take.said, take.takelook.pods) == ("unknown", None)
    assert (pods.said, pods.podlook.pods_left) == ("exact", 12)


# --- taken back ---


@pytest.mark.parametrize("kind", ALL)
def test_undone_everything_is_taken_back_and_nothing_erased(kind: str, owner: Person, nursery: Nursery) -> None:
    nursery.plant(nursery.clone("hamata", "whisk"))
    before = {thing.pk: _columns(thing) for thing in Thing.objects.all()}
    moving = _in(owner, kind, ALL[kind])
    made = [act.pk for act in Act.objects.filter(imported__moving=moving)]
    import_undone(by=owner, moving=moving)
    assert Act.objects.filter(pk__in=made, voided_by__isnull=False).count() == len(made)
    assert {thing.pk: _columns(thing) for thing in Thing.objects.filter(pk__in=before)} == before
    for thing in Thing.objects.exclude(pk__in=before).exclude(kind="cross"):
        assert registry.instance_of(thing).cancelled
    for thing in Thing.objects.all():
        one = registry.instance_of(thing)
        assert {name: getattr(one, name) for name in worked_out(one)} == worked_out(one)
    moving.refresh_from_db()
    assert moving.state == "undone"


def _columns(thing: Thing) -> dict[str, Any]:
    return type(registry.instance_of(thing)).objects.filter(pk=thing.pk).values().get()


def test_undone_twice_it_is_once(owner: Person) -> None:
    moving = _in(owner, "plants", PLANTS)
    import_undone(by=owner, moving=moving)
    rows = _rows()
    import_undone(by=owner, moving=moving)
    assert _rows() == rows


def test_what_was_undone_by_hand_before_stands_in_no_ones_way(owner: Person, nursery: Nursery) -> None:
    moving = _in(owner, "plants", PLANTS)
    undone(act=nursery.act(), target=Act.objects.get(kind="plant_arrived", imported__row=3))
    import_undone(by=owner, moving=moving)
    assert not Plant.objects.filter(cancelled=False).exists()


def test_after_undoing_the_same_table_comes_in_anew(owner: Person) -> None:
    first = _in(owner, "plants", PLANTS)
    import_undone(by=owner, moving=first)
    second = _in(owner, "plants", PLANTS)
    assert second != first
    assert Plant.objects.filter(cancelled=False).count() == 5


DEPENDING = {
    "a spike on a plant": (
        lambda n: n.record(spike_found, plant=Plant.objects.get(clone__designation="chisel")),
        "plant of lowii chisel: spike found: growing",
    ),
    "another plant of a clone": (
        lambda n: n.record(plant_arrived, clone=Clone.objects.get(designation="kettle")),
        "lowii kettle: plant entered",
    ),
    "an offspring": (
        lambda n: n.record(clone_made, designation="whisk", seed_parent=Clone.objects.get(designation="kettle")),
        "lowii kettle: clone entered: not known",
    ),
    "something moved to a bench": (
        lambda n: n.record(moved, thing=n.plant(), place=Place.objects.get(name="Bench 2", inside__name="House 1")),
        "Bench 2: moved: to Bench 2",
    ),
}


@pytest.mark.parametrize("what", DEPENDING)
def test_while_others_depend_it_is_refused_with_the_list(what: str, owner: Person, nursery: Nursery) -> None:
    moving = _in(owner, "plants", PLANTS)
    record, told = DEPENDING[what]
    record(nursery)
    rows = _rows()
    with pytest.raises(Refused) as refusal:
        import_undone(by=owner, moving=moving)
    assert refusal.value.sentence == (
        "More was recorded about what this table brought in. Undo that first, newest first."
    )
    assert any(reason.startswith(told) for reason in refusal.value.reasons), refusal.value.reasons
    assert _rows() == rows


def test_a_correction_stands_in_the_way(owner: Person, nursery: Nursery) -> None:
    moving = _in(owner, "plants", PLANTS)
    old = Act.objects.get(kind="plant_arrived", imported__row=3)
    nursery.record(plant_arrived, replaces=old, clone=Clone.objects.get(pk=old.plantarrived.clone_id), pot="9 cm")
    with pytest.raises(Refused) as refusal:
        import_undone(by=owner, moving=moving)
    assert any("corrected, plant entered: 9 cm" in reason for reason in refusal.value.reasons)


def test_a_remark_stands_in_no_ones_way(owner: Person, nursery: Nursery) -> None:
    moving = _in(owner, "plants", PLANTS)
    nursery.record(remarked, thing=Plant.objects.first(), words="leans")
    import_undone(by=owner, moving=moving)
    assert not Plant.objects.filter(cancelled=False).exists()


def test_looks_at_pots_stand_in_the_way_until_they_are_undone(owner: Person, nursery: Nursery) -> None:
    moving = _in(owner, "pots", OTHERS["pots"])
    look = nursery.record(pot_looked_at, pot=SeedPot.objects.first(), seen="plenty")
    with pytest.raises(Refused):
        import_undone(by=owner, moving=moving)
    undone(act=nursery.act(), target=look)
    import_undone(by=owner, moving=moving)
    assert not SeedPot.objects.filter(cancelled=False).exists()


# --- drafts and rights ---


def test_a_draft_can_be_forgotten_and_a_table_brought_in_cannot(owner: Person) -> None:
    thrown_away(by=owner, moving=looked_over(owner, "seed", OTHERS["seed"]))
    assert not Import.objects.exists()
    brought = _in(owner, "plants", PLANTS)
    with pytest.raises(Refused) as refusal:
        thrown_away(by=owner, moving=brought)
    assert refusal.value.sentence == "This table was brought in, so it is kept. Undo it instead."
    with pytest.raises(Refused):
        import_undone(by=owner, moving=table(owner, "seed", OTHERS["seed"]))


@pytest.mark.parametrize("role", ["grower", "viewer"])
def test_only_owners_move_in(role: str, owner: Person, nursery: Nursery) -> None:
    other = nursery.person(role)
    moving = table(owner, "plants", PLANTS)
    for refused in (
        lambda: table(other, "seed", OTHERS["seed"]),
        lambda: looked_over(other, "plants", PLANTS),
        lambda: brought_in(by=other, moving=moving),
        lambda: thrown_away(by=other, moving=moving),
        lambda: import_undone(by=other, moving=moving),
    ):
        with pytest.raises(Refused) as refusal:
            refused()
        assert refusal.value.sentence == "Only an owner may do this."
