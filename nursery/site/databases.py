"""Where the records are kept: SQLite in the data folder, or the PostgreSQL that an address names."""

from pathlib import Path
from typing import Any

SQLITE_FILE = "tepal.sqlite3"
KEEP_OPEN = 60  # seconds that a connection is kept for the next request


def databases(folder: Path, server: dict[str, Any] | None) -> dict[str, dict[str, Any]]:
    """Django's DATABASES: the server's, where one is named, else SQLite's in ``folder``."""
    return {"default": postgresql(server) if server else sqlite(folder / SQLITE_FILE)}


def sqlite(file: Path) -> dict[str, Any]:
    """SQLite as a record that must not lose what it acknowledged.

    Immediate transactions are not optional: with Django's deferred ones, two writers at once get "database is locked"
    straight away, whatever the timeout. synchronous=FULL keeps the last commits at a power cut. Files that
    are of no use after one, as those by which a statement is taken back, are kept in memory.
    """
    return {
        "ENGINE": "django.db.backends.sqlite3",
        "NAME": file,
        "CONN_MAX_AGE": KEEP_OPEN,
        "OPTIONS": {
            "timeout": 20,
            "transaction_mode": "IMMEDIATE",
            "init_command": "PRAGMA journal_mode=WAL; PRAGMA synchronous=FULL; PRAGMA temp_store=MEMORY;",
        },
        # A file, so that tests have several connections, as the server's threads do.
        "TEST": {"NAME": file.with_name("test.sqlite3")},
    }


def postgresql(server: dict[str, Any]) -> dict[str, Any]:
    """The named server; a kept connection is tried before use, since the server may have been restarted."""
    return server | {"CONN_MAX_AGE": KEEP_OPEN, "CONN_HEALTH_CHECKS": True}
