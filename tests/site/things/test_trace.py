"""The page that traces a virus scare from one plant. The example was worked out by hand on paper.

Heddle is on Tray 1 from day 100 (days before today) and is moved to the Rail on day 50. Tray 1 stands on the North
bench, and from day 70 on the South bench.

- Bodkin came onto Tray 1 on day 90 and is there still: one tray for 40 days (90 to 50).
- Spindle stood on the North bench itself from day 200 to day 80: one bench for 20 days (100 to 80).
- Distaff came to the South bench on day 60: one bench for 10 days (60 to 50).
- Bobbin came to the North bench on day 65, when Tray 1 had left it: never near.
- A pot was sown on the Rail on day 30: one bench for 30 days.
"""

import pytest
from django.test import Client

from breeding.records.pollen import pollen_collected
from breeding.records.posted import pollen_split, seed_split
from breeding.records.sections import section_pollinated
from nursery.days import Day
from nursery.models import Person, Place, Plant
from nursery.records.moves import moved, place_moved
from nursery.records.places import place_made
from nursery.records.plants import plant_arrived
from nursery.records.undo import undone
from tests.making import Nursery, ago, birth_of, today

Rows = dict[str, str]


def _day(days: int) -> str:
    return ago(days).words(today())


def _plant(nursery: Nursery, word: str, place: Place, days_ago: int) -> Plant:
    return nursery.plant(nursery.clone("lowii", word), place=place, days_ago=days_ago)


@pytest.fixture
def house(nursery: Nursery) -> Place:
    return nursery.house("Cool house")


@pytest.fixture
def heddle(nursery: Nursery, house: Place) -> Plant:
    north, south, rail = (nursery.bench(name, inside=house) for name in ("North bench", "South bench", "Rail"))
    tray = nursery.made(place_made, name="Tray 1", size="tray", inside=north)
    heddle = _plant(nursery, "heddle", tray, 100)
    nursery.record(place_moved, place=tray, inside=south, days_ago=70)
    nursery.record(moved, thing=heddle, place=rail, days_ago=50)
    _plant(nursery, "bodkin", tray, 90)
    nursery.record(moved, thing=_plant(nursery, "spindle", north, 200), place=nursery.bench(), days_ago=80)
    _plant(nursery, "distaff", south, 60)
    _plant(nursery, "bobbin", north, 65)
    return heddle


def _context(client: Client, plant: Plant) -> dict:
    answer = client.get(f"/plants/{plant.pk}/trace/")
    assert answer.status_code == 200
    return answer.context


def _near(client: Client, plant: Plant) -> list[tuple[str, str]]:
    rows = _context(client, plant)["near"].rows
    return [("".join(part.text for part in row.name_parts), row.sub) for row in rows]


def _came(client: Client, plant: Plant) -> dict[str, list[str]]:
    traces = _context(client, plant)["offspring"]
    return {one.title.partition(":")[0]: [row.sub for row in one.rows] for one in traces if one.rows}


def _cut(client: Client, plant: Plant) -> list[tuple[str, str]]:
    rows = _context(client, plant)["cut"].rows
    return [("".join(part.text for part in row.name_parts), row.sub) for row in rows]


# --- who stood near ---


def test_who_stood_near_as_worked_out_by_hand(nursery: Nursery, heddle: Plant, as_viewer: Client) -> None:
    nursery.pot(place=Place.objects.get(name="Rail"), days_ago=30)
    south = f"{_day(70)} to {_day(50)}"
    north = f"{_day(90)} to {_day(70)}"
    assert _near(as_viewer, heddle)[0] == (
        "lowii bodkin",
        f"same tray or spot, Tray 1: 40 days ({_day(90)} to {_day(50)}); "
        f"same bench, North bench: 20 days ({north}); same bench, South bench: 20 days ({south})",
    )
    assert [reason for _, reason in _near(as_viewer, heddle)[1:]] == [
        f"same bench, Rail: 30 days (since {_day(30)})",
        f"same bench, North bench: 20 days ({_day(100)} to {_day(80)})",
        f"same bench, South bench: 10 days ({_day(60)} to {_day(50)})",
    ]
    assert [name for name, _ in _near(as_viewer, heddle)][2:] == ["lowii spindle", "lowii distaff"]


def test_one_house_alone_is_not_near(nursery: Nursery, heddle: Plant, house: Place, as_viewer: Client) -> None:
    nursery.plant(place=nursery.bench("Door bench", inside=house))
    assert len(_near(as_viewer, heddle)) == 3
    alone = nursery.plant(place=nursery.bench())
    assert _near(as_viewer, alone) == []
    assert "Nothing shared a bench or tray with it" in as_viewer.get(f"/plants/{alone.pk}/trace/").text


def test_what_was_undone_was_never_there(nursery: Nursery, as_viewer: Client) -> None:
    bench = nursery.bench()
    plant, other = nursery.plant(place=bench), nursery.plant(place=bench)
    assert len(_near(as_viewer, plant)) == 1
    undone(act=nursery.act(), target=birth_of(other))
    assert _near(as_viewer, plant) == []


def test_a_day_not_known_is_taken_wide(nursery: Nursery, as_viewer: Client) -> None:
    bench = nursery.bench("Rail")
    plant = nursery.plant(place=bench, day=Day.unknown())
    nursery.plant(place=bench, day=Day.unknown())
    [(_, reason)] = _near(as_viewer, plant)
    since = f"since a day not known, {_day(0)} at the latest"
    assert reason == f"same bench, Rail: at least 0 days ({since})"


# --- who came from it ---


def test_who_came_from_it_down_the_records(nursery: Nursery, heddle: Plant, as_viewer: Client) -> None:
    """A cutting of a cutting; a section on it; its pollen on another; seed and pots of both; a clone raised."""
    cutting = nursery.made(plant_arrived, clone=heddle.clone, struck_from=heddle, days_ago=40)
    nursery.made(plant_arrived, clone=heddle.clone, struck_from=cutting, days_ago=10)
    on_it = nursery.section(nursery.spike(heddle, sex="female", days_ago=45), days_ago=44)
    male = nursery.spike(cutting, sex="male", days_ago=35)
    lot = nursery.pollen([male], days_ago=34)
    with_it = nursery.section(lot=lot, days_ago=33)
    nursery.pots(2, nursery.seed(on_it, days_ago=5), days_ago=4)
    nursery.seed(with_it, days_ago=3)
    nursery.section(days_ago=33)  # of others
    nursery.clone(seed_parent=heddle.clone)
    assert _came(as_viewer, heddle) == {
        "Struck from it": [f"struck from it, {_day(40)}", f"struck from a cutting of it, {_day(10)}"],
        "Pollen taken from it": [f"taken from a cutting of it, {_day(34)}"],
        "Sections on it, or with its pollen": [
            f"on it, pollinated {_day(44)}",
            f"with pollen of a cutting of it, pollinated {_day(33)}",
        ],
        "Seed of these": [f"harvested from one of these sections, {_day(days)}" for days in (5, 3)],
        "Pots sown from that seed": [f"sown from that seed, {_day(4)}"] * 2,
        "Clones raised from its clone": ["a parent is its clone; from which of its plants is not on record"],
    }


def test_parts_that_were_split_off_came_from_it_too(nursery: Nursery, heddle: Plant, as_viewer: Client) -> None:
    """Else a virus goes on in the second packet, and nobody is told."""
    lot = nursery.pollen([nursery.spike(heddle, sex="male", days_ago=35)], days_ago=34)
    part = nursery.made(pollen_split, lot=nursery.made(pollen_split, lot=lot, days_ago=30), days_ago=20)
    seed = nursery.seed(nursery.section(lot=part, days_ago=19), days_ago=5)
    nursery.made(seed_split, lot=seed, days_ago=2)
    assert _came(as_viewer, heddle) == {
        "Pollen taken from it": [
            f"taken from it, {_day(34)}{split}"
            for split in ("", ", split off since", ", split off since, split off since")
        ],
        "Sections on it, or with its pollen": [f"with its pollen, pollinated {_day(19)}"],
        "Seed of these": [f"harvested from one of these sections, {_day(5)}", f"split off from that seed, {_day(2)}"],
    }


def test_a_cutting_does_not_lead_back_to_its_mother(nursery: Nursery, as_viewer: Client) -> None:
    plant = nursery.plant()
    cutting = nursery.made(plant_arrived, clone=plant.clone, struck_from=plant)
    assert _came(as_viewer, cutting) == {}


# --- who was cut after it ---


def test_who_was_cut_after_it_in_the_order_of_recording(nursery: Nursery, grower: Person, as_viewer: Client) -> None:
    """Before it: a male. On it: pollen taken. After it, by Tom Reed: a female is pollinated, a cutting is taken."""
    early, plant, female, mother = (nursery.plant(nursery.clone("lowii", word)) for word in ("a", "b", "c", "d"))
    spikes = [nursery.spike(one, sex="male", days_ago=9) for one in (early, plant)]
    seen = nursery.spike(female, sex="female", days_ago=9)
    for spike in spikes:
        nursery.record(pollen_collected, spikes=[spike], days_ago=6)
    nursery.record(section_pollinated, spike=seen, days_ago=6, by=grower)
    nursery.record(plant_arrived, clone=mother.clone, struck_from=mother, days_ago=6, by=grower)
    nursery.record(plant_arrived, clone=early.clone, struck_from=early, days_ago=5)
    assert _cut(as_viewer, plant) == [
        ("lowii c", f"pollinated {_day(6)} by Tom Reed, next after it (pollen taken by Ida Fern)"),
        ("lowii d", f"cutting taken {_day(6)} by Tom Reed, number 2 after it (pollen taken by Ida Fern)"),
    ]
    assert "the order of recording stands for the order of the work" in as_viewer.get(f"/plants/{plant.pk}/trace/").text


def test_a_correction_keeps_its_turn_in_the_work(nursery: Nursery, as_viewer: Client) -> None:
    """Told again in the evening, a cut of the morning is still the first."""
    plant, other = nursery.plant(), nursery.plant(nursery.clone("hamata", "kettle"))
    first = nursery.record(plant_arrived, clone=plant.clone, struck_from=plant, days_ago=2)
    nursery.record(plant_arrived, clone=other.clone, struck_from=other, days_ago=2)
    nursery.record(plant_arrived, clone=plant.clone, struck_from=plant, pot="9 cm", days_ago=2, replaces=first)
    assert [name for name, _ in _cut(as_viewer, plant)] == ["hamata kettle"]
    assert _cut(as_viewer, other) == []


def test_a_plant_that_arrived_without_a_mother_was_not_cut(nursery: Nursery, as_viewer: Client) -> None:
    plant = nursery.plant()
    nursery.record(plant_arrived, clone=plant.clone, struck_from=plant)
    nursery.record(plant_arrived, clone=plant.clone)
    assert _cut(as_viewer, plant) == []


def test_the_harvest_counts_as_a_cut(nursery: Nursery, as_viewer: Client) -> None:
    first, second = nursery.section(days_ago=200), nursery.section(days_ago=200)
    for section in (first, second):
        nursery.seed(section, days_ago=3)
    [(name, reason)] = _cut(as_viewer, first.spike.plant)[:1]
    assert reason.startswith(f"harvested {_day(3)}")
    assert name == str(second.spike.plant.clone)


# --- the page ---


def test_everybody_with_a_name_reads_it_and_no_stranger(nursery: Nursery, stranger: Client, request) -> None:
    plant = nursery.plant()
    for role in ("as_owner", "as_grower", "as_viewer"):
        client = request.getfixturevalue(role)
        assert client.get(f"/plants/{plant.pk}/trace/").status_code == 200
        assert f"/plants/{plant.pk}/trace/" in client.get(f"/plants/{plant.pk}/").text
        assert client.post(f"/plants/{plant.pk}/trace/").status_code == 405
    assert stranger.get(f"/plants/{plant.pk}/trace/").status_code == 302
    assert request.getfixturevalue("as_owner").get("/plants/999999/trace/").status_code == 404


def test_it_asks_as_often_for_many_as_for_few(nursery: Nursery, as_viewer: Client, django_assert_max_num_queries):
    as_viewer.get("/more/")
    counts = []
    for many in (1, 5):
        bench = nursery.bench()
        plant = nursery.plant(place=bench)
        for _ in range(many):
            tray = nursery.made(place_made, name=f"Tray {nursery.act().id}", size="tray", inside=bench)
            nursery.record(place_moved, place=tray, inside=bench)
            nursery.plant(place=tray)
            nursery.pot(place=bench, lot=nursery.seed(nursery.section(nursery.spike(plant, sex="female"))))
            nursery.section(lot=nursery.pollen([nursery.spike(plant, sex="male")]))
            plant_made = nursery.made(plant_arrived, clone=plant.clone, struck_from=plant)
            nursery.made(plant_arrived, clone=plant.clone, struck_from=plant_made)
            nursery.clone(seed_parent=plant.clone)
        with django_assert_max_num_queries(32) as asked:
            as_viewer.get(f"/plants/{plant.pk}/trace/")
        counts.append(len(asked))
    assert counts[0] == counts[1]
