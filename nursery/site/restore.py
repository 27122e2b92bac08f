"""Bring a backup back into an empty data folder, and by that prove it.

Everything happens in a folder of its own inside the data folder: unpack, compare, bring up to date, move the tag
numbers on. Only then two renames put it in place, the photos' and the records', so that a restore that fails leaves
nothing of itself. One that is cut short may leave its own folder, which the next goes past, or between the two renames
its photos, which the next asks to have moved away; it never leaves records without their photos.
"""

import json
import os
import shutil
import sqlite3
import tarfile
import tempfile
from collections.abc import Iterator
from contextlib import closing, contextmanager
from pathlib import Path

from django.core.management import call_command
from django.db import connections
from django.db.migrations.loader import MigrationLoader
from django.db.utils import load_backend

from nursery.records.house import epoch_renew
from nursery.records.numbers import sequence_jump
from nursery.site import backup_log
from nursery.site.backup import (
    FORMAT,
    MANIFEST,
    MEDIA,
    BackupRefused,
    Manifest,
    connect,
    folder_sync,
    row_counts,
    seal,
    sha256,
)
from nursery.site.databases import SQLITE_FILE, sqlite

STAGE = ".tepal-restore-"
# What a data folder may hold and still count as empty: made at every start, or not part of the records.
NOT_RECORDS = {"secret_key", "static", "demo", "small_photos", "learned", backup_log.NAME}
ANOTHER = "Use another backup"


def restore(file: Path, *, folder: Path) -> Manifest:
    """Restore the backup ``file`` into the empty ``folder``.

    Raises:
        BackupRefused: the folder holds records, or the file is no backup, damaged, or newer than this Tepal.
    """
    _refuse_records_in(folder)
    try:
        with tempfile.TemporaryDirectory(prefix=STAGE, dir=folder) as stage:
            manifest = _restore(file, Path(stage))
            _put_in_place(Path(stage), folder)
    except OSError as error:
        raise BackupRefused(f"The backup could not be restored: {error}.") from error
    return manifest


def prove(file: Path, *, folder: Path) -> Manifest:
    """Restore the backup into a new folder beside ``folder``'s own files, and throw the folder away."""
    with tempfile.TemporaryDirectory(prefix=STAGE, dir=folder) as empty:
        return restore(file, folder=Path(empty))


def settle() -> None:
    """Bring restored records up to date, and move on what phones and printed tags may know better than the backup.

    Tags printed after the backup was made carry numbers that the restored sequence would give again: it jumps. Phones
    hold acts that the backup lacks: a new epoch makes them offer those again.
    """
    call_command("migrate", interactive=False, verbosity=0)
    sequence_jump()
    epoch_renew()


@contextmanager
def django_on(database: Path) -> Iterator[None]:
    """Let Django's default connection, in this thread, be this SQLite file."""
    kept = connections["default"]
    described = connections.configure_settings({"default": sqlite(database)})["default"]
    connections["default"] = load_backend(described["ENGINE"]).DatabaseWrapper(described, "default")
    try:
        yield
    finally:
        connections["default"].close()
        connections["default"] = kept


def _restore(file: Path, stage: Path) -> Manifest:
    manifest = unpack(file, stage)
    _compare_files(stage, manifest)
    _compare_records(stage / SQLITE_FILE, manifest)
    with django_on(stage / SQLITE_FILE):
        _refuse_newer()
        settle()
    return manifest


def unpack(file: Path, stage: Path) -> Manifest:
    """Unpack all of ``file`` into ``stage``, if it holds the names that its manifest lists and no others."""
    try:
        with tarfile.open(file, "r:") as archive:
            manifest = manifest_read(archive)
            _compare_names([member.name for member in archive.getmembers()], manifest)
            for member in archive.getmembers():
                _unpack_file(archive, member, stage)
    except tarfile.TarError as error:
        raise BackupRefused(f"{file} is damaged or no backup of Tepal's ({error}). {ANOTHER}.") from error
    return manifest


def _unpack_file(archive: tarfile.TarFile, member: tarfile.TarInfo, stage: Path) -> None:
    """Only plain files inside of ``stage``. tarfile can see to it itself, but not in the Python of Debian 12."""
    to = stage / member.name
    if not member.isreg() or not to.resolve().is_relative_to(stage.resolve()):
        raise tarfile.TarError(f"{member.name} is no plain file inside of it")
    to.parent.mkdir(parents=True, exist_ok=True)
    with archive.extractfile(member) as reader, open(to, "xb", opener=_for_its_owner) as writer:
        shutil.copyfileobj(reader, writer)


def _for_its_owner(path: str, flags: int) -> int:
    return os.open(path, flags, 0o600)


def manifest_read(archive: tarfile.TarFile) -> Manifest:
    """The manifest, which is the archive's first member, if its seal is whole and its format known."""
    first = archive.next()
    reader = archive.extractfile(first) if first and first.name == MANIFEST else None
    if reader is None:
        raise BackupRefused(f"This file is no backup of Tepal's: it does not begin with {MANIFEST}. {ANOTHER}.")
    try:
        told = json.loads(reader.read())
        whole = told.pop("seal") == seal(told)
    except (ValueError, KeyError, TypeError, AttributeError):
        whole = False
    if not whole:
        raise BackupRefused(f"The backup's manifest is damaged. {ANOTHER}.")
    if told["format"] != FORMAT:
        raise BackupRefused("This backup was made by a newer Tepal; install that one first.")
    return Manifest(made_at=told["made_at"], files=told["files"], rows=told["rows"])


def _compare_names(names: list[str], manifest: Manifest) -> None:
    listed = {MANIFEST, *manifest.files}
    for name in sorted(listed - set(names)):
        raise BackupRefused(f"The backup lacks {name}, which its manifest lists. {ANOTHER}.")
    if len(names) != len(listed):
        extra = sorted(set(names) - listed) or sorted(name for name in names if names.count(name) > 1)
        raise BackupRefused(f"The backup holds {extra[0]}, which its manifest does not list once. {ANOTHER}.")


def _compare_files(stage: Path, manifest: Manifest) -> None:
    for name, expected in manifest.files.items():
        if not (stage / name).is_file() or sha256(stage / name) != expected:
            raise BackupRefused(f"{name} is damaged in the backup: its content does not match the manifest. {ANOTHER}.")


def _compare_records(database: Path, manifest: Manifest) -> None:
    try:
        with closing(connect(database)) as connection:
            sound = connection.execute("PRAGMA integrity_check").fetchall() == [("ok",)]
            sound = sound and not connection.execute("PRAGMA foreign_key_check").fetchall()
        counted = row_counts(database) if sound else {}
    except sqlite3.DatabaseError:
        sound = False
    if not sound:
        raise BackupRefused(f"The records in the backup are damaged. {ANOTHER}.")
    for table in sorted(counted.keys() | manifest.rows.keys()):
        if counted.get(table) != manifest.rows.get(table):
            raise BackupRefused(
                f"The backup holds {counted.get(table, 0)} rows of {table}, and its manifest says "
                f"{manifest.rows.get(table, 0)}. {ANOTHER}."
            )


def _refuse_newer() -> None:
    """Refuse records whose tables a later Tepal has changed: this one would not understand them."""
    loader = MigrationLoader(connections["default"])
    ours = {app for app, _ in loader.disk_migrations}
    unknown = sorted(key for key in loader.applied_migrations if key[0] in ours and key not in loader.disk_migrations)
    if unknown:
        raise BackupRefused(
            f"This backup was made by a newer Tepal ({'.'.join(unknown[-1])}); install that one first, then restore."
        )


def _refuse_records_in(folder: Path) -> None:
    folder.mkdir(mode=0o700, parents=True, exist_ok=True)
    for path in sorted(folder.iterdir()):
        ours = path.name in NOT_RECORDS or path.name.startswith(STAGE)
        if not ours and not (path.is_dir() and not any(path.iterdir())):
            raise BackupRefused(
                f"{folder} is not empty: it holds {path.name}. Restoring never overwrites; move that away, "
                "or set TEPAL_DATA to a new folder."
            )


def _put_in_place(stage: Path, folder: Path) -> None:
    """Move photos, then records. The records come last: where they are, everything is."""
    (stage / MEDIA).mkdir(exist_ok=True)
    os.sync()
    os.rename(stage / MEDIA, folder / MEDIA)
    os.rename(stage / SQLITE_FILE, folder / SQLITE_FILE)
    folder_sync(folder)
