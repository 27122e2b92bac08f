"""The server is killed in the middle of its work: what it acknowledged is there, and sending all again adds nothing.

This tells that every acknowledged act is committed before its answer goes out. A dead process leaves its commits to
the system, so a power cut is another matter: for that SQLite waits for the disk (tests/site/test_databases.py).
"""

import sqlite3
import threading
import uuid
from collections.abc import Iterator
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path
from typing import Any

import pytest
from django.contrib.contenttypes.models import ContentType
from django.test import override_settings

from breeding.models import Spike
from nursery.models import Person
from nursery.records import milestones
from nursery.site.databases import SQLITE_FILE
from nursery.site.restore import django_on
from tests.durability.phone import Phone
from tests.making import Nursery
from tests.migrated import migrated_folder
from tests.site.processes import serving

NAME, PASSWORD = "Ida Fern", "wet moss, warm night"
SERVERS_OWN = "django.contrib.auth.hashers.Argon2PasswordHasher"
PHONES, POSTS_EACH = 6, 50
KILL_AFTER = 60
"""Acknowledged posts before the server dies, of 300."""

Posts = list[tuple[str, str]]  # address and UUID of each act


@pytest.fixture
def folder(tmp_path: Path, django_db_blocker: Any) -> Iterator[Path]:
    """A data folder with an owner and a spike for each phone."""
    migrated_folder(tmp_path)
    with django_db_blocker.unblock(), django_on(tmp_path / SQLITE_FILE):
        with override_settings(PASSWORD_HASHERS=[SERVERS_OWN]):
            owner = Person.objects.create_user(name=NAME, password=PASSWORD, role="owner")
        nursery = Nursery(owner)
        for _ in range(PHONES):
            nursery.spike(days_ago=9)
    ContentType.objects.clear_cache()
    yield tmp_path
    ContentType.objects.clear_cache()


def test_killed_during_300_posts_nothing_acknowledged_is_lost_and_replaying_changes_nothing(
    folder: Path, django_db_blocker: Any
) -> None:
    posts = _posts(folder)
    acknowledged = _posted_until_killed(folder, posts)
    assert KILL_AFTER <= len(acknowledged) < PHONES * POSTS_EACH, "the server was to die in the middle"
    assert acknowledged <= _looks(folder)
    assert _is_sound(folder)
    with serving(folder, "serve") as server:
        for _ in range(2):
            assert len(_sent(server.address, posts)) == PHONES * POSTS_EACH
            assert _looks(folder) == {act_id for row in posts for _, act_id in row}
            assert _count(folder, "breeding_spikelook") == PHONES * POSTS_EACH
    assert _is_sound(folder)
    with django_db_blocker.unblock(), django_on(folder / SQLITE_FILE):
        for spike in Spike.objects.all():
            fresh = milestones.worked_out(spike)
            assert fresh == {name: getattr(spike, name) for name in fresh}


def _posts(folder: Path) -> list[Posts]:
    """For each phone, looks at its own spike."""
    rows = _rows(folder, "select thing_id from breeding_spike order by thing_id")
    return [[(f"spikes/{pk}/look/", str(uuid.uuid4())) for _ in range(POSTS_EACH)] for (pk,) in rows]


def _posted_until_killed(folder: Path, posts: list[Posts]) -> set[str]:
    with serving(folder, "serve") as server:
        return _sent(server.address, posts, kill=server.process.kill)


def _sent(address: str, posts: list[Posts], *, kill: Any = None) -> set[str]:
    """Post from all phones at once, and ``kill`` the server when enough is acknowledged; the ids of what was.

    None posts before all are signed in, or a slow one would meet the server's death at the door.
    """
    acknowledged: set[str] = set()
    lock, all_in = threading.Lock(), threading.Barrier(len(posts), timeout=120)

    def work(row: Posts) -> None:
        phone = Phone(address)
        phone.sign_in(NAME, PASSWORD)
        all_in.wait()
        for path, act_id in row:
            if phone.acknowledged(path, act_id=act_id, quick="growing", seen="growing"):
                with lock:
                    acknowledged.add(act_id)
                    if kill and len(acknowledged) == KILL_AFTER:
                        kill()

    with ThreadPoolExecutor(len(posts)) as pool:
        list(pool.map(work, posts))
    return acknowledged


def _rows(folder: Path, sql: str) -> list[tuple[Any, ...]]:
    connection = sqlite3.connect(folder / SQLITE_FILE)
    try:
        return connection.execute(sql).fetchall()
    finally:
        connection.close()


def _looks(folder: Path) -> set[str]:
    """The ids of all looks on record."""
    return {str(uuid.UUID(id)) for (id,) in _rows(folder, "select id from nursery_act where kind = 'spike_look'")}


def _count(folder: Path, table: str) -> int:
    return _rows(folder, f"select count(*) from {table}")[0][0]


def _is_sound(folder: Path) -> bool:
    sound = _rows(folder, "pragma integrity_check") == [("ok",)]
    return sound and _rows(folder, "pragma foreign_key_check") == []
