"""The cast that every test knows, and which tests need the database or a browser."""

from pathlib import Path

import pytest
from django.test import Client

from nursery.models import Person

BROWSER_TESTS = Path(__file__).parent / "browser"
DATABASE_FIXTURES = {"db", "transactional_db", "django_db_reset_sequences", "django_db_setup"}
PASSWORD = "wet moss, warm night"


def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    """Mark what walks through a browser, and what runs on each database."""
    for item in items:
        if item.path.is_relative_to(BROWSER_TESTS):
            item.add_marker(pytest.mark.browser)
        elif uses_database(item):
            item.add_marker(pytest.mark.database)


def uses_database(item: pytest.Item) -> bool:
    """Whether a test reaches the database: by its mark, or by a fixture that leads there."""
    fixtures = set(getattr(item, "fixturenames", ()))
    return item.get_closest_marker("django_db") is not None or not fixtures.isdisjoint(DATABASE_FIXTURES)


@pytest.fixture
def owner(db: None) -> Person:
    """Ida Fern: records, undoes anybody's acts, and changes people, places and timings."""
    return Person.objects.create_user(name="Ida Fern", password=PASSWORD, role="owner")


@pytest.fixture
def grower(db: None) -> Person:
    """Tom Reed: records, undoes his own acts at any time, and others' on the same day."""
    return Person.objects.create_user(name="Tom Reed", password=PASSWORD, role="grower")


@pytest.fixture
def viewer(db: None) -> Person:
    """Una Vale: reads everything a grower reads, and writes nothing."""
    return Person.objects.create_user(name="Una Vale", password=PASSWORD, role="viewer")


@pytest.fixture
def stranger(db: None) -> Client:
    """Somebody who has not signed in."""
    return Client()


@pytest.fixture
def as_owner(owner: Person) -> Client:
    """The owner's browser, signed in."""
    return signed_in(owner)


@pytest.fixture
def as_grower(grower: Person) -> Client:
    """The grower's browser, signed in."""
    return signed_in(grower)


@pytest.fixture
def as_viewer(viewer: Person) -> Client:
    """The viewer's browser, signed in."""
    return signed_in(viewer)


def signed_in(person: Person) -> Client:
    """A browser in which this person has signed in."""
    client = Client()
    client.force_login(person, backend="django.contrib.auth.backends.ModelBackend")
    return client
