"""A backup: one plain tar with the manifest first, then the records, then the photos.

The records are snapshot first and the photos read after. A photo is written once, under a name made from its content,
and never changed, so a photo more than the records know is harmless, and one less cannot be. The secret key stays out:
a backup may travel, and without the key people only have to sign in again.
"""

import hashlib
import io
import json
import os
import sqlite3
import tarfile
import tempfile
from collections.abc import Iterator
from contextlib import closing
from dataclasses import dataclass
from datetime import UTC, datetime
from pathlib import Path
from typing import Any

from nursery.site.databases import SQLITE_FILE

FORMAT = 1
MANIFEST = "manifest.json"
MEDIA = "media"
WAIT = 20  # seconds that a snapshot waits for a writer


class BackupRefused(Exception):
    """A backup cannot be made, read or restored; the text is a sentence that says what to do."""


@dataclass(frozen=True)
class Manifest:
    """What a backup holds: when it was made, each file's SHA-256 by its name, each table's count of rows."""

    made_at: str
    files: dict[str, str]
    rows: dict[str, int]

    @property
    def photos(self) -> int:
        return len(self.files) - 1

    def as_text(self) -> str:
        """JSON with a seal, so that a damaged manifest is found as surely as a damaged photo."""
        told = {"format": FORMAT, "made_at": self.made_at, "files": self.files, "rows": self.rows}
        return json.dumps({**told, "seal": seal(told)}, indent=1)


def seal(told: dict[str, Any]) -> str:
    """SHA-256 of what the manifest tells, whatever the order and spacing."""
    return hashlib.sha256(json.dumps(told, sort_keys=True).encode()).hexdigest()


def backup_write(file: Path, *, database: Path, media: Path) -> Manifest:
    """Write the records and photos to ``file``, while Tepal runs; ``file`` appears whole or not at all.

    Raises:
        BackupRefused: there are no records, ``file`` is something else than a backup, or the disk refuses.
    """
    _refuse_overwriting(file)
    if not database.exists():
        raise BackupRefused(f"There are no records in {database.parent}; say with TEPAL_DATA where they are.")
    try:
        with tempfile.TemporaryDirectory(prefix=".tepal-backup-", dir=file.parent) as folder:
            return _write(file, Path(folder), database, media)
    except OSError as error:
        raise BackupRefused(f"The backup could not be written: {error}.") from error


def _write(file: Path, folder: Path, database: Path, media: Path) -> Manifest:
    snapshot = folder / SQLITE_FILE
    snapshot_take(database, snapshot)
    paths = {SQLITE_FILE: snapshot} | {f"{MEDIA}/{name}": media / name for name in media_names(media)}
    manifest = Manifest(
        made_at=datetime.now(UTC).isoformat(timespec="seconds"),
        files={name: sha256(path) for name, path in paths.items()},
        rows=row_counts(snapshot),
    )
    draft = folder / "draft.tar"
    _pack(draft, manifest, paths)
    os.replace(draft, file)
    folder_sync(file.parent)
    return manifest


def snapshot_take(database: Path, copy: Path) -> None:
    """Copy the records as they stand at one moment into a single file, while others go on writing.

    All pages go in one step: a copy in smaller steps begins again at every write, and may never end.
    """
    with closing(connect(database)) as source, closing(sqlite3.connect(copy)) as target:
        source.backup(target)
        target.execute("PRAGMA journal_mode=DELETE")


def connect(database: Path) -> sqlite3.Connection:
    """A plain connection to an existing file; unlike sqlite3's default, it never makes a new one."""
    return sqlite3.connect(f"{database.absolute().as_uri()}?mode=rw", uri=True, timeout=WAIT)


def media_names(media: Path) -> Iterator[str]:
    """Names of all photos below ``media``, with forward slashes, in a fixed order; drafts begin with a dot."""
    for path in sorted(media.rglob("*")):
        if path.is_file() and not path.is_symlink() and not path.name.startswith("."):
            yield path.relative_to(media).as_posix()


def row_counts(database: Path) -> dict[str, int]:
    """How many rows each table has."""
    with closing(connect(database)) as connection:
        tables = connection.execute(
            "SELECT name FROM sqlite_master WHERE type = 'table' AND name NOT LIKE 'sqlite@_%' ESCAPE '@' ORDER BY name"
        ).fetchall()
        return {table: connection.execute(f'SELECT count(*) FROM "{table}"').fetchone()[0] for (table,) in tables}


def sha256(path: Path) -> str:
    """SHA-256 of a file's content."""
    with path.open("rb") as reader:
        return hashlib.file_digest(reader, "sha256").hexdigest()


def folder_sync(folder: Path) -> None:
    """Make a new name in ``folder`` survive a power cut."""
    descriptor = os.open(folder, os.O_RDONLY)
    try:
        os.fsync(descriptor)
    finally:
        os.close(descriptor)


def _pack(draft: Path, manifest: Manifest, paths: dict[str, Path]) -> None:
    """Write manifest and files as a tar and push it to the disk; it holds password hashes, so only you may read it."""
    text = manifest.as_text().encode()
    descriptor = os.open(draft, os.O_RDWR | os.O_CREAT | os.O_EXCL, 0o600)
    with os.fdopen(descriptor, "wb") as writer:
        with tarfile.open(fileobj=writer, mode="w", format=tarfile.PAX_FORMAT) as archive:
            _add(archive, MANIFEST, io.BytesIO(text), len(text))
            for name, path in paths.items():
                with path.open("rb") as reader:
                    _add(archive, name, reader, path.stat().st_size)
        writer.flush()
        os.fsync(writer.fileno())


def _add(archive: tarfile.TarFile, name: str, reader: io.BufferedIOBase, size: int) -> None:
    member = tarfile.TarInfo(name)
    member.size, member.mode = size, 0o600
    archive.addfile(member, reader)


def _refuse_overwriting(file: Path) -> None:
    """A new backup may replace an older one, and nothing else."""
    if not file.parent.is_dir():
        raise BackupRefused(f"There is no folder {file.parent}; make it, or name another place.")
    if file.exists() and not is_backup(file):
        raise BackupRefused(f"{file} exists and is no backup of Tepal's; choose another name.")


def is_backup(file: Path) -> bool:
    """Whether the file begins as a backup does; whether it is sound, only restoring tells."""
    try:
        with tarfile.open(file, "r:") as archive:
            first = archive.next()
    except (OSError, tarfile.TarError):
        return False
    return first is not None and first.name == MANIFEST
