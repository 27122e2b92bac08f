"""What several tests start from is made once: every test finds it as it was, and leaves it so."""

from collections.abc import Iterator
from contextlib import contextmanager
from copy import deepcopy
from typing import TypeVar

from django.db import transaction

T = TypeVar("T")


@contextmanager
def undone_at_the_end() -> Iterator[None]:
    """What is recorded in the block is gone after it; blocks may stand in each other, and in a test."""
    with transaction.atomic():
        try:
            yield
        finally:
            transaction.set_rollback(True)


def fresh(made: T) -> T:
    """A copy of what was made for several tests, rows and lists of rows alike, as nobody has changed it yet."""
    return deepcopy(made)
