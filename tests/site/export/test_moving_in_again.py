"""The tables that export writes are those that moving in takes: a nursery moved out and in again is the same one.

"The same" is told by the tables: moved in, it gives the same tables again, but for its numbers.
"""

import csv
import io
from typing import Any

import pytest
from django.db import transaction

from breeding.records import pods, pots, seed, spikes
from breeding.records.pollen import pollen_received
from nursery.days import Day
from nursery.models import Act, Person
from nursery.records import moves, plants
from nursery.records.remarks import remarked
from nursery.site.export.moving import tables
from nursery.site.export.sheet import written
from nursery.site.moving.imports import brought_in, columns_chosen, table_read
from nursery.site.moving.tables.decode import decoded
from tests.making import Nursery, today

pytestmark = pytest.mark.django_db
KINDS = ("plants", "pots", "seed", "pollen", "sections")

Tables = dict[str, list[dict[str, str]]]


class _TakenBack(Exception):
    """Leaves the database empty again."""


def _texts() -> dict[str, str]:
    return {sheet.path.removeprefix("moving-in/").removesuffix(".csv"): "".join(written(sheet)) for sheet in tables()}


def _rows(texts: dict[str, str]) -> Tables:
    """Without tag numbers, and with clones numbered in the order in which they come."""
    found = {code: list(csv.DictReader(io.StringIO(text.lstrip("\ufeff"), newline=""))) for code, text in texts.items()}
    order = {ref: str(at) for at, ref in enumerate(dict.fromkeys(row["Clone number"] for row in found["plants"]))}
    for row in (row for rows in found.values() for row in rows):
        row.pop("Number in Tepal")
        for name in row:
            row[name] = _renumbered(row[name], order)
        if "Clone number" in row:
            row["Clone number"] = order[row["Clone number"]]
    return found


def _renumbered(cell: str, order: dict[str, str]) -> str:
    before, opened, rest = cell.rpartition("[")
    return f"{before}[{order[rest[:-1]]}]" if opened and rest.endswith("]") and rest[:-1] in order else cell


def _moved_in(owner: Person, texts: dict[str, str]) -> None:
    for code in KINDS:
        if texts[code].count("\n") < 2:
            continue  # only headings
        read = table_read(by=owner, kind=code, name=f"{code}.csv", decoded=decoded(texts[code].encode()))
        moving = columns_chosen(by=owner, moving=read.moving, columns=read.moving.columns)
        assert moving.preview["problems"] == []
        brought_in(by=owner, moving=moving)


def _out_and_in(owner: Person, plant_all: Any) -> tuple[Tables, Tables]:
    """What the tables say of a nursery, and what they say after an empty one moved in with them."""
    out: dict[str, str] = {}
    again: dict[str, str] = {}
    for fill, into in ((plant_all, out), (lambda nursery: _moved_in(owner, out), again)):
        try:
            with transaction.atomic():
                assert not Act.objects.exists()
                fill(Nursery(owner))
                into |= _texts()
                raise _TakenBack
        except _TakenBack:
            pass
    return _rows(out), _rows(again)


def _season(nursery: Nursery) -> None:
    """Something of everything that a table can tell."""
    bench, ledge = nursery.bench("Bench / 1", inside=nursery.house("Cool")), nursery.bench("Ledge")
    mother, father = nursery.clone("lowii", "kettle", origin="gift", source="=Rosa"), nursery.clone("hamata", "")
    twin = nursery.clone("hamata", "")
    words = nursery.clone("hamata", "whisk", words_only=True)
    grex = nursery.clone(word="ladle", seed_parent=mother, pollen_parent=twin)
    nursery.clone(word="anvil × x", seed_parent=grex, pollen_parent=words)
    plant = nursery.plant(mother, place=ledge, day=Day.month(2024, 3), pot="13 cm")
    nursery.plant(grex, place=ledge, day=Day.unknown())
    nursery.plant(twin, place=nursery.bench("Ledge 2", inside=ledge.inside), day=Day.about_week(today()))
    gone = nursery.plant(father, place=bench)
    nursery.record(plants.plant_gone, plant=gone, why="died")
    nursery.record(remarked, thing=plant, words='Sex: female\nleans, "over"')
    spike = nursery.spike(plant, sex="female", days_ago=200)
    lot = nursery.made(pollen_received, clone=twin, day=Day.unknown())
    section = nursery.section(spike, lot=lot, days_ago=190, tie="red", flowers=40)
    nursery.record(pods.take_read, section=section, swelling="most", pods=30, days_ago=140)
    nursery.record(pods.pods_looked_at, section=section, seen="turning", bagged=True, pods_left=12, days_ago=3)
    nursery.section(spike, lot=lot, day=Day.month(today().year - 1, 5))
    by_post = nursery.seed_by_post(seed_parent=words, pollen_parent=father, words="from the hills", seeds=120)
    nursery.record(seed.seed_stored, lot=by_post, storage="refrigerator")
    sown = nursery.pots(2, by_post, place=ledge, seeds=20, days_ago=90, medium="milled moss")
    nursery.record(pots.pot_looked_at, pot=sown[0], seen="few", counted=7, days_ago=5)
    nursery.record(moves.moved, thing=sown[1], place=nursery.bench("Pots", inside=ledge.inside))
    nursery.pollen([nursery.spike(nursery.plant(one, place=ledge), sex="male") for one in (twin, father)])
    nursery.record(spikes.spike_looked, spike=spike, seen="over", days_ago=100)


def test_a_season_moved_out_and_in_again_is_the_same(owner: Person) -> None:
    before, after = _out_and_in(owner, _season)
    assert {code: len(rows) for code, rows in before.items()} == {
        "plants": 7,
        "pots": 2,
        "seed": 1,
        "pollen": 2,
        "sections": 2,
    }
    assert after == before
