"""When somebody looks: about as often as the round would ask, give or take what else there was to do."""

from collections.abc import Iterable, Iterator
from random import Random

ROUND_SINCE, HELP_UNTIL = 240, 800
"""Days ago: since then the round asks for looks, and until then a third pair of hands walked the benches. In between
they looked when they thought of it, which was less often."""


def gap(usual: int, ago: int) -> int:
    """The longest time between two looks at what began ``ago`` days ago."""
    return usual * 2 if ROUND_SINCE <= ago < HELP_UNTIL else usual


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


def until_last_look(looked: Iterable[int], began: int, last_look: int) -> list[int]:
    """These ages, ended by a look ``last_look`` days ago at something that began ``began`` days ago; 0 leaves all."""
    if not last_look:
        return list(looked)
    last = began - last_look
    return [*(age for age in looked if age < last), *([last] if last > 0 else [])]
