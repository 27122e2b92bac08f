"""`manage.py demo`: an invented nursery in a folder of its own."""

import sqlite3
import uuid
from contextlib import closing
from datetime import date

import pytest
from django.conf import settings as django_settings
from django.core.management import CommandError
from django.utils import timezone

from nursery.models import Act, House, Person, Place
from nursery.records.core import NewAct
from nursery.records.places import place_made
from nursery.site import demo
from nursery.site.databases import SQLITE_FILE
from nursery.site.restore import django_on
from tests.conftest import PASSWORD
from tests.site.processes import manage

pytestmark = pytest.mark.usefixtures("database_allowed")


def _place(name):
    person = Person.objects.create_user(name="Ida Fern", password=PASSWORD, role="owner")
    place_made(act=NewAct(id=uuid.uuid4(), by=person), name=name, size="house")


class Fixtures:
    """Loads one house, and remembers for which days it was asked to."""

    PASSWORD = "invented"

    def __init__(self):
        self.days: list[date] = []

    def load_demo(self, today):
        self.days.append(today)
        House.objects.update_or_create(id=1, defaults={"demo": True})
        _place("Demo house")


@pytest.fixture
def fixtures(monkeypatch):
    made = Fixtures()
    monkeypatch.setattr(demo, "_fixtures", lambda: made)
    return made


@pytest.fixture
def folder(started, settings):
    """The demo's own folder, with Django on the database in it."""
    settings.DEMO, settings.DATA = True, started
    settings.MEDIA_ROOT, settings.SMALL_PHOTOS = started / "media", started / "small_photos"
    with django_on(started / SQLITE_FILE):
        yield started


def test_it_works(folder, fixtures):
    assert demo.demo_ready(fresh=False) is True
    assert fixtures.days == [timezone.localdate()]
    assert [place.name for place in Place.objects.all()] == ["Demo house"]


def test_a_second_start_keeps_what_was_done(folder, fixtures):
    demo.demo_ready(fresh=False)
    _place_another()
    assert demo.demo_ready(fresh=False) is False
    assert (len(fixtures.days), Place.objects.count()) == (1, 2)


def test_fresh_starts_again(folder, fixtures):
    demo.demo_ready(fresh=False)
    _place_another()
    for photos in ("media", "small_photos"):
        (folder / photos).mkdir()
        (folder / photos / "leaf.jpg").write_bytes(b"leaf")
    assert demo.demo_ready(fresh=True) is True
    assert (len(fixtures.days), Place.objects.count()) == (2, 1)
    assert not (folder / "media").exists() and not (folder / "small_photos").exists()


def _place_another():
    act = NewAct(id=uuid.uuid4(), by=Person.objects.get())
    place_made(act=act, name="Another house", size="house")


@pytest.mark.parametrize("fresh", [False, True])
def test_real_records_are_left_alone(folder, fixtures, fresh):
    demo.database_ready()
    _place("Real house")
    with pytest.raises(CommandError) as refused:
        demo.demo_ready(fresh=fresh)
    assert str(refused.value) == (
        f"{folder} holds records that are not the demo's. The demo leaves them alone; "
        "set TEPAL_DATA to another folder for it."
    )
    assert (fixtures.days, Act.objects.count()) == ([], 1)


def test_a_person_alone_is_a_real_record(folder, fixtures):
    demo.database_ready()
    Person.objects.create_user(name="Ida Fern", password=PASSWORD, role="owner")
    with pytest.raises(CommandError):
        demo.demo_ready(fresh=True)
    assert Person.objects.count() == 1


def test_it_never_runs_on_the_nurserys_own_folder(fixtures):
    assert django_settings.DEMO is False
    with pytest.raises(CommandError) as refused:
        demo.demo_ready(fresh=False)
    assert str(refused.value) == "Start the demo as `manage.py demo`, so that it gets a folder of its own."


def test_it_says_who_may_sign_in(folder, fixtures):
    demo.demo_ready(fresh=False)
    assert demo.people_lines() == ["  Ida Fern (owner)"]
    assert demo.password() == "invented"


def test_the_command_loads_the_invented_nursery_once_and_beside_the_real_one(tmp_path):
    first = manage(tmp_path, "demo", "--no-serve")
    second = manage(tmp_path, "demo", "--no-serve")
    assert (first.returncode, first.stderr, second.returncode, second.stderr) == (0, "", 0, "")
    assert first.stdout.startswith("The demo nursery was loaded.\nSign in with the password ")
    assert second.stdout.startswith("The demo nursery is as you left it; --fresh starts again.\n")
    assert first.stdout.splitlines()[1:] == second.stdout.splitlines()[1:]
    assert sorted(path.name for path in tmp_path.iterdir()) == ["demo"]
    assert SQLITE_FILE in {path.name for path in (tmp_path / "demo").iterdir()}
    assert 7_500 <= _acts_in(tmp_path / "demo" / SQLITE_FILE) <= 8_500


def _acts_in(file):
    with closing(sqlite3.connect(file)) as books:
        return books.execute("SELECT count(*) FROM nursery_act").fetchone()[0]
