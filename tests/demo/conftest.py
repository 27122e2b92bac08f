"""The demo nursery, loaded once for a module and taken out again."""

from collections.abc import Iterator
from contextlib import contextmanager
from datetime import date
from typing import Any

import pytest
from django.db import transaction

from demo_fixtures.diary import Diary
from demo_fixtures.load import fill

SUMMER = date(2026, 7, 15)


@contextmanager
def filled(day: date) -> Iterator[Diary]:
    """The demo as it is loaded on ``day``; nothing of it stays."""
    with transaction.atomic():
        try:
            yield fill(day)
        finally:
            transaction.set_rollback(True)


@pytest.fixture(scope="module")
def books(django_db_setup: None, django_db_blocker: Any) -> Iterator[Diary]:
    """The demo as it is loaded on a day in summer; read only."""
    with django_db_blocker.unblock(), filled(SUMMER) as diary:
        yield diary
