"""Moving in on its pages: paste or upload, columns, what it makes, bring in, undo; and all that may be wrong."""

import html
import re

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.test import Client

from nursery.models import Act, Person, Plant
from nursery.site.models import Import
from nursery.site.moving.imports import brought_in
from nursery.site.moving.tables.decode import TOO_BIG
from nursery.site.moving.tables.parse import MOST_ROWS, TOO_MANY_ROWS
from tests.making import Nursery
from tests.site.moving.tables import looked_over, table

pytestmark = pytest.mark.django_db
BEGIN = "/office/moving-in/"
TEXT = "Species,Place,Here since\nlowii,House 1 / Bench 1,spring 2024\nhamata,,9 Mar 2026\n"


def _text(answer) -> str:
    """What a person reads, tags aside."""
    return " ".join(html.unescape(re.sub(r"<[^>]+>", " ", answer.content.decode())).split())


def _paste(client: Client, text: str = TEXT, kind: str = "plants", **more):
    return client.post(BEGIN, {"kind": kind, "table": text} | more)


def _upload(client: Client, data: bytes, name: str = "plants.csv", kind: str = "plants"):
    return client.post(BEGIN, {"kind": kind, "file": SimpleUploadedFile(name, data)})


def _columns(moving: Import, **changes: str) -> dict[str, str]:
    return {f"column_{at}": name for at, name in enumerate(moving.columns)} | changes


def test_the_whole_way(as_owner: Client) -> None:
    page = as_owner.get(_paste(as_owner).url)
    assert "a pasted table: 2 rows of plants with their clones, separated by commas." in _text(page)
    assert "For example: lowii; hamata" in _text(page)
    moving = Import.objects.get()
    page = as_owner.post(f"{BEGIN}{moving.pk}/columns/", _columns(moving, spring="march"), follow=True)
    assert "a plant of lowii, House 1 / Bench 1, came Mar–May 2024" in _text(page)
    assert "Bring in these 2 rows" in _text(page)
    assert not Act.objects.exists()
    page = as_owner.post(f"{BEGIN}{moving.pk}/bring/", follow=True)
    assert "2 rows were brought in." in _text(page)
    assert "2 of 2 things have no printed tag and no bound one yet." in _text(page)
    page = as_owner.post(f"{BEGIN}{moving.pk}/undo/", follow=True)
    assert "Undone: everything that a pasted table brought in." in _text(page)
    assert not Plant.objects.filter(cancelled=False).exists()


def test_undoing_what_was_never_brought_in_is_refused_in_words(as_owner: Client, owner: Person) -> None:
    moving = table(owner, "plants", TEXT)
    page = as_owner.post(f"{BEGIN}{moving.pk}/undo/", follow=True)
    assert page.status_code == 200
    assert "This table was never brought in, so there is nothing to undo." in _text(page)


def test_what_was_chosen_survives_a_change_of_page(as_owner: Client, owner: Person) -> None:
    moving = looked_over(owner, "plants", TEXT)
    as_owner.get("/office/")
    assert "Bring in these 2 rows" in _text(as_owner.get(f"{BEGIN}{moving.pk}/"))
    again = _text(as_owner.get(f"{BEGIN}{moving.pk}/?columns=yes"))
    assert "Look at what this makes" in again
    assert "plants with their clones, not brought in yet" in _text(as_owner.get(BEGIN))


@pytest.mark.parametrize("codec", ["utf-8", "utf-8-sig", "utf-16", "cp1252"])
@pytest.mark.parametrize("sign", [",", ";", "\t"])
def test_a_file_of_any_encoding_and_separator(codec: str, sign: str, as_owner: Client) -> None:
    text = f"Species{sign}From whom\r\nlowii{sign}Jürgen\r\n"
    page = as_owner.get(_upload(as_owner, text.encode(codec)).url)
    assert "For example: Jürgen" in _text(page)
    assert ("Windows-1252" in _text(page)) is (codec == "cp1252")


def test_a_guessed_encoding_is_said(as_owner: Client) -> None:
    page = as_owner.get(_upload(as_owner, "Species;From\nlowii;Zoë\n".encode("cp1252")).url)
    assert "its encoding was guessed to be Windows-1252: if letters look wrong below, save it again as UTF-8." in _text(
        page
    )


@pytest.mark.parametrize(
    ("sent", "sentence"),
    [
        ({"kind": "plants"}, "Paste a table, or choose a file."),
        ({"table": TEXT}, "Say what each row is."),
        ({"kind": "moss", "table": TEXT}, "What was chosen is not offered here, or not any more. Choose again."),
        ({"kind": "plants", "table": "Species\n"}, "There are headings, but no rows under them."),
        ({"kind": "plants", "table": 'Species\n"lowii\n'}, "A cell begins with a quotation mark that is never closed."),
        ({"kind": "plants", "table": "Species\n" + "lowii\n" * (MOST_ROWS + 1)}, TOO_MANY_ROWS),
    ],
)
def test_what_cannot_be_read_is_said_and_nothing_kept(sent: dict, sentence: str, as_owner: Client) -> None:
    answer = as_owner.post(BEGIN, sent)
    assert answer.status_code == 422
    assert sentence in _text(answer)
    assert not Import.objects.exists()


def test_not_both_a_table_and_a_file(as_owner: Client) -> None:
    answer = as_owner.post(BEGIN, {"kind": "plants", "table": TEXT, "file": SimpleUploadedFile("a.csv", b"a\nb")})
    assert "Paste a table or choose a file, not both." in _text(answer)


@pytest.mark.parametrize("name", ["plants.xlsx", "plants.ods"])
def test_a_spreadsheets_own_file_is_refused_with_what_to_do(name: str, as_owner: Client) -> None:
    answer = _upload(as_owner, b"PK\x03\x04" + b"\x00" * 900, name)
    assert "In your spreadsheet choose “Save as”, then CSV; or mark the cells, copy and paste." in _text(answer)


def test_an_empty_file_is_refused(as_owner: Client) -> None:
    assert "This file is empty. Choose another one." in _text(_upload(as_owner, b""))


def test_a_file_of_a_million_rows_is_refused_without_reading_it(as_owner: Client, monkeypatch) -> None:
    data = b"Species,Place\n" + b"lowii,House 1\n" * 1_000_000
    monkeypatch.setattr("nursery.site.moving.forms.decoded", lambda data: pytest.fail("it was read"))
    answer = _upload(as_owner, data)
    assert answer.status_code == 422
    assert TOO_BIG in _text(answer)
    assert not Import.objects.exists()


def test_a_pasted_flood_is_refused_kindly(as_owner: Client) -> None:
    answer = as_owner.post(BEGIN, {"kind": "plants", "table": "lowii\n" * 600_000})
    assert answer.status_code == 400
    assert "This was more than one page can send" in _text(answer)


def test_the_same_table_again_is_plainly_said(as_owner: Client, owner: Person) -> None:
    page = _paste(as_owner)
    again = as_owner.get(_paste(as_owner).url)
    assert again.request["PATH_INFO"] == page.url
    assert "This very table was read before. Here it is, as you left it." in _text(again)
    brought_in(by=owner, moving=looked_over(owner, "plants", TEXT))
    acts = Act.objects.count()
    text = _text(as_owner.get(_paste(as_owner).url))
    assert "This very table was brought in on" in text and "by Ida Fern. Nothing was changed." in text
    text = _text(as_owner.post(f"{BEGIN}{Import.objects.get().pk}/bring/", follow=True))
    assert "Nothing was changed." in text
    assert Act.objects.count() == acts


def test_days_that_may_be_two_are_asked_once(as_owner: Client, owner: Person) -> None:
    moving = table(owner, "plants", "Species,Here since\nlowii,3/4/2024\nhamata,5/6/2024\n")
    assert "In days such as 3/4/2026, the first number is" in _text(as_owner.get(f"{BEGIN}{moving.pk}/"))
    answer = as_owner.post(f"{BEGIN}{moving.pk}/columns/", _columns(moving))
    assert answer.status_code == 422
    assert "Some days here may be two days. Say which number comes first." in _text(answer)
    page = as_owner.post(f"{BEGIN}{moving.pk}/columns/", _columns(moving, day_order="month"), follow=True)
    assert "a plant of lowii, came 4 Mar 2024" in _text(page)


def test_days_that_tell_are_not_asked_about(as_owner: Client, owner: Person) -> None:
    moving = table(owner, "plants", "Species,Here since\nlowii,3/4/2024\nhamata,25/6/2024\n")
    assert "the first number is" not in _text(as_owner.get(f"{BEGIN}{moving.pk}/"))
    page = as_owner.post(f"{BEGIN}{moving.pk}/columns/", _columns(moving), follow=True)
    assert "a plant of lowii, came 3 Apr 2024" in _text(page)


def test_spring_is_asked_where_it_is_named(as_owner: Client, owner: Person) -> None:
    moving = table(owner, "plants", "Species,Here since\nlowii,spring 2024\n")
    page = as_owner.post(f"{BEGIN}{moving.pk}/columns/", _columns(moving, spring="september"), follow=True)
    assert "came Sep–Nov 2024" in _text(page)


def test_one_column_cannot_be_two(as_owner: Client, owner: Person) -> None:
    moving = table(owner, "plants", TEXT)
    answer = as_owner.post(f"{BEGIN}{moving.pk}/columns/", _columns(moving, column_1="species"))
    assert answer.status_code == 422
    assert "Two columns are taken for “Species”. Choose which one it is." in _text(answer)


def test_some_column_must_say_what_the_rows_are(as_owner: Client, owner: Person) -> None:
    moving = table(owner, "plants", "Species\nlowii\n")
    answer = as_owner.post(f"{BEGIN}{moving.pk}/columns/", {"column_0": "leave_out"})
    assert "No column says what the rows are. Choose at least one." in _text(answer)


def test_rows_with_problems_stay_out_only_where_that_is_said(as_owner: Client, owner: Person) -> None:
    moving = looked_over(owner, "plants", TEXT + "hamata,,31 Feb 2025\n")
    page = _text(as_owner.get(f"{BEGIN}{moving.pk}/"))
    assert "1 row cannot be brought in like this" in page
    assert "Row 4 Here since: “31 Feb 2025” is no day of any calendar. Look at it again." in page
    page = _text(as_owner.post(f"{BEGIN}{moving.pk}/bring/", follow=True))
    assert "Nothing was brought in: say below that the rows with problems stay out." in page
    assert not Act.objects.exists()
    page = _text(as_owner.post(f"{BEGIN}{moving.pk}/bring/", {"leave_out": "on"}, follow=True))
    assert "2 rows were brought in." in page
    assert "1 row of the table stayed out because of problems." in page


def test_what_stands_in_the_way_of_undoing_is_listed(as_owner: Client, owner: Person, nursery: Nursery) -> None:
    moving = brought_in(by=owner, moving=looked_over(owner, "plants", TEXT))
    nursery.spike(Plant.objects.first())
    answer = as_owner.post(f"{BEGIN}{moving.pk}/undo/")
    assert answer.status_code == 422
    assert "This cannot be undone now" in _text(answer)
    assert "plant of lowii: spike found: growing" in _text(answer)


def test_a_draft_is_forgotten(as_owner: Client, owner: Person) -> None:
    moving = table(owner, "plants", TEXT)
    page = as_owner.post(f"{BEGIN}{moving.pk}/throw-away/", follow=True)
    assert "Forgotten: table.csv. Nothing of it was brought in." in _text(page)
    assert not Import.objects.exists()


NASTY = ["<script>alert('x')</script>", "{{ 7|add:7 }}", "🌱👩‍🌾🏳️‍🌈", "नर्सरी 猪笼草 مشتل", "\u202etepaL"]


@pytest.mark.parametrize("words", NASTY)
def test_headings_cells_and_file_names_are_shown_as_they_are(words: str, as_owner: Client) -> None:
    quoted = words.replace('"', '""')
    data = f'Species,"{quoted}"\n"{quoted}","{quoted}"\n'.encode()
    page = as_owner.get(_upload(as_owner, data, name=f"{words.replace('/', '-')}.csv").url)
    assert "<script>alert" not in page.content.decode()
    assert html.escape(words) in page.content.decode()
    moving = Import.objects.get()
    page = as_owner.post(f"{BEGIN}{moving.pk}/columns/", _columns(moving), follow=True)
    assert page.status_code == 200
    assert "<script>alert" not in page.content.decode()


def test_long_work_says_so(as_owner: Client, owner: Person) -> None:
    moving = looked_over(owner, "plants", TEXT)
    page = as_owner.get(f"{BEGIN}{moving.pk}/").content.decode()
    assert "data-waiting hidden" in page
    assert "Bringing the rows in. A few hundred take some seconds; leave this page open." in page


@pytest.mark.parametrize("path", ["columns", "bring", "undo", "throw-away"])
def test_an_import_that_is_not_there_is_not_found(path: str, as_owner: Client) -> None:
    assert as_owner.post(f"{BEGIN}00000000-0000-0000-0000-000000000000/{path}/").status_code == 404
