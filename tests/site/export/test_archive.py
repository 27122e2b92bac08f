"""Everything as one zip, and each table by itself: complete, described, and nothing that a spreadsheet computes."""

import csv
import io
import zipfile

import pytest
from django.apps import apps
from django.db import connection
from django.test import Client
from django.test.utils import CaptureQueriesContext

from breeding.records.pods import pods_looked_at
from nursery.models import Act, Person
from nursery.records import registry
from nursery.records.plants import plant_gone
from nursery.records.remarks import remarked
from nursery.records.undo import undone
from nursery.site.export import archive
from nursery.site.export.lists import LISTS
from nursery.site.export.sheet import Sheet, cell
from tests.making import Nursery

pytestmark = pytest.mark.django_db


def _files(client: Client) -> dict[str, list[dict[str, str]]]:
    answer = client.get("/office/export/everything.zip")
    assert answer["Content-Type"] == "application/zip"
    with zipfile.ZipFile(io.BytesIO(b"".join(answer.streaming_content))) as zipped:
        assert zipped.testzip() is None
        return {name: _rows(zipped.read(name)) for name in zipped.namelist()}


def _rows(data: bytes) -> list[dict[str, str]]:
    assert data.startswith(b"\xef\xbb\xbf"), "spreadsheets know UTF-8 by its mark"
    return list(csv.DictReader(io.StringIO(data.decode("utf-8-sig"), newline="")))


def _table(client: Client, name: str) -> list[dict[str, str]]:
    answer = client.get(f"/office/export/{name}.csv")
    assert answer["Content-Disposition"] == f'attachment; filename="{name}.csv"'
    return _rows(b"".join(answer.streaming_content))


def test_there_is_a_table_for_every_kind_of_thing_and_of_act(as_owner: Client) -> None:
    names = set(_files(as_owner))
    assert {f"things/{kind.slug}.csv" for kind in registry.thing_kinds().values()} <= names
    assert {f"acts/{code}.csv" for code in registry.act_kinds()} <= names
    assert {f"moving-in/{code}.csv" for code in ("plants", "pots", "seed", "pollen", "sections")} <= names


def test_every_stored_column_of_a_thing_or_an_act_is_in_its_table() -> None:
    by_path = {sheet.path: [column.name for column in sheet.columns] for sheet in archive.sheets()}
    tables = [(kind.model, "thing", f"things/{kind.slug}.csv") for kind in registry.thing_kinds().values()]
    tables += [(kind.detail, "act", f"acts/{kind.code}.csv") for kind in registry.act_kinds().values() if kind.detail]
    for model, key, path in tables:
        fields = [*model._meta.concrete_fields, *model._meta.many_to_many]
        for name in (field.name for field in fields if field.name != key):
            assert {name, f"{name}_id", f"own_{name}", f"own_{name}_id"} & set(by_path[path]), (path, name)
    act = {field.name for field in Act._meta.concrete_fields}
    told_otherwise = {"kind": "the file's name", "said": "day_said", "payload_hash": "ours", "thing": "thing_id"}
    columns = {name.removesuffix("_id") for name in by_path["acts/remarked.csv"]}
    assert act - set(told_otherwise) <= columns


def test_every_column_of_every_table_is_described(as_owner: Client) -> None:
    files = _files(as_owner)
    described = {(row["file"], row["column"]): row for row in files["columns.csv"]}
    for sheet in archive.sheets():
        assert len({column.name for column in sheet.columns}) == len(sheet.columns), sheet.path
        for column in sheet.columns:
            row = described.pop((sheet.path, column.name))
            assert row["meaning"].endswith(".") and row["meaning"][0].isupper(), (sheet.path, column.name)
            assert row["holds"], (sheet.path, column.name)
    assert described == {}, "what is described is there"


def test_no_password_leaves_the_house(as_owner: Client, owner: Person) -> None:
    [person] = _table(as_owner, "lists-people")
    assert person["name"] == "Ida Fern" and "password" not in person
    everything = b"".join(as_owner.get("/office/export/everything.zip").streaming_content)
    with zipfile.ZipFile(io.BytesIO(everything)) as zipped:
        assert not any(owner.password.encode() in zipped.read(name) for name in zipped.namelist())


def test_a_thing_is_told_with_its_number_its_name_and_its_days(as_owner: Client, nursery: Nursery) -> None:
    plant = nursery.plant(
        nursery.clone("hamata", "lantern"), place=nursery.bench("Ledge", inside=nursery.house("Cool"))
    )
    [row] = _table(as_owner, "things-plants")
    assert row["id"] == str(plant.pk)
    assert row["number"] == str(plant.thing.tags.get().number)
    assert (row["name"], row["stands_at"], row["clone_id"]) == ("hamata lantern", "Cool / Ledge", str(plant.clone_id))
    assert row["born_first"] == row["born_last"] == plant.thing.born_by.day_first.isoformat()
    assert row["born_said"] == "exact"


def test_an_act_is_told_with_what_it_touched_and_whether_it_counts(as_owner: Client, nursery: Nursery) -> None:
    section = nursery.section(days_ago=60)
    look = nursery.record(pods_looked_at, section=section, seen="turning", pods_left=4, note="soft, at the tip")
    void = undone(act=nursery.act(), target=look)
    [row] = _table(as_owner, "acts-pod_look")
    assert (row["id"], row["undone_by"], row["by"]) == (str(look.pk), str(void.pk), "Ida Fern")
    assert (row["name"], row["seen"], row["pods_left"], row["note"]) == (
        "lowii lantern × hamata hammer",
        "turning",
        "4",
        "soft, at the tip",
    )
    [dab] = _table(as_owner, "acts-pollinated")
    assert dab["undone_by"] == ""
    assert str(section.spike_id) in dab["touched"].split("|")
    assert dab["made"].split("|") == sorted([str(section.cross_id), str(section.pk)])


FORMULAS = ["=HYPERLINK(1)", "+1", "-1", "@SUM(A1)", "\t=1", "\r=1", "'=1"]


@pytest.mark.parametrize("words", FORMULAS)
def test_what_a_spreadsheet_would_compute_is_neutralised(words: str) -> None:
    # OWASP's page "CSV Injection", from memory: = + - @ tab and carriage return begin a formula.
    assert cell(words) == f"'{words}"


def test_numbers_stay_numbers() -> None:
    assert [cell(value) for value in (-3, 0, 2.5, None, True, False)] == [-3, 0, 2.5, "", "yes", "no"]


def test_a_formula_somebody_wrote_is_harmless_in_every_table(as_owner: Client, nursery: Nursery) -> None:
    plant = nursery.plant()
    nursery.record(remarked, thing=plant, words='=cmd|"/c calc"!A1')
    nursery.record(plant_gone, plant=plant, why="died", note="@home")
    found = [row["words"] for row in _table(as_owner, "acts-remarked")]
    assert found == ['\'=cmd|"/c calc"!A1']
    assert [row["note"] for row in _table(as_owner, "acts-plant_gone")] == ["'@home"]


def test_other_scripts_emoji_and_line_breaks_come_out_as_they_are(as_owner: Client, nursery: Nursery) -> None:
    words = 'नर्सरी 猪笼草 🌱\n"second", line; <b>bold</b>'
    nursery.record(remarked, thing=nursery.plant(), words=words)
    assert [row["words"] for row in _table(as_owner, "acts-remarked")] == [words]


def test_there_is_no_table_of_any_other_name(as_owner: Client) -> None:
    assert as_owner.get("/office/export/nursery_person.csv").status_code == 404


@pytest.mark.parametrize("address", ["/office/export/everything.zip", "/office/export/things-plants.csv"])
def test_only_owners_take_records_out(address: str, as_grower: Client, as_viewer: Client, stranger: Client) -> None:
    assert [client.get(address).status_code for client in (as_grower, as_viewer, stranger)] == [403, 403, 302]


def test_the_queries_grow_with_the_tables_and_not_with_the_rows(nursery: Nursery) -> None:
    [sheet] = [one for one in archive.sheets() if one.path == "acts/plant_arrived.csv"]
    nursery.plant()
    few = _counted(sheet)
    bench = nursery.bench()
    for _ in range(8):
        nursery.plant(place=bench)
    assert _counted(sheet) == few


def _counted(sheet: Sheet) -> int:
    with CaptureQueriesContext(connection) as queries:
        list(sheet.rows())
    return len(queries)


TOLD_ELSEWHERE = {
    "Thing": "its kind's table",
    "Act": "its kind's table",
    "ActLink": "touched and made",
    "Together": "the acts",
    "TagSequence": "a counter",
    "SignInCode": "secrets",
    "House": "settings",
    "NeedsALook": "no records yet",
    "Repair": "the acts",
    "SignedIn": "secrets",
    "CalendarAddress": "secrets",
}
"""Tables without one of their own in the export, and where what they hold stands, or what it is."""


def test_no_table_of_ours_is_forgotten() -> None:
    kinds = registry.thing_kinds().values()
    told = {kind.model for kind in kinds} | {kind.detail for kind in registry.act_kinds().values()}
    told |= {model for model, _, _ in LISTS}
    ours = {model for label in ("nursery", "breeding") for model in apps.get_app_config(label).get_models()}
    assert {model.__name__ for model in ours - told} == set(TOLD_ELSEWHERE)
