"""Files of photos are written whole, once, under the hash of what is in them."""

import hashlib
import io
import os
import stat
from pathlib import Path

import pytest

from nursery import photo_files
from nursery.photo_files import full_path, photo_keep, photo_kept, small_path, small_ready
from nursery.pictures import Picture, measures_of, picture_read
from tests.drawing import jpeg


@pytest.fixture(autouse=True)
def folders(settings, tmp_path: Path) -> Path:
    """Folders of the test's own."""
    settings.MEDIA_ROOT, settings.SMALL_PHOTOS = tmp_path / "media", tmp_path / "small"
    return tmp_path


@pytest.fixture
def picture() -> Picture:
    return picture_read(io.BytesIO(jpeg(800, 600)))


def _files(folder: Path) -> list[str]:
    return sorted(path.relative_to(folder).as_posix() for path in folder.rglob("*") if path.is_file())


def test_it_works(folders: Path, picture: Picture):
    kept = photo_keep(picture)
    content = full_path(kept.sha256).read_bytes()
    assert hashlib.sha256(content).hexdigest() == kept.sha256
    assert (kept.width, kept.height, kept.bytes) == (800, 600, len(content))
    assert _files(folders) == [f"media/photos/{kept.sha256}.jpg", f"small/{kept.sha256}.jpg"]


def test_only_the_server_may_read_them(picture: Picture):
    path = full_path(photo_keep(picture).sha256)
    assert stat.S_IMODE(path.stat().st_mode) == 0o600
    assert stat.S_IMODE(path.parent.stat().st_mode) == 0o700


def test_kept_twice_it_is_written_once(picture: Picture):
    path = full_path(photo_keep(picture).sha256)
    before = path.stat()
    photo_keep(picture)
    assert (path.stat().st_ino, path.stat().st_mtime_ns) == (before.st_ino, before.st_mtime_ns)


def test_one_cut_short_is_written_anew(picture: Picture):
    """As a disk that failed may leave it."""
    path = full_path(photo_keep(picture).sha256)
    path.write_bytes(picture.full[:100])
    photo_keep(picture)
    assert path.read_bytes() == picture.full


def test_a_disk_that_is_full_leaves_nothing_behind(folders: Path, picture: Picture, monkeypatch):
    def full(descriptor: int) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(os, "fsync", full)
    with pytest.raises(OSError, match="No space left"):
        photo_keep(picture)
    assert _files(folders) == []


def test_its_name_appears_only_when_it_is_whole_and_on_the_disk(picture: Picture, monkeypatch):
    steps = []
    usual_sync, usual_replace = os.fsync, os.replace
    monkeypatch.setattr(os, "fsync", lambda one: (steps.append("fsync"), usual_sync(one)))
    monkeypatch.setattr(os, "replace", lambda a, b: (steps.append(Path(a).stat().st_size), usual_replace(a, b)))
    photo_keep(picture)
    assert steps == ["fsync", len(picture.full), "fsync", "fsync", len(picture.small), "fsync"]


def test_what_is_kept_is_found_by_its_name(picture: Picture):
    kept = photo_keep(picture)
    assert photo_kept(kept.sha256) == kept


@pytest.mark.parametrize("name", ["", "ab", "AB" * 32, "ab" * 32, "../" * 22, "ab" * 32 + "\n", "\x00" * 64])
def test_what_is_not_kept_or_no_name_is_not_found(name: str):
    assert photo_kept(name) is None


def test_a_file_that_does_not_fit_its_name_is_not_taken(picture: Picture):
    kept = photo_keep(picture)
    full_path(kept.sha256).write_bytes(jpeg())
    assert photo_kept(kept.sha256) is None


@pytest.mark.parametrize("name", ["../../secret_key", "/etc/passwd", "ab" * 32 + "/../x", "AB" * 32])
def test_no_name_leads_out_of_the_folder(name: str):
    for path in (full_path, small_path):
        with pytest.raises(ValueError, match="named by the 64 digits"):
            path(name)


def test_a_small_one_that_is_missing_is_made_again(picture: Picture):
    kept = photo_keep(picture)
    small_path(kept.sha256).unlink()
    assert measures_of(small_ready(kept.sha256).read_bytes()) == (320, 240)


def test_without_the_photo_there_is_no_small_one(picture: Picture):
    with pytest.raises(FileNotFoundError):
        small_ready("ab" * 32)


def test_the_folder_is_the_one_of_the_settings(folders: Path):
    assert photo_files.full_path("ab" * 32).parent == folders / "media" / "photos"
