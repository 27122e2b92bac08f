"""How long an act takes to record, beside the same SQL statements sent raw.

Start with ``python -m tests.benchmarks.act_posted``.
Target: at most twice the raw statements in one transaction. Both run on SQLite in a file with the server's settings,
and both commit. The raw floor sends the very statements that the record function sent, and reads their rows.
"""

import os
import sys
import tempfile
from collections.abc import Callable
from functools import partial
from statistics import median
from time import perf_counter
from typing import Any

TIMES = 40
NAMED = 3_000
"""Acts that name the busy bench: a bench of some years."""

MOST = 2.0


def main() -> int:
    """Print each kind of act with its ratio; 1 if one is above the target."""
    with tempfile.TemporaryDirectory(prefix="tepal-bench-") as folder:
        _empty_database(folder)
        rows = [(name, *_measured(record)) for name, record in _acts().items()]
    print(f"{'act':<24}{'statements':>11}{'recorded':>12}{'raw':>10}{'ratio':>8}")
    for name, statements, recorded, raw in rows:
        print(f"{name:<24}{statements:>11}{recorded * 1000:>9.2f} ms{raw * 1000:>7.2f} ms{recorded / raw:>8.1f}")
    print(f"target: at most {MOST:.0f} times the raw statements")
    return 0 if all(recorded <= MOST * raw for _, _, recorded, raw in rows) else 1


def _empty_database(folder: str) -> None:
    os.environ.update({"TEPAL_DATA": folder, "DJANGO_SETTINGS_MODULE": "nursery.site.settings"})
    os.environ.pop("DATABASE_URL", None)
    import django
    from django.core.management import call_command

    django.setup()
    call_command("migrate", verbosity=0)


def _acts() -> dict[str, Callable[[], Any]]:
    """What is recorded most, each on things with a short story."""
    from django.db import transaction

    from breeding.records.pods import pods_looked_at
    from breeding.records.pots import pot_looked_at
    from breeding.records.sections import section_pollinated
    from breeding.records.spikes import spike_found, spike_looked
    from nursery.models import Person
    from nursery.records.watching import walked_past
    from tests.making import Nursery

    nursery = Nursery(Person.objects.create_user(name="Ida Fern", role="owner"))
    section = nursery.section(days_ago=100)
    pot = nursery.pots(6, nursery.seed(section, days_ago=60), days_ago=50)[0]
    spike, lot = nursery.female(days_ago=9), nursery.pollen(days_ago=2)
    pods = nursery.section(days_ago=90)
    bench, things = nursery.bench(), [nursery.spike() for _ in range(12)]
    clone, busy = nursery.clone(), nursery.bench()
    with transaction.atomic():
        for _ in range(NAMED):
            nursery.plant(place=busy)
    return {
        "spike looked at": lambda: nursery.record(spike_looked, spike=spike, seen="open"),
        "pods looked at": lambda: nursery.record(pods_looked_at, section=pods, seen="green"),
        "pot looked at": lambda: nursery.record(pot_looked_at, pot=pot, seen="few"),
        "spike found": lambda: nursery.record(spike_found, plant=spike.plant),
        "section pollinated": lambda: nursery.record(section_pollinated, spike=spike, lot=lot),
        "walked past 12 things": lambda: nursery.record(walked_past, place=bench, things=things),
        "plant, on a new bench": lambda: nursery.plant(clone, place=bench),
        "plant, on a busy one": lambda: nursery.plant(clone, place=busy),
    }


def _measured(record: Callable[[], Any]) -> tuple[int, float, float]:
    """Statements of the last act; seconds recorded and seconds raw, each the median of many, commits counted.

    Each act is first recorded and rolled back, to learn its statements; these are sent raw; then it is recorded again.
    """
    pairs = []
    for _ in range(TIMES):
        statements = _statements_of(record)
        raw = _seconds(partial(_send, statements))
        pairs.append((_seconds(record), raw))
    recorded, raw = zip(*pairs, strict=True)
    return len(statements), median(recorded), median(raw)


def _statements_of(record: Callable[[], Any]) -> list[str]:
    from django.db import connection, reset_queries, transaction
    from django.test.utils import CaptureQueriesContext

    reset_queries()  # the log holds a limited number, and stops there
    with transaction.atomic(), CaptureQueriesContext(connection) as captured:
        record()
        transaction.set_rollback(True)
    return [query["sql"] for query in captured if _is_work(query["sql"])]


def _is_work(sql: str) -> bool:
    return sql.split(maxsplit=1)[0] in {"SELECT", "INSERT", "UPDATE", "DELETE"}


def _seconds(work: Callable[[], Any]) -> float:
    start = perf_counter()
    work()
    return perf_counter() - start


def _send(statements: list[str]) -> None:
    """One transaction by the driver's own cursor, since Django's would prepare each statement again."""
    from django.db import connection

    cursor = connection.connection.cursor()
    cursor.execute("BEGIN IMMEDIATE")
    for sql in statements:
        cursor.execute(sql)
        cursor.fetchall()
    cursor.execute("COMMIT")


if __name__ == "__main__":
    sys.exit(main())
