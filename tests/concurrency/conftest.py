"""Tests whose connections really commit, on SQLite in a file and on PostgreSQL alike."""

import pytest
from django.db import connection

from nursery.models import Person
from tests.making import Nursery


@pytest.fixture
def nursery(transactional_db: None) -> Nursery:
    """As elsewhere, but every act is committed, so that other connections see it."""
    return Nursery(Person.objects.create_user(name="Ida Fern", role="owner"))


@pytest.fixture(autouse=True)
def _the_database_is_the_real_thing(transactional_db: None) -> None:
    """SQLite must be a file that several connections open, with the settings of the server."""
    if connection.vendor == "sqlite":
        with connection.cursor() as cursor:
            assert cursor.execute("PRAGMA journal_mode").fetchone() == ("wal",)
        assert connection.settings_dict["OPTIONS"]["transaction_mode"] == "IMMEDIATE"
        assert not connection.is_in_memory_db()
