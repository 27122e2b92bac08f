"""`manage.py backup` and `manage.py restore`, as people run them."""

import json
import shutil
import tarfile
from pathlib import Path
from subprocess import CompletedProcess

import pytest
from django.core.management import CommandError

from nursery.site.management import advice
from tests.site.conftest import PHOTOS, PLACES
from tests.site.processes import manage

Written = tuple[Path, Path, CompletedProcess[str]]


@pytest.fixture(scope="module")
def written(_filled: Path, tmp_path_factory: pytest.TempPathFactory) -> Written:
    """A data folder, its backup, and what the command said; only to be read."""
    folder = tmp_path_factory.mktemp("backed_up")
    records, file = Path(shutil.copytree(_filled, folder / "records")), folder / "b.tar"
    return records, file, manage(records, "backup", str(file))


def _as_of(backup):
    with tarfile.open(backup) as archive:
        return json.load(archive.extractfile("manifest.json"))


def test_it_works_from_backup_to_proof_to_restore(written, tmp_path):
    (records, file, done), new = written, tmp_path / "new"
    told = _as_of(file)
    holds = (
        f"It holds {PLACES} acts ({sum(told['rows'].values())} rows in all) and {PHOTOS} photos, "
        f"as of {told['made_at']}.\n"
    )
    assert (done.returncode, done.stdout) == (
        0,
        f"Backup written to {file}. Prove it with "
        f"`TEPAL_DATA={records} .venv/bin/python manage.py backup --check {file}`.\n{holds}",
    )
    proved = manage(records, "backup", "--check", str(file))
    assert (proved.returncode, proved.stdout) == (
        0,
        f"{file} is sound: restored elsewhere, compared, and thrown away.\n{holds}",
    )
    restored = manage(new, "restore", str(file))
    assert (restored.returncode, restored.stdout) == (
        0,
        f"Restored {file} into {new}.\n{holds}"
        "Tag numbers go on above any that may have been printed since, and phones will offer again what they kept.\n"
        "People sign in again. Start Tepal with `manage.py serve`.\n",
    )
    assert sorted(path.name for path in new.iterdir()) == ["media", "secret_key", "tepal.sqlite3"]


@pytest.mark.parametrize("command", ["backup", "restore"])
def test_a_damaged_backup_fails_and_says_so(written, tmp_path, command):
    file, damaged = tmp_path / "b.tar", bytearray(written[1].read_bytes())
    damaged[damaged.index(b"leaf 3 ")] ^= 1
    file.write_bytes(damaged)
    done = manage(tmp_path / "new", command, str(file), *(["--check"] if command == "backup" else []))
    assert done.returncode == 1
    assert done.stderr.startswith("CommandError: media/photos/")
    assert done.stderr.endswith(
        ".jpg is damaged in the backup: its content does not match the manifest. Use another backup.\n"
    )


def test_restoring_over_records_fails_and_says_so(written):
    records, file, _ = written
    done = manage(records, "restore", str(file))
    assert done.returncode == 1
    assert done.stderr.startswith(f"CommandError: {records} is not empty: it holds media. Restoring never overwrites;")


def test_restore_needs_a_file(tmp_path):
    done = manage(tmp_path, "restore")
    assert done.returncode != 0
    assert "one of the arguments FILE --after-pg-restore is required" in done.stderr


@pytest.mark.parametrize("words", [advice.FOR_BACKUP, advice.FOR_RESTORE])
def test_on_postgresql_its_own_tools_are_named(words, monkeypatch, settings, tmp_path):
    class Connection:
        vendor = "postgresql"

    settings.MEDIA_ROOT = tmp_path / "media"
    monkeypatch.setattr(advice, "connection", Connection())
    with pytest.raises(CommandError) as refused:
        advice.refuse_postgresql(words)
    assert f"{tmp_path}/media" in str(refused.value)
    assert ("pg_dump" in str(refused.value)) or ("pg_restore" in str(refused.value))
