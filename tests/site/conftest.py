"""A data folder with real records and photos, as a nursery's would be, whatever database the run itself uses."""

import hashlib
import shutil
import uuid
from pathlib import Path
from typing import Any

import pytest
from django.contrib.contenttypes.models import ContentType

from nursery.models import Person
from nursery.records.core import NewAct
from nursery.records.places import place_made
from nursery.site.databases import SQLITE_FILE
from nursery.site.restore import django_on
from tests.migrated import migrated_folder

PLACES = 12
PHOTOS = 5


def _records_make(folder: Path) -> None:
    person = Person.objects.create_user(name="Ida Fern", password="wet moss, warm night", role="owner")
    for number in range(PLACES):
        place_made(act=NewAct(id=uuid.uuid4(), by=person), name=f"House {number}", size="house")
    for number in range(PHOTOS):
        content = f"leaf {number} ".encode() * 2_000
        file = folder / "media" / "photos" / f"{hashlib.sha256(content).hexdigest()}.jpg"
        file.parent.mkdir(parents=True, exist_ok=True)
        file.write_bytes(content)


@pytest.fixture(scope="session")
def _filled(tmp_path_factory: pytest.TempPathFactory, django_db_blocker: Any) -> Path:
    folder = migrated_folder(tmp_path_factory.mktemp("filled"))
    with django_db_blocker.unblock(), django_on(folder / SQLITE_FILE):
        _records_make(folder)
    ContentType.objects.clear_cache()
    return folder


@pytest.fixture
def records(_filled: Path, tmp_path: Path) -> Path:
    """A data folder of the test's own: 12 places, one person, 5 photos."""
    return Path(shutil.copytree(_filled, tmp_path / "records"))


@pytest.fixture
def started(tmp_path: Path) -> Path:
    """A data folder of the test's own in which Tepal was started once, and nothing told."""
    return migrated_folder(tmp_path)


@pytest.fixture
def database_allowed(django_db_blocker: Any) -> Any:
    """Let a test reach databases of its own, beside the run's."""
    with django_db_blocker.unblock():
        yield
    ContentType.objects.clear_cache()
