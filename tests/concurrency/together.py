"""Run things at the same moment, each on a database connection of its own."""

import threading
from collections.abc import Callable
from typing import Any

from django.db import connection

PATIENCE = 30
"""Seconds after which a thread that still waits has hung."""


def together(*work: Callable[[], Any]) -> list[Any]:
    """Start all at once, wait for all; what each returned, or the exception it raised, in order."""
    barrier = threading.Barrier(len(work))
    results: list[Any] = [None] * len(work)
    threads = [
        threading.Thread(target=_on_own_connection, args=(one, barrier, results, number), daemon=True)
        for number, one in enumerate(work)
    ]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join(PATIENCE)
        assert not thread.is_alive(), "a connection waited for ever"
    return results


def _on_own_connection(work: Callable[[], Any], barrier: threading.Barrier, results: list[Any], number: int) -> None:
    try:
        connection.ensure_connection()
        barrier.wait(PATIENCE)
        results[number] = work()
    except Exception as error:  # handed to the test, which says what it expected
        results[number] = error
    finally:
        connection.close()
