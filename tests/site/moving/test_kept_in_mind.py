"""On SQLite a run keeps in mind what it read: the same comes of it, and other writers wait less long for its end."""

import json
from collections.abc import Callable, Iterator
from contextlib import contextmanager, nullcontext
from datetime import UTC, datetime
from typing import Any

import pytest
import time_machine
from django.db import connection, transaction
from django.test.utils import CaptureQueriesContext

from nursery.models import Person
from nursery.records.mind import mind
from nursery.site.models import Import
from nursery.site.moving import running
from nursery.site.moving.imports import NotWhole, brought_in, columns_chosen
from tests.emptied import all_rows
from tests.making import Nursery
from tests.site.moving.tables import looked_over, problems, table

pytestmark = pytest.mark.django_db

TABLES = {
    "plants": """Species,Own word,Clone number,Seed parent,Pollen parent,Plants,Place,Here since,Blank tag,Remark
lowii,kettle,1,,,2,House 1 / Bench 1,2024,,tall
lowii,kettle,1,,,1,House 1 / Bench 2,spring 2024,,short
,chisel,4,lowii kettle,lowii,1,House 1 / Bench 2,unknown,,
hamata,,,,,1,House 1 / Bench 1,1931-01-01,,
hamata,,,,,1,House 1 / Bench 1,,12344,
hamata,whisk,,,,3,,2025-02-03,,
""",
    "pots": """Cross,Harvested,Sown,Pots,Place,Seeds,Seedlings,Looked at,Remark
lowii x hamata,2025,2025-03,2,House 1 / Bench 1,40,few,2025-09-01,moss
lowii x hamata,2025,2025-03,3,House 1 / Bench 1,40,nothing,2025-09-01,
hamata x lowii,,1931-02-02,2,House 1 / Bench 1,40,few,2025-09-01,
lowii x hamata,,2025-04,1,House 1 / Bench 2,,plenty,,
hamata x lowii,2024,2024-06-01,1,House 1 / Bench 2,9,first,2024-05-01,
""",
    "seed": "Cross,Harvested,Seeds\nlowii x hamata,2025,40\nlowii x hamata,2031,40\nlowii x hamata,spring 2024,\n",
    "pollen": "Pollen of,Collected,Kept\nhamata,2026-05,freezer\nhamata,1930,freezer\nlowii,,fridge\n",
    "sections": """Plant,Spike,Pollen parent,Pollinated,Take,How the pods are,Pods left,Looked at,Bagged
lowii,upper,hamata,2026-01-01,most,turning,12,2026-05-01,yes
lowii,upper,hamata,2026-01-05,,split,0,2026-05-02,
lowii,lower,lowii,1922-01-05,half,,,,
hamata,,lowii,2025-11-30,,green,,2025-10-01,
""",
}
Tried = tuple[Any, Any, str]


@pytest.fixture(autouse=True)
def in_may() -> Iterator[None]:
    with time_machine.travel(datetime(2026, 5, 20, 12, tzinfo=UTC), tick=False):
        yield


@contextmanager
def taken_back() -> Iterator[None]:
    with transaction.atomic():
        yield
        transaction.set_rollback(True)


def tried(owner: Person, moving: Import) -> Tried:
    """What is told of a table, what is told once it was brought in, and all rows afterwards.

    PostgreSQL, where nothing is kept in mind, gives other ids after a rollback.
    """
    with taken_back():
        moving = columns_chosen(by=owner, moving=moving, columns=moving.columns)
        looked = json.loads(json.dumps(moving.preview))
        brought = brought_in(by=owner, moving=moving, without={row for row, *_ in looked["problems"]})
        return looked, json.loads(json.dumps(brought.preview)), all_rows() if connection.vendor == "sqlite" else ""


@pytest.fixture
def read_each_time(monkeypatch: pytest.MonkeyPatch) -> Callable[[], None]:
    return lambda: monkeypatch.setattr(running, "keeping_in_mind", lambda **_: nullcontext())


@pytest.mark.parametrize("kind", TABLES)
def test_the_same_comes_of_it(kind: str, owner: Person, nursery: Nursery, read_each_time: Callable[[], None]) -> None:
    nursery.plant(nursery.clone("hamata"), place=nursery.bench("Bench 1"))
    moving = table(owner, kind, TABLES[kind])
    in_mind = tried(owner, moving)
    read_each_time()
    each_time = tried(owner, moving)
    assert in_mind == each_time
    assert in_mind[0]["problems"], "rows that were refused half-way are among them"
    assert in_mind[1]["rows"]


def test_it_is_kept_in_mind_only_where_nobody_else_can_write(owner: Person, monkeypatch: pytest.MonkeyPatch) -> None:
    kept = []
    bring = dict(running.BRING)

    def watched(books: Any, row: Any) -> str:
        kept.append(mind() is not None)
        return bring["seed"](books, row)

    monkeypatch.setitem(running.BRING, "seed", watched)
    looked_over(owner, "seed", TABLES["seed"])
    assert set(kept) == {connection.vendor == "sqlite"}
    assert mind() is None


def test_a_run_that_ends_at_a_problem_leaves_nothing(owner: Person) -> None:
    moving = looked_over(owner, "pots", TABLES["pots"])
    before = all_rows()
    with pytest.raises(NotWhole):
        brought_in(by=owner, moving=moving)
    assert all_rows() == before
    assert {row for row, *_ in problems(moving)} == {row for row, *_ in problems(Import.objects.get())}


@pytest.mark.parametrize(
    ("kind", "row", "most"),
    [
        ("plants", "lowii,word {0},House 1 / Bench 1,2024-03-11", {"sqlite": 28, "postgresql": 38}),
        ("pots", "lowii x hamata,House 1 / Bench 1,2025-03-11", {"sqlite": 46, "postgresql": 61}),
    ],
)
def test_what_a_row_asks(kind: str, row: str, most: dict[str, int], owner: Person) -> None:
    headings = {"plants": "species,own word,place,here since", "pots": "cross,place,sown"}[kind]

    def asked(rows: int) -> int:
        text = "\n".join([headings, *(row.format(number) for number in range(rows))])
        with CaptureQueriesContext(connection) as queries:
            moving = looked_over(owner, kind, text)
        assert len(moving.preview["rows"]) == rows
        return len(queries)

    few, many = asked(10), asked(30)
    assert (many - few) / 20 <= most[connection.vendor]
