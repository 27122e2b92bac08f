"""Photos go into a backup with the records that tell of them, and come back under the hash of their content."""

import uuid

import pytest

from nursery.models import Person, Photo, Place
from nursery.photo_files import full_path, small_path, small_ready
from nursery.records.core import NewAct
from nursery.records.photos import photo_taken
from nursery.site.backup import backup_write, media_names, sha256
from nursery.site.restore import django_on, restore
from tests.drawing import corners, kept

pytestmark = pytest.mark.usefixtures("database_allowed")


def _folders(settings, folder):
    settings.MEDIA_ROOT, settings.SMALL_PHOTOS = folder / "media", folder / "small_photos"


@pytest.fixture
def backup(records, tmp_path, settings):
    """Of a nursery in which a house was photographed."""
    _folders(settings, records)
    with django_on(records / "tepal.sqlite3"):
        act = NewAct(id=uuid.uuid4(), by=Person.objects.get())
        photo_taken(act=act, thing=Place.objects.first(), photo=kept(500, 300))
    backup_write(tmp_path / "b.tar", database=records / "tepal.sqlite3", media=records / "media")
    return tmp_path / "b.tar"


def test_a_photo_comes_back_under_its_name(backup, records, tmp_path, settings):
    restore(backup, folder=tmp_path / "new")
    _folders(settings, tmp_path / "new")
    with django_on(tmp_path / "new/tepal.sqlite3"):
        photo = Photo.objects.get()
    path = full_path(photo.sha256)
    assert path == tmp_path / f"new/media/photos/{photo.sha256}.jpg"
    assert sha256(path) == photo.sha256 == sha256(records / f"media/photos/{photo.sha256}.jpg")
    assert path.stat().st_size == photo.bytes


def test_small_ones_stay_out_and_are_made_again(backup, tmp_path, settings):
    manifest = restore(backup, folder=tmp_path / "new")
    assert [name for name in manifest.files if "small" in name] == []
    _folders(settings, tmp_path / "new")
    with django_on(tmp_path / "new/tepal.sqlite3"):
        name = Photo.objects.get().sha256
    assert not small_path(name).exists()
    assert corners(small_ready(name).read_bytes()) == ["red", "green", "blue", "yellow"]


def test_a_photo_that_is_just_being_written_stays_out(records):
    (records / "media/photos/.draft-x1").write_bytes(b"half a leaf")
    assert [name for name in media_names(records / "media") if "draft" in name] == []


def test_small_photos_left_over_do_not_count_as_records(backup, tmp_path):
    (tmp_path / "new/small_photos").mkdir(parents=True)
    restore(backup, folder=tmp_path / "new")
    assert (tmp_path / "new/tepal.sqlite3").is_file()
