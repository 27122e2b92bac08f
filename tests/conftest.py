"""The cast that every test knows, and which tests need the database or a browser."""

import gc
import os
from collections.abc import Generator, Iterator
from functools import cache
from pathlib import Path
from typing import Any

import pytest
from django.conf import settings as tepal
from django.contrib.auth import BACKEND_SESSION_KEY, HASH_SESSION_KEY, SESSION_KEY
from django.contrib.auth.hashers import make_password
from django.contrib.sessions.backends.db import SessionStore
from django.contrib.sessions.models import Session
from django.db import connection
from django.template import Context, RequestContext, Template
from django.test import Client, TransactionTestCase
from django.test.signals import template_rendered
from django.utils.crypto import get_random_string
from hypothesis import settings

from nursery.models import Person
from nursery.records.prepared import Prepared
from tests.emptied import all_rows, emptied, put_back
from tests.keeping import undone_at_the_end
from tests.making import Nursery
from tests.migrated import migrated_copy

# Examples are tried for what they show, not for how long they take: workers share the cores with browsers.
settings.register_profile("shared cores", deadline=None)
settings.load_profile("shared cores")

HERE = Path(__file__).parent
BROWSER_TESTS = HERE / "browser"
COMMITTING_FIXTURES = {"transactional_db", "live_server", "django_db_reset_sequences", "django_db_serialized_rollback"}
DATABASE_FIXTURES = {"db", *COMMITTING_FIXTURES}
LONGEST = (
    "browser/test_every_page.py",
    "browser/test_whole_path.py",
    "browser/test_flows.py",
    "browser/test_office.py",
    "demo/test_days.py",
    "demo/test_loaded.py",
    "demo/test_awkward.py",
    "durability/test_kill.py",
    "site/test_demo.py",
    "concurrency/test_same_act.py",
    "site/things/test_thing_pages.py",
    "site/acts/test_corrected_unchanged.py",
    "site/acts/test_every_page.py",
    "site/office/test_awkward_input.py",
    "test_every_act.py",
)
"""Modules that take longest, the longest first: begun last, one worker would still be at them when all others rest."""
ONCE = ("demo/test_awkward.py", "demo/test_days.py")
"""Modules that need not run on PostgreSQL too: what they find follows from the diary. test_loaded.py loads it there."""
PLAIN_RENDER = Template._render
SHIPPED = pytest.StashKey[tuple[str, Any]]()
KEPT = "kept"
CAST = {"owner": "Ida Fern", "grower": "Tom Reed", "viewer": "Una Vale"}
PASSWORD = "wet moss, warm night"
PEOPLE = Prepared(lambda names: Person.objects.filter(name__in=names))


@pytest.hookimpl(wrapper=True)
def pytest_collection_modifyitems(items: list[pytest.Item]) -> Generator[None, None, None]:
    """Mark what walks through a browser, and what runs on each database; begin with what takes longest."""
    for item in items:
        if item.path.is_relative_to(BROWSER_TESTS):
            item.add_marker(pytest.mark.browser)
        elif uses_database(item) and _name(item) not in ONCE:
            item.add_marker(pytest.mark.database)
    yield  # here tests are chosen by their marks, and shuffled
    modules = {path: turn for turn, path in enumerate(dict.fromkeys(item.path for item in items))}
    items.sort(key=lambda item: (_turn(item), modules[item.path], KEPT in _fixtures(item)))  # the order else stays


@pytest.hookimpl(trylast=True)
def pytest_collection_finish(session: pytest.Session) -> None:
    """Look for rubbish less often, and not among the tests themselves: a fourteenth of what tests of pages cost."""
    gc.collect()
    gc.freeze()
    gc.set_threshold(300_000, 20, 20)


def _turn(item: pytest.Item) -> int:
    name = _name(item)
    return LONGEST.index(name) if name in LONGEST else len(LONGEST)


def _name(item: pytest.Item) -> str:
    """A module of these tests by its path below them; of a doctest, nothing."""
    return item.path.relative_to(HERE).as_posix() if item.path.is_relative_to(HERE) else ""


def uses_database(item: pytest.Item) -> bool:
    """Whether a test reaches the database: by its mark, or by a fixture that leads there."""
    return item.get_closest_marker("django_db") is not None or not DATABASE_FIXTURES.isdisjoint(_fixtures(item))


def commits(item: pytest.Item) -> bool:
    """Whether a test's transactions are real ones, so that every table is emptied after it."""
    mark = item.get_closest_marker("django_db")
    by_mark = mark is not None and (mark.kwargs.get("transaction") or bool(mark.args and mark.args[0]))
    return by_mark or not COMMITTING_FIXTURES.isdisjoint(_fixtures(item))


def _fixtures(item: pytest.Item) -> set[str]:
    return set(getattr(item, "fixturenames", ()))


@pytest.fixture(scope="session", autouse=True)
def told_what_pages_were_drawn_with(django_test_environment: None) -> None:
    """Keep for ``answer.context`` what a page was drawn with, and not what each partial and widget was.

    Django's own record of them all would take a sixth of these tests' time.
    """

    def render(self: Template, context: Context) -> str:
        if context.template is self and isinstance(context, RequestContext):
            template_rendered.send(sender=self, template=self, context=context)
        return PLAIN_RENDER(self, context)

    Template._render = render


@pytest.fixture(scope="session")
def django_db_modify_db_settings(django_db_modify_db_settings_parallel_suffix: None) -> None:
    """Begin with a copy of what is migrated already: SQLite's file, or the database that `tests/run` prepared."""
    test = connection.settings_dict["TEST"]
    if connection.vendor == "sqlite":
        migrated_copy(Path(test["NAME"]))
    elif "TEPAL_TEST_TEMPLATE" in os.environ:
        test["TEMPLATE"] = os.environ["TEPAL_TEST_TEMPLATE"]


@pytest.fixture(scope="session")
def django_db_keepdb() -> bool:
    """SQLite's copy is not made anew; it goes with the run's folder."""
    return connection.vendor == "sqlite"


@pytest.fixture(scope="session")
def django_db_setup(django_db_setup: None, django_db_blocker: Any, request: pytest.FixtureRequest) -> None:
    """Remember the rows that migrations ship, before any test."""
    with django_db_blocker.unblock():
        request.config.stash[SHIPPED] = all_rows(), django_db_blocker
    TransactionTestCase._fixture_teardown = lambda self: emptied()  # of committing tests only: TestCase has its own


@pytest.hookimpl(tryfirst=True)
def pytest_fixture_setup(fixturedef: pytest.FixtureDef, request: pytest.FixtureRequest) -> None:
    """Check what a module's fixtures made before a test's savepoint: in there, every test would check it once more."""
    if fixturedef.argname == "_django_db_helper" and KEPT in request.fixturenames and connection.vendor == "postgresql":
        blocker = request.config.stash[SHIPPED][1]
        with blocker.unblock():
            connection.check_constraints()


@pytest.hookimpl(wrapper=True)
def pytest_runtest_teardown(item: pytest.Item, nextitem: pytest.Item | None) -> Generator[None, Any, Any]:
    """Put the shipped rows back after a test that emptied every table, so that the order of tests does not matter."""
    result = yield
    if nextitem is not None and SHIPPED in item.config.stash and commits(item):  # after the last, the database is gone
        shipped, blocker = item.config.stash[SHIPPED]
        with blocker.unblock():
            put_back(shipped)
    return result


@pytest.fixture(scope="module")
def kept(django_db_setup: None, django_db_blocker: Any) -> Iterator[Nursery]:
    """A nursery for a whole module: what its fixtures make here stands for all tests that ask for it.

    Each test runs in a savepoint, so that it leaves things as it found them. It must not change the objects that were
    made here, for the next test gets the same ones: it fetches them, or works on copies (``fresh``). In a module the
    tests that ask for this run last, so that the others find no rows of it.
    """
    with django_db_blocker.unblock(), undone_at_the_end():
        yield Nursery(person_of("owner"))


@pytest.fixture
def owner(db: None) -> Person:
    """Ida Fern: records, undoes anybody's acts, and changes people, places and timings."""
    return person_of("owner")


@pytest.fixture
def grower(db: None) -> Person:
    """Tom Reed: records, undoes his own acts at any time, and others' on the same day."""
    return person_of("grower")


@pytest.fixture
def viewer(db: None) -> Person:
    """Una Vale: reads everything a grower reads, and writes nothing."""
    return person_of("viewer")


@cache
def _hashed(password: str) -> str:
    return make_password(password)


def person_of(role: str) -> Person:
    """The person of this role: made, or the one that the kept nursery has."""
    known = PEOPLE.objects([CAST[role]])
    return known[0] if known else Person.objects.create(name=CAST[role], password=_hashed(PASSWORD), role=role)


@pytest.fixture
def nursery(owner: Person, request: pytest.FixtureRequest) -> Nursery:
    """Makes what a test starts from: ``nursery.section(days_ago=50)``; Ida Fern does it all."""
    return request.getfixturevalue("kept").again() if KEPT in request.fixturenames else Nursery(owner)


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
    """A browser in which this person has signed in: the session of one, without what else signing in writes."""
    session = SessionStore()
    session[SESSION_KEY] = str(person.pk)
    session[BACKEND_SESSION_KEY] = "django.contrib.auth.backends.ModelBackend"
    session[HASH_SESSION_KEY] = person.get_session_auth_hash()
    key = get_random_string(32)  # one statement; the store's own way takes four
    row = Session(session_key=key, session_data=session.encode(dict(session.items())))
    row.expire_date = session.get_expiry_date()
    row.save(force_insert=True)
    client = Client()
    client.cookies[tepal.SESSION_COOKIE_NAME] = key
    return client
