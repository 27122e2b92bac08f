"""One file with everything, made while others write."""

import json
import sqlite3
import stat
import tarfile
from contextlib import closing

import pytest

from nursery.site import backup
from nursery.site.backup import BackupRefused, backup_write
from tests.site.conftest import PHOTOS, PLACES


def _write(records, file):
    return backup_write(file, database=records / "tepal.sqlite3", media=records / "media")


def test_it_works(records, tmp_path):
    manifest = _write(records, tmp_path / "b.tar")
    with tarfile.open(tmp_path / "b.tar") as archive:
        names = archive.getnames()
        told = json.load(archive.extractfile(names[0]))
    assert names[:2] == ["manifest.json", "tepal.sqlite3"]
    assert sorted(names[2:]) == sorted(f"media/photos/{p.name}" for p in (records / "media/photos").iterdir())
    assert told["rows"]["nursery_place"] == told["rows"]["nursery_act"] == PLACES
    assert (manifest.photos, told["files"]) == (PHOTOS, manifest.files)


def test_photos_in_the_manifest_have_the_hash_that_names_them(records, tmp_path):
    """Photos are named by their SHA-256, so their names check the manifest's hashes."""
    manifest = _write(records, tmp_path / "b.tar")
    photos = {name: digest for name, digest in manifest.files.items() if name.startswith("media/")}
    assert len(photos) == PHOTOS
    assert [name for name, digest in photos.items() if name != f"media/photos/{digest}.jpg"] == []


def test_the_snapshot_is_one_file_without_a_journal_beside_it(records, tmp_path):
    """Source: SQLite file format, bytes 18 and 19 of the header are 1 for a rollback journal, 2 for WAL."""
    backup.snapshot_take(records / "tepal.sqlite3", tmp_path / "copy.sqlite3")
    assert (tmp_path / "copy.sqlite3").read_bytes()[18:20] == b"\x01\x01"
    assert [p.name for p in tmp_path.glob("copy.sqlite3*")] == ["copy.sqlite3"]


def test_what_stands_only_in_the_write_ahead_log_is_in_the_backup(records, tmp_path):
    with closing(sqlite3.connect(records / "tepal.sqlite3", isolation_level=None)) as writer:
        writer.execute("PRAGMA wal_autocheckpoint=0")
        writer.execute("CREATE TABLE late (word TEXT)")
        writer.execute("INSERT INTO late VALUES ('kept')")
        assert (records / "tepal.sqlite3-wal").stat().st_size > 0
        assert _write(records, tmp_path / "b.tar").rows["late"] == 1


def test_a_half_done_transaction_is_not_in_the_backup(records, tmp_path):
    with closing(sqlite3.connect(records / "tepal.sqlite3", isolation_level=None)) as writer:
        writer.execute("BEGIN IMMEDIATE")
        writer.execute("CREATE TABLE late (word TEXT)")
        assert "late" not in _write(records, tmp_path / "b.tar").rows
        writer.execute("ROLLBACK")


def test_only_its_owner_may_read_it(records, tmp_path):
    _write(records, tmp_path / "b.tar")
    assert stat.S_IMODE((tmp_path / "b.tar").stat().st_mode) == 0o600


def test_the_secret_key_stays_out(records, tmp_path):
    (records / "secret_key").write_text("not for travel")
    _write(records, tmp_path / "b.tar")
    assert b"not for travel" not in (tmp_path / "b.tar").read_bytes()


def test_nothing_is_left_beside_it(records, tmp_path):
    place = tmp_path / "backups"
    place.mkdir()
    _write(records, place / "b.tar")
    assert [p.name for p in place.iterdir()] == ["b.tar"]


def test_it_replaces_an_older_backup(records, tmp_path):
    first = _write(records, tmp_path / "b.tar")
    (records / "media/photos/one-more.jpg").write_bytes(b"new")
    assert _write(records, tmp_path / "b.tar").photos == first.photos + 1


def test_it_replaces_nothing_else(records, tmp_path):
    (tmp_path / "notes.txt").write_text("pots to buy")
    with pytest.raises(BackupRefused) as refused:
        _write(records, tmp_path / "notes.txt")
    assert str(refused.value) == f"{tmp_path}/notes.txt exists and is no backup of Tepal's; choose another name."
    assert (tmp_path / "notes.txt").read_text() == "pots to buy"


def test_a_folder_that_is_not_there_is_refused(records, tmp_path):
    with pytest.raises(BackupRefused) as refused:
        _write(records, tmp_path / "nowhere/b.tar")
    assert str(refused.value) == f"There is no folder {tmp_path}/nowhere; make it, or name another place."


def test_without_records_there_is_nothing_to_back_up(tmp_path):
    with pytest.raises(BackupRefused) as refused:
        _write(tmp_path, tmp_path / "b.tar")
    assert str(refused.value) == f"There are no records in {tmp_path}; say with TEPAL_DATA where they are."
    assert list(tmp_path.iterdir()) == []


def test_a_photo_that_cannot_be_read_ends_in_a_sentence(records, tmp_path, monkeypatch):
    """Root may read everything, so the refusal is put in by hand."""

    def unreadable(path):
        raise PermissionError(13, "Permission denied", str(path))

    monkeypatch.setattr(backup, "sha256", unreadable)
    with pytest.raises(BackupRefused, match=r"^The backup could not be written: \[Errno 13\] Permission denied: .*\.$"):
        _write(records, tmp_path / "b.tar")
    assert not (tmp_path / "b.tar").exists()


def test_a_failed_backup_leaves_the_older_one(records, tmp_path, monkeypatch):
    _write(records, tmp_path / "b.tar")
    before = (tmp_path / "b.tar").read_bytes()

    def full(*args, **kwargs):
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(backup, "_pack", full)
    with pytest.raises(BackupRefused):
        _write(records, tmp_path / "b.tar")
    assert (tmp_path / "b.tar").read_bytes() == before
