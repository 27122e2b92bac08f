"""How to back up: the commands, and what is known of the last one, without promising more."""

from datetime import UTC, datetime
from html import unescape
from pathlib import Path

import pytest
import time_machine
from django.core.management import get_commands
from django.db import connection
from django.test import Client

from nursery.site import backup_log
from nursery.site.backup_log import Noted

PAGE = "/office/backup/"
NOON = datetime(2026, 3, 9, 12, tzinfo=UTC)


@pytest.fixture
def folder(tmp_path: Path, settings) -> Path:
    settings.DATA = tmp_path
    return tmp_path


def test_it_tells_the_commands_of_this_database(as_owner: Client, folder: Path) -> None:
    page = as_owner.get(PAGE).content.decode()
    told = {
        "sqlite": ["manage.py backup /path", "manage.py backup --check", "manage.py restore /path"],
        "postgresql": ["pg_dump --format=custom", "pg_restore", "manage.py restore --after-pg-restore"],
    }
    assert all(command in page for command in told[connection.vendor])
    assert {"backup", "restore"} <= get_commands().keys()


def test_the_commands_name_the_folder_of_these_records(as_owner: Client, tmp_path: Path, settings) -> None:
    """The demo has a folder of its own, and a server started elsewhere would look in the usual one.

    Proved without it, a backup is noted as proved in another folder, and the page says that none was.
    """
    settings.DATA = tmp_path / "my records"
    page = unescape(as_owner.get(PAGE).text)
    if connection.vendor == "sqlite":
        for command in ("backup", "backup --check"):
            assert f"TEPAL_DATA='{tmp_path}/my records' .venv/bin/python manage.py {command} /path/to/tepal.tar" in page


def test_it_says_where_nothing_is_known(as_owner: Client, folder: Path) -> None:
    words = {"sqlite": "Tepal knows of none made on this machine.", "postgresql": "Tepal does not know when"}
    page = as_owner.get(PAGE).content.decode()
    assert words[connection.vendor] in page
    assert "Whether the file is still there" not in page, "no file is known"


def test_it_says_when_the_last_was_made_and_proved(as_owner: Client, folder: Path) -> None:
    with time_machine.travel(NOON, tick=False):
        backup_log.note(folder, "made", Path("/backups/<b>monday.tar"))
        backup_log.note(folder, "proved", Path("/backups/sunday.tar"))
    answer = as_owner.get(PAGE)
    assert answer.context["made"] == Noted(NOON, "/backups/<b>monday.tar")
    assert answer.context["proved"] == Noted(NOON, "/backups/sunday.tar")
    if connection.vendor == "sqlite":
        assert "9 Mar 2026, 12:00</strong>, as /backups/&lt;b&gt;monday.tar" in answer.content.decode()


def test_a_newer_note_takes_the_place_of_the_older(tmp_path: Path) -> None:
    for file in ("one.tar", "two.tar"):
        backup_log.note(tmp_path, "made", tmp_path / file)
    assert backup_log.read(tmp_path)["made"].file == str(tmp_path / "two.tar")


@pytest.mark.parametrize("text", ["", "[]", "null", '{"made": 3}', '{"made": {"at": "soon", "file": "x"}}', "\ud83c"])
def test_a_damaged_note_is_nothing_known(tmp_path: Path, text: str) -> None:
    (tmp_path / backup_log.NAME).write_bytes(text.encode("utf-8", "surrogatepass"))
    assert backup_log.read(tmp_path) == {}


def test_a_folder_that_cannot_be_written_costs_only_the_note(tmp_path: Path) -> None:
    backup_log.note(tmp_path / "not there", "made", Path("one.tar"))
    assert backup_log.read(tmp_path / "not there") == {}
