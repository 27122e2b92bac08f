"""The run's own footing: no test touches a nursery's records, and each runs where it belongs."""

import subprocess
from pathlib import Path

import pytest
from django.conf import settings
from django.db import connection

from labels.models import Stock
from nursery.models import Person
from tests import chromium
from tests.conftest import SHIPPED, commits, uses_database
from tests.emptied import all_rows, emptied, put_back
from tests.isolation import clean_environment
from tests.site.processes import ROOT


def test_no_setting_of_a_nursery_reaches_a_run():
    kept = clean_environment(
        {"TEPAL_DATA": "/real", "TEPAL_HTTPS": "yes", "DATABASE_URL": "postgresql://real/real", "HOME": "/home/ida"},
        "/t",
    )
    ours = {"TEPAL_DATA": "/t", "TEPAL_TEST_FOLDER": "/t", "DJANGO_ALLOW_ASYNC_UNSAFE": "true"}
    assert kept == ours | {"HOME": "/home/ida"}


def test_a_database_is_named_only_by_the_run_for_it():
    asked = {"TEPAL_TEST_DATABASE": "postgresql", "DATABASE_URL": "postgresql://run/run"}
    assert clean_environment(asked, "/t")["DATABASE_URL"] == "postgresql://run/run"


def test_this_runs_data_folder_is_its_own():
    assert Path(settings.DATA).name.startswith("tepal-test-")


def test_sqlite_gives_what_is_asked_in_no_order_the_other_way_round(db):
    """Source: SQLite's documentation of PRAGMA reverse_unordered_selects. PostgreSQL keeps to no order by itself."""
    with connection.cursor() as cursor:
        asked = "PRAGMA reverse_unordered_selects" if connection.vendor == "sqlite" else "SELECT 1"
        cursor.execute(asked)
        assert cursor.fetchone() == (1,)


def test_rows_that_migrations_ship_are_remembered(db, pytestconfig):
    assert '"model": "labels.stock"' in pytestconfig.stash[SHIPPED][0]


@pytest.mark.django_db(transaction=True)
def test_what_a_test_commits_is_gone_after_it_and_what_is_shipped_is_back(nursery, pytestconfig):
    shipped = pytestconfig.stash[SHIPPED][0]
    nursery.section()
    emptied()
    assert not Person.objects.exists() and not Stock.objects.exists()
    put_back(shipped)
    assert all_rows() == shipped


@pytest.mark.django_db(transaction=True)
def test_a_test_that_commits_counts_as_one(request):
    assert commits(request.node)
    assert uses_database(request.node)


def test_a_test_in_one_transaction_does_not(db, request):
    assert not commits(request.node)
    assert uses_database(request.node)


def test_a_test_without_database_is_not_run_again(request):
    assert not uses_database(request.node)


@pytest.mark.parametrize(("pip", "made"), [("exit 1", "-m venv --clear .venv\n"), ("exit 0", "")])
def test_half_an_environment_is_made_anew(tmp_path, pip, made):
    """Debian without python3-venv leaves one: a Python, but no pip."""
    script = (ROOT / "tests/run").read_text().partition("# --- packages of the distribution")[0]
    _script(tmp_path / "tests/run", script + "python_ready")
    _script(tmp_path / ".venv/bin/python", pip)
    _script(tmp_path / "bin/python3", "echo \"$@\" > made; echo 'exit 0' > .venv/bin/python")
    (tmp_path / "requirements-test.txt").touch()
    (tmp_path / "made").touch()
    there = {"PATH": f"{tmp_path / 'bin'}:/usr/bin:/bin"}
    subprocess.run(["sh", "tests/run"], cwd=tmp_path, env=there, check=True)
    assert (tmp_path / "made").read_text() == made


def _script(path: Path, text: str) -> None:
    path.parent.mkdir(parents=True)
    path.write_text(f"#!/bin/sh\n{text}\n")
    path.chmod(0o755)


@pytest.mark.parametrize(
    ("content", "real"),
    [
        ("#!/bin/sh\necho Chromium 150.0 built on Debian\n", True),
        ('#!/bin/sh\nexec /snap/bin/chromium "$@"\necho Chromium 150\n', False),
        ("#!/bin/sh\necho no browser here\nexit 1\n", False),
    ],
)
def test_a_stub_is_told_from_a_browser(tmp_path, monkeypatch, content, real):
    program = tmp_path / "chromium"
    program.write_text(content)
    program.chmod(0o755)
    monkeypatch.setattr(chromium.shutil, "which", lambda name: str(program) if name == "chromium" else None)
    assert chromium.system_chromium() == (str(program) if real else None)
    assert chromium.launch(whole=True).get("executable_path") == (str(program) if real else None)


@pytest.mark.parametrize(
    ("there", "most", "with_pdf"),
    [
        ({"chromium-headless-shell", "chromium"}, "chromium-headless-shell", "chromium"),
        ({"chromium"}, "chromium", "chromium"),
        ({"chromium-browser"}, "chromium-browser", "chromium-browser"),
    ],
)
def test_most_tests_drive_the_shell_and_those_of_a_pdf_the_whole_browser(monkeypatch, there, most, with_pdf):
    monkeypatch.setattr(chromium.shutil, "which", lambda name: name if name in there else None)
    monkeypatch.setattr(chromium, "_is_real", lambda path: True)
    assert chromium.launch()["executable_path"] == most
    assert chromium.launch(whole=True)["executable_path"] == with_pdf


def test_without_a_browser_of_the_distribution_it_is_playwrights(monkeypatch):
    monkeypatch.setattr(chromium.shutil, "which", lambda name: None)
    assert chromium.launch() == {"args": chromium.FLAGS}
    assert chromium.launch(whole=True) == {"args": chromium.FLAGS, "channel": "chromium"}
