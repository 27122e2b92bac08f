"""Run things at the same moment, each on a database connection of its own."""

import threading
from collections.abc import Callable
from typing import Any

from django.db import connection, transaction

PATIENCE = 30
"""Seconds after which a thread that still waits has hung."""
A_WHILE = 0.3
"""Seconds for which the second connection must still be waiting: far longer than recording takes."""


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


class Holder:
    """A connection that holds what ``take`` locks until it is told to let go."""

    def __init__(self, take: Callable[[], object]):
        self.holds, self.let_go = threading.Event(), threading.Event()
        self.thread = threading.Thread(target=self._hold, args=(take,), daemon=True)

    def _hold(self, take: Callable[[], object]) -> None:
        try:
            with transaction.atomic():
                take()
                self.holds.set()
                assert self.let_go.wait(PATIENCE)
        finally:
            connection.close()

    def __enter__(self) -> "Holder":
        self.thread.start()
        assert self.holds.wait(PATIENCE)
        return self

    def __exit__(self, *_: object) -> None:
        self.let_go.set()
        self.thread.join(PATIENCE)


def waits_for(holder: Holder, work: Callable[[], object]) -> list[object]:
    """Run ``work`` on another connection; it must not be done before the holder lets go. Returns its result."""
    done, results = threading.Event(), []

    def run() -> None:
        results.extend(together(work))
        done.set()

    thread = threading.Thread(target=run, daemon=True)
    thread.start()
    assert not done.wait(A_WHILE), "it did not wait for the lock"
    holder.let_go.set()
    assert done.wait(PATIENCE)
    thread.join(PATIENCE)
    return results
