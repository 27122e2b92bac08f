"""How long a table of 300 rows holds SQLite's write lock while it is looked over, and while it is brought in.

Start with ``python -m tests.benchmarks.moving_in``.
Says CPU seconds (own, user and system), for the wall clock tells more of the machine. Until a run has ended, phones
that send acts wait, and are told to try again after the time that ``nursery/site/settings.py`` gives SQLite.
"""

import os
import tempfile
from collections.abc import Callable
from time import process_time
from typing import Any

ROWS = 300
BENCHES, TAXA = 12, ("lowii", "hamata", "veitchii", "villosa", "edwardsiana")


def main() -> None:
    with tempfile.TemporaryDirectory(prefix="tepal-bench-") as folder:
        _empty_database(folder)
        for kind, text in (("plants", _plants()), ("pots", _pots())):
            looked, brought = _measured(kind, text)
            print(f"{kind:<8}{ROWS} rows   looked over {looked:5.2f} s   brought in {brought:5.2f} s")


def _empty_database(folder: str) -> None:
    os.environ.update({"TEPAL_DATA": folder, "DJANGO_SETTINGS_MODULE": "nursery.site.settings"})
    os.environ.pop("DATABASE_URL", None)
    import django
    from django.core.management import call_command

    django.setup()
    call_command("migrate", verbosity=0)


def _plants() -> str:
    rows = [
        f"{TAXA[row % 5]},word {row},House 1 / Bench {row % BENCHES},2024-0{row % 9 + 1}-11,bought,1 litre,strong {row}"
        for row in range(ROWS)
    ]
    return "\n".join(["species,own word,place,here since,origin,pot,remark", *rows])


def _pots() -> str:
    rows = [
        f"{TAXA[row % 5]} × {TAXA[row % 4]},House 1 / Bench {row % BENCHES},2025-0{row % 9 + 1}-11,3,40,few,2025-11-02"
        for row in range(ROWS)
    ]
    return "\n".join(["cross,place,sown,pots,seeds,seen,looked", *rows])


def _measured(kind: str, text: str) -> tuple[float, float]:
    from nursery.models import Person
    from nursery.site.moving.imports import brought_in, columns_chosen, table_read
    from nursery.site.moving.tables.decode import Decoded

    by, _ = Person.objects.get_or_create(name="Ida Fern", defaults={"role": "owner"})
    moving = table_read(by=by, kind=kind, name=f"{kind}.csv", decoded=Decoded(text, "UTF-8")).moving
    looked = _seconds(lambda: columns_chosen(by=by, moving=moving, columns=moving.columns))
    moving.refresh_from_db()
    assert len(moving.preview["rows"]) == ROWS, moving.preview["problems"][:3]
    return looked, _seconds(lambda: brought_in(by=by, moving=moving))


def _seconds(run: Callable[[], Any]) -> float:
    before = process_time()
    run()
    return process_time() - before


if __name__ == "__main__":
    main()
