"""A backup comes back whole, or says why not; and tag numbers and phones are taken care of."""

import io
import json
import random
import sqlite3
import stat
import tarfile
from contextlib import closing

import pytest

from nursery.models import Act, House, Place, Tag
from nursery.records.numbers import JUMP_ON_RESTORE, next_numbers
from nursery.site import restore as restoring
from nursery.site.backup import BackupRefused, backup_write, row_counts, seal, sha256
from nursery.site.databases import SQLITE_FILE
from nursery.site.restore import django_on, prove, restore
from tests.site.conftest import PHOTOS, PLACES

pytestmark = pytest.mark.usefixtures("database_allowed")


@pytest.fixture
def backup(records, tmp_path):
    backup_write(tmp_path / "b.tar", database=records / "tepal.sqlite3", media=records / "media")
    return tmp_path / "b.tar"


@pytest.fixture
def empty(tmp_path):
    return tmp_path / "new"


def _rewritten(backup, change):
    """The backup with other members: ``change`` gets and gives {name: content}, manifest's text included."""
    with tarfile.open(backup) as archive:
        content = {member.name: archive.extractfile(member).read() for member in archive.getmembers()}
    changed = change(content)
    with tarfile.open(backup, "w") as archive:
        for name, data in changed:
            member = tarfile.TarInfo(name)
            member.size = len(data)
            archive.addfile(member, io.BytesIO(data))
    return backup


def _told_otherwise(content, **changes):
    """The manifest with other words and a seal that fits them."""
    told = json.loads(content["manifest.json"]) | changes
    told.pop("seal")
    return json.dumps(told | {"seal": seal(told)}).encode()


def _refusal(backup, empty):
    with pytest.raises(BackupRefused) as refused:
        restore(backup, folder=empty)
    assert list(empty.iterdir()) == [], "a refused backup leaves nothing behind"
    return str(refused.value)


def test_it_works(records, backup, empty):
    manifest = restore(backup, folder=empty)
    assert sorted(p.name for p in empty.iterdir()) == ["media", "tepal.sqlite3"]
    for name, digest in manifest.files.items():
        if name.startswith("media/"):
            assert sha256(empty / name) == digest == sha256(records / name)
    with django_on(empty / "tepal.sqlite3"):
        assert (Act.objects.count(), Place.objects.count()) == (PLACES, PLACES)
        assert list(Place.objects.order_by("pk").values_list("name", flat=True))[:2] == ["House 0", "House 1"]


def test_every_table_comes_back_with_its_rows(records, backup, empty):
    restore(backup, folder=empty)
    before, after = row_counts(records / "tepal.sqlite3"), row_counts(empty / "tepal.sqlite3")
    # The house's one row is made by its new epoch where the nursery had none yet.
    assert {t for t in before if before[t] != after[t]} <= {"nursery_house"}
    assert sum(before.values()) > PLACES * 3


def test_the_next_tag_number_is_beyond_any_that_may_have_been_printed(records, backup, empty):
    with django_on(records / "tepal.sqlite3"):
        printed_later = next_numbers(JUMP_ON_RESTORE)
    restore(backup, folder=empty)
    with django_on(empty / "tepal.sqlite3"):
        assert next_numbers(1)[0] > max(printed_later)
        assert Tag.objects.count() == PLACES


def test_phones_see_a_new_epoch(records, backup, empty):
    with django_on(records / "tepal.sqlite3"):
        old = House.objects.get_or_create(id=1)[0].epoch
    restore(backup, folder=empty)
    with django_on(empty / "tepal.sqlite3"):
        assert House.objects.get().epoch != old


def test_proving_a_backup_leaves_the_records_and_the_folder_as_they_were(records, backup):
    before = {p: sha256(p) for p in sorted(records.rglob("*")) if p.is_file()}
    assert prove(backup, folder=records).photos == PHOTOS
    assert {p: sha256(p) for p in sorted(records.rglob("*")) if p.is_file()} == before


def test_a_folder_with_records_is_refused(records, backup):
    before = sha256(records / "tepal.sqlite3")
    with pytest.raises(BackupRefused) as refused:
        restore(backup, folder=records)
    assert str(refused.value) == (
        f"{records} is not empty: it holds media. Restoring never overwrites; move that away, "
        "or set TEPAL_DATA to a new folder."
    )
    assert sha256(records / "tepal.sqlite3") == before


def test_what_every_start_makes_does_not_count_as_records(backup, empty):
    (empty / "media").mkdir(parents=True)
    for name in ("static", "demo", "small_photos", "learned"):
        (empty / name).mkdir()
        (empty / name / "file").touch()
    (empty / "backups.json").touch()
    (empty / "secret_key").write_text("made by the start")
    restore(backup, folder=empty)
    assert (empty / "secret_key").read_text() == "made by the start"


@pytest.mark.parametrize("seed", range(12))
def test_a_flipped_bit_is_found(backup, empty, seed):
    """Anywhere in a member's content or the part of its header that is used; tar's padding carries nothing."""
    chance = random.Random(seed)
    with tarfile.open(backup) as archive:
        member = chance.choice(archive.getmembers())
    header = range(member.offset, member.offset + 100)
    content = range(member.offset_data, member.offset_data + member.size)
    data = bytearray(backup.read_bytes())
    data[chance.choice([*header, *content])] ^= 1 << chance.randrange(8)
    backup.write_bytes(data)
    assert _refusal(backup, empty).endswith("Use another backup.")


def test_a_damaged_photo_is_named(backup, empty):
    with tarfile.open(backup) as archive:
        photo = archive.getmembers()[2]
    data = bytearray(backup.read_bytes())
    data[photo.offset_data + 100] ^= 4
    backup.write_bytes(data)
    assert _refusal(backup, empty) == (
        f"{photo.name} is damaged in the backup: its content does not match the manifest. Use another backup."
    )


def test_a_backup_cut_short_is_refused(backup, empty):
    data = backup.read_bytes()
    for length in (0, 100, 1000, len(data) // 2, len(data) - 12_000):
        backup.write_bytes(data[:length])
        assert _refusal(backup, empty).endswith("Use another backup.")


def test_another_file_is_refused(backup, empty):
    backup.write_text("pots to buy")
    assert _refusal(backup, empty).startswith(f"{backup} is damaged or no backup of Tepal's (")


def test_a_tar_of_something_else_is_refused(backup, empty):
    _rewritten(backup, lambda content: [("notes.txt", b"pots to buy")])
    assert _refusal(backup, empty) == (
        "This file is no backup of Tepal's: it does not begin with manifest.json. Use another backup."
    )


def test_a_file_that_is_not_there_is_refused(tmp_path, empty):
    assert _refusal(tmp_path / "none.tar", empty).startswith("The backup could not be restored: [Errno 2] No such file")


def test_a_manifest_without_its_seal_is_refused(backup, empty):
    def change(content):
        told = json.loads(content["manifest.json"])
        told["made_at"] = "2026-01-01T00:00:00+00:00"
        return (content | {"manifest.json": json.dumps(told).encode()}).items()

    _rewritten(backup, change)
    assert _refusal(backup, empty) == "The backup's manifest is damaged. Use another backup."


@pytest.mark.parametrize("text", [b"", b"[]", b"{}", b"null", b"\xff", b'{"seal": 1}'])
def test_a_manifest_that_is_none_is_refused(backup, empty, text):
    _rewritten(backup, lambda content: (content | {"manifest.json": text}).items())
    assert _refusal(backup, empty) == "The backup's manifest is damaged. Use another backup."


def test_a_missing_photo_is_named(backup, empty):
    names = []

    def change(content):
        names.append(list(content)[-1])
        return [(name, data) for name, data in content.items() if name != names[0]]

    _rewritten(backup, change)
    assert _refusal(backup, empty) == f"The backup lacks {names[0]}, which its manifest lists. Use another backup."


def test_a_file_too_many_is_named(backup, empty):
    _rewritten(backup, lambda content: [*content.items(), ("media/extra.jpg", b"?")])
    assert _refusal(backup, empty) == (
        "The backup holds media/extra.jpg, which its manifest does not list once. Use another backup."
    )


def test_a_file_that_comes_twice_is_named(backup, empty):
    _rewritten(backup, lambda content: [*content.items(), ("tepal.sqlite3", b"other")])
    assert "The backup holds tepal.sqlite3, which its manifest does not list once." in _refusal(backup, empty)


def test_a_name_that_leads_out_of_the_folder_is_refused(backup, empty, tmp_path):
    def change(content):
        files = json.loads(content["manifest.json"])["files"] | {"../escaped": "0" * 64}
        return [*(content | {"manifest.json": _told_otherwise(content, files=files)}).items(), ("../escaped", b"!")]

    _rewritten(backup, change)
    assert "is damaged or no backup of Tepal's" in _refusal(backup, empty)
    assert not (tmp_path / "escaped").exists()


def test_a_link_is_refused(backup, empty):
    """It would be followed by what is compared, to wherever it leads."""
    with tarfile.open(backup) as archive:
        members = [(member, archive.extractfile(member).read()) for member in archive.getmembers()]
    with tarfile.open(backup, "w") as archive:
        for member, data in members:
            if member.name == SQLITE_FILE:
                member.type, member.linkname, member.size = tarfile.SYMTYPE, "/etc/hostname", 0
            archive.addfile(member, io.BytesIO(data))
    assert f"{SQLITE_FILE} is no plain file inside of it" in _refusal(backup, empty)


def test_what_comes_back_is_for_its_owner_alone(backup, empty):
    restore(backup, folder=empty)
    files = [one for one in empty.rglob("*") if one.is_file()]
    assert len(files) > PHOTOS
    assert {stat.S_IMODE(one.stat().st_mode) & 0o077 for one in files} == {0}


def test_a_format_of_later_days_is_refused(backup, empty):
    _rewritten(backup, lambda content: (content | {"manifest.json": _told_otherwise(content, format=2)}).items())
    assert _refusal(backup, empty) == "This backup was made by a newer Tepal; install that one first."


def test_rows_that_do_not_count_up_are_named(backup, empty):
    def change(content):
        rows = json.loads(content["manifest.json"])["rows"] | {"nursery_place": 99}
        return (content | {"manifest.json": _told_otherwise(content, rows=rows)}).items()

    _rewritten(backup, change)
    assert _refusal(backup, empty) == (
        f"The backup holds {PLACES} rows of nursery_place, and its manifest says 99. Use another backup."
    )


def test_records_of_a_later_version_are_refused(records, tmp_path, empty):
    with closing(sqlite3.connect(records / "tepal.sqlite3")) as connection, connection:
        connection.execute(
            "INSERT INTO django_migrations (app, name, applied) VALUES ('nursery', '0999_later', '2030-01-01')"
        )
    backup_write(tmp_path / "b.tar", database=records / "tepal.sqlite3", media=records / "media")
    assert _refusal(tmp_path / "b.tar", empty) == (
        "This backup was made by a newer Tepal (nursery.0999_later); install that one first, then restore."
    )


def test_a_dangling_reference_is_found(records, tmp_path, empty):
    with closing(sqlite3.connect(records / "tepal.sqlite3")) as connection, connection:
        connection.execute("PRAGMA foreign_keys=OFF")
        connection.execute("DELETE FROM nursery_person")
    backup_write(tmp_path / "b.tar", database=records / "tepal.sqlite3", media=records / "media")
    assert _refusal(tmp_path / "b.tar", empty) == "The records in the backup are damaged. Use another backup."


def test_one_cut_short_by_a_failure_leaves_the_folder_empty(backup, empty, monkeypatch):
    def fail():
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(restoring, "settle", fail)
    assert _refusal(backup, empty) == "The backup could not be restored: [Errno 28] No space left on device."
