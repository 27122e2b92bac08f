"""When somebody looks: about as often as the round would ask, give or take what else there was to do."""

from collections.abc import Iterator
from random import Random


def ages(name: str, start: int, end: int, gap: int) -> Iterator[int]:
    """Ages in days at which a thing is looked at, after ``start`` and before ``end``, never more than ``gap`` apart.

    The same name gives the same ages.
    """
    chance = Random(name)
    age = start
    while True:
        age += max(1, gap - chance.randint(0, gap // 3))
        if age >= end:
            return
        yield age
