"""How long the demo nursery takes to load, into an empty database. Start with ``python -m tests.benchmarks.demo``.

Target: under 20 seconds on two cores that have nothing else to do. The floor beside it is the same number of acts by
one INSERT each, so that the ratio can be read on any machine.
"""

import os
import sys
import tempfile
from time import perf_counter

MOST_SECONDS = 20.0


def main() -> int:
    """Load once and print; 1 if the target is missed."""
    with tempfile.TemporaryDirectory(prefix="tepal-bench-") as folder:
        _empty_database(folder)
        seconds, counts = _load()
        floor = _inserts(counts["acts"])
    each = 1000 * seconds / counts["acts"]
    print(", ".join(f"{count} {words}" for words, count in counts.items()))
    print(f"loaded in {seconds:.1f} s, {each:.1f} ms an act; {seconds / floor:.0f} times bare inserts ({floor:.2f} s)")
    print(f"target: under {MOST_SECONDS:.0f} s")
    return 0 if seconds < MOST_SECONDS else 1


def _empty_database(folder: str) -> None:
    os.environ.update({"TEPAL_DATA": folder, "DJANGO_SETTINGS_MODULE": "nursery.site.settings"})
    os.environ.pop("DATABASE_URL", None)
    import django
    from django.core.management import call_command

    django.setup()
    call_command("migrate", verbosity=0)


def _load() -> tuple[float, dict[str, int]]:
    from django.utils import timezone

    from demo_fixtures.load import load_demo

    start = perf_counter()
    loaded = load_demo(timezone.localdate())
    return perf_counter() - start, loaded.counts


def _inserts(count: int) -> float:
    """Seconds for as many bare inserts of acts, in one transaction that is rolled back."""
    import uuid

    from django.db import connection, transaction

    from nursery.models import Act

    act = Act.objects.first()
    columns = ", ".join(field.column for field in Act._meta.concrete_fields)
    marks = ", ".join(["%s"] * len(Act._meta.concrete_fields))
    row = [field.get_db_prep_save(getattr(act, field.attname), connection) for field in Act._meta.concrete_fields]
    with transaction.atomic(), connection.cursor() as cursor:
        start = perf_counter()
        for _ in range(count):
            cursor.execute(f"INSERT INTO nursery_act ({columns}) VALUES ({marks})", [uuid.uuid4().hex, *row[1:]])
        seconds = perf_counter() - start
        transaction.set_rollback(True)
    return seconds


if __name__ == "__main__":
    sys.exit(main())
