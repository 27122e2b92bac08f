"""The database that the run says it is on, and SQLite set up so that it loses nothing."""

import os
import threading
from pathlib import Path

import pytest
from django.db import connection, connections, transaction

from nursery.models import House
from nursery.site.databases import databases


def test_the_run_is_on_the_database_that_it_says(db):
    """Or the second half of `tests/run` might be SQLite again, unnoticed."""
    assert connection.vendor == os.environ.get("TEPAL_TEST_DATABASE", "sqlite")


def test_sqlite_keeps_what_it_acknowledged():
    described = databases(Path("/data"), None)["default"]
    assert (described["NAME"], described["CONN_MAX_AGE"]) == (Path("/data/tepal.sqlite3"), 60)
    assert described["OPTIONS"] == {
        "timeout": 20,
        "transaction_mode": "IMMEDIATE",
        "init_command": "PRAGMA journal_mode=WAL; PRAGMA synchronous=FULL; PRAGMA temp_store=MEMORY;",
    }


def test_a_named_server_takes_the_place_of_sqlite():
    described = databases(Path("/data"), {"ENGINE": "django.db.backends.postgresql", "NAME": "records"})["default"]
    assert described == {
        "ENGINE": "django.db.backends.postgresql",
        "NAME": "records",
        "CONN_MAX_AGE": 60,
        "CONN_HEALTH_CHECKS": True,
    }


def test_the_open_connection_has_the_durable_options(db):
    """Source: SQLite's documentation of PRAGMA synchronous, where FULL is 2. Elsewhere: PostgreSQL's default is on."""
    with connection.cursor() as cursor:
        if connection.vendor == "sqlite":
            cursor.execute("PRAGMA journal_mode")
            assert cursor.fetchone() == ("wal",)
            cursor.execute("PRAGMA synchronous")
            assert cursor.fetchone() == (2,)
        else:
            cursor.execute("SHOW synchronous_commit")
            assert cursor.fetchone() == ("on",)


@pytest.mark.django_db(transaction=True)
def test_two_connections_that_write_at_once_wait_for_each_other():
    """With deferred transactions, SQLite refuses the second at once with "database is locked"."""
    House.objects.create(id=1, minutes_a_day=100)
    both_in = threading.Barrier(2, timeout=20)
    errors = []

    def add_one():
        try:
            both_in.wait()
            for _ in range(20):
                with transaction.atomic():
                    row = House.objects.select_for_update().get(id=1)
                    row.minutes_a_day += 1
                    row.save()
        except Exception as error:
            errors.append(error)
        finally:
            connections["default"].close()

    threads = [threading.Thread(target=add_one) for _ in range(2)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    assert errors == []
    assert House.objects.get().minutes_a_day == 140
