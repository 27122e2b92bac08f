"""The demo nursery, loaded once for a module and taken out again."""

from collections.abc import Iterator
from contextlib import contextmanager
from datetime import date
from typing import Any

import pytest
from django.db import transaction

from breeding.rounds.kinds import TASK_KINDS
from breeding.rounds.tasks import round_for
from demo_fixtures.diary import Diary
from demo_fixtures.load import fill
from nursery.models import Act

SUMMER, LAST_DAY = date(2026, 7, 15), date(2025, 12, 31)


@contextmanager
def filled(day: date) -> Iterator[Diary]:
    """The demo as it is loaded on ``day``; nothing of it stays."""
    with transaction.atomic():
        try:
            yield fill(day)
        finally:
            transaction.set_rollback(True)


@pytest.fixture(scope="module")
def books(django_db_setup: None, django_db_blocker: Any, request: pytest.FixtureRequest) -> Iterator[Diary]:
    """The demo as it is loaded on the module's ``DAY``; read only."""
    with django_db_blocker.unblock(), filled(request.module.DAY) as diary:
        yield diary


def must_have_a_full_round(day: date) -> None:
    """All kinds of tasks are there, and neither few nor many; nothing happened later than yesterday."""
    due = round_for(day)
    tasks = (*due.today, *due.rest)
    assert {task.kind for task in tasks} == {kind.code for kind in TASK_KINDS}
    assert 15 <= len(tasks) <= 32
    assert not Act.objects.filter(day_last__gte=day).exists()
