"""Backups made while acts are recorded as fast as can be: each comes back equal, by hash and by count."""

import hashlib
import sqlite3
import threading
import uuid
from collections.abc import Iterator
from contextlib import closing, contextmanager
from pathlib import Path

import pytest

from nursery.models import Person
from nursery.records.core import NewAct
from nursery.records.places import place_made
from nursery.site.backup import backup_write, row_counts, sha256
from nursery.site.databases import SQLITE_FILE
from nursery.site.restore import django_on, restore
from tests.site.conftest import PHOTOS

pytestmark = pytest.mark.usefixtures("database_allowed")

BACKUPS = 4
CHANGED_BY_RESTORING = {"nursery_house", "nursery_tagsequence"}
"""The epoch and the jump of the tag numbers, both on purpose."""


@contextmanager
def _somebody_recording(records: Path) -> Iterator[None]:
    stop, failures = threading.Event(), []

    def work() -> None:
        try:
            with django_on(records / SQLITE_FILE):
                by, number = Person.objects.get(), 0
                while not stop.is_set():
                    number += 1
                    place_made(act=NewAct(id=uuid.uuid4(), by=by), name=f"Shed {number}", size="house")
        except Exception as error:  # told below, on the test's own thread
            failures.append(error)

    thread = threading.Thread(target=work)
    thread.start()
    try:
        yield
    finally:
        stop.set()
        thread.join()
    assert failures == []


def _first_rows_hash(database: Path, table: str, count: int) -> str:
    """SHA-256 of what stands in a table's oldest rows; nothing here is ever deleted, so those stay the same."""
    with closing(sqlite3.connect(database)) as connection:
        rows = connection.execute(f'SELECT * FROM "{table}" ORDER BY rowid LIMIT ?', (count,))
        return hashlib.sha256("\n".join(map(repr, rows)).encode()).hexdigest()


def _is_sound(database: Path) -> bool:
    with closing(sqlite3.connect(database)) as connection:
        checks = [
            connection.execute(f"PRAGMA {check}").fetchall() for check in ("integrity_check", "foreign_key_check")
        ]
    return checks == [[("ok",)], []]


def test_every_backup_made_under_load_comes_back_equal_by_hash_and_count(records: Path, tmp_path: Path) -> None:
    files = [tmp_path / f"{number}.tar" for number in range(BACKUPS)]
    with _somebody_recording(records):
        made = [backup_write(file, database=records / SQLITE_FILE, media=records / "media") for file in files]
    acts = [manifest.rows["nursery_act"] for manifest in made]
    assert acts == sorted(acts)
    assert acts[0] < acts[-1], "somebody must have gone on recording during the backups"
    for file, manifest in zip(files, made, strict=True):
        folder = tmp_path / file.stem
        folder.mkdir()
        assert restore(file, folder=folder) == manifest
        database = folder / SQLITE_FILE
        assert _is_sound(database)
        counts = row_counts(database)
        for table in manifest.rows.keys() - CHANGED_BY_RESTORING:
            assert counts[table] == manifest.rows[table], table
            live, restored = [
                _first_rows_hash(place, table, manifest.rows[table]) for place in (records / SQLITE_FILE, database)
            ]
            assert restored == live, table
        photos = sorted((folder / "media" / "photos").iterdir())
        assert [sha256(photo) for photo in photos] == [photo.stem for photo in photos]
        assert len(photos) == PHOTOS
        whole = {manifest.rows[table] for table in ("nursery_act", "nursery_place", "nursery_placemade", "nursery_tag")}
        assert whole == {manifest.rows["nursery_act"]}, "an act has all its rows or none"
