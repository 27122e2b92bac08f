"""Where the files of photos are: each under the SHA-256 of its content, written once and whole, never changed.

Photos are in ``MEDIA_ROOT``, which a backup takes along; small ones, which can be made again at any time, are not.
Files are never deleted: an undone photo may be wanted again, and the same file may be of several things.
"""

import hashlib
import os
import re
import tempfile
from dataclasses import dataclass
from pathlib import Path

from django.conf import settings

from nursery.pictures import Picture, measures_of, small_from

NAME = re.compile(r"[0-9a-f]{64}")


@dataclass(frozen=True)
class KeptPhoto:
    """A photo whose file is on the disk: its name, its measures in pixels and its size."""

    sha256: str
    width: int
    height: int
    bytes: int


def full_path(sha256: str) -> Path:
    return _path(Path(settings.MEDIA_ROOT) / "photos", sha256)


def small_path(sha256: str) -> Path:
    return _path(Path(settings.SMALL_PHOTOS), sha256)


def photo_keep(picture: Picture) -> KeptPhoto:
    """Write a photo and its small one to the disk, if they are not there; pushed to the disk before this returns.

    Raises:
        OSError: the disk refuses.
    """
    sha256 = picture.sha256
    _write_once(full_path(sha256), picture.full)
    _write_once(small_path(sha256), picture.small)
    return KeptPhoto(sha256, picture.width, picture.height, len(picture.full))


def photo_kept(sha256: str) -> KeptPhoto | None:
    """The photo of this name, if its file is here and whole."""
    if not NAME.fullmatch(sha256) or not full_path(sha256).is_file():
        return None
    content = full_path(sha256).read_bytes()
    if hashlib.sha256(content).hexdigest() != sha256:
        return None
    width, height = measures_of(content)
    return KeptPhoto(sha256, width, height, len(content))


def small_ready(sha256: str) -> Path:
    """The small photo's file, made again if it is missing, as it is after a restore.

    Raises:
        FileNotFoundError: the photo itself is missing.
    """
    path = small_path(sha256)
    if not path.is_file():
        _write_once(path, small_from(full_path(sha256).read_bytes()))
    return path


def _path(folder: Path, sha256: str) -> Path:
    if not NAME.fullmatch(sha256):
        raise ValueError("A photo is named by the 64 digits of its SHA-256.")
    return folder / f"{sha256}.jpg"


def _write_once(path: Path, content: bytes) -> None:
    """The whole content under its name or nothing. A draft begins with a dot, by which a backup leaves it out."""
    if path.is_file() and path.stat().st_size == len(content):
        return
    path.parent.mkdir(mode=0o700, parents=True, exist_ok=True)
    descriptor, draft = tempfile.mkstemp(prefix=".draft-", dir=path.parent)
    try:
        with os.fdopen(descriptor, "wb") as writer:
            writer.write(content)
            writer.flush()
            os.fsync(writer.fileno())
        os.replace(draft, path)
    except BaseException:
        Path(draft).unlink(missing_ok=True)
        raise
    _sync(path.parent)


def _sync(folder: Path) -> None:
    """Make a new name in ``folder`` survive a power cut."""
    descriptor = os.open(folder, os.O_RDONLY)
    try:
        os.fsync(descriptor)
    finally:
        os.close(descriptor)
