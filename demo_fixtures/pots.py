"""Looks at seed pots: nothing, nothing, the first, then ever more, and less and less often."""

from random import Random

from breeding.records.pots import pot_looked_at
from demo_fixtures.diary import Diary, The
from demo_fixtures.looks import ages

GAP_WAITING, GAP_UP = 27, 160
FIRST_LOOK = 20
AMOUNTS = ((30, "few"), (90, "plenty"))


def write_looks(diary: Diary, name: str, *, sown: int, up: int, quiet: int = 0) -> None:
    """``up`` is the age at which its first seedling showed, 0 for not yet."""
    end = up or sown
    waiting = list(ages(name, FIRST_LOOK, end, GAP_WAITING))
    for age in waiting:
        _write(diary, name, sown - age, quiet, "nothing")
    if up:
        _write(diary, name, sown - up - Random(name).randint(0, 3), quiet, "first")
        for age in (24, 75, *ages(f"{name} up", 75, sown - up, GAP_UP)):
            _write(diary, name, sown - up - age, quiet, _amount(name, age))


def _write(diary: Diary, name: str, ago: int, quiet: int, seen: str) -> None:
    if ago > quiet:
        diary.write(ago, pot_looked_at, pot=The(name), seen=seen)


def _amount(name: str, age: int) -> str:
    few = next((amount for days, amount in AMOUNTS if age < days), "")
    return few or Random(name).choice(("plenty", "carpet", "plenty", "few"))
