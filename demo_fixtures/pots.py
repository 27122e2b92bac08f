"""Looks at seed pots: nothing, nothing, the first, then ever more, and less and less often, until it is potted on."""

from random import Random

from breeding.records.pots import pot_looked_at
from demo_fixtures.diary import Diary, The
from demo_fixtures.looks import ages, gap, until_last_look
from nursery.records.watching import stopped

GAP_WAITING, GAP_UP = 27, 88
FIRST_LOOK, SECOND_LOOK_UP = 20, 30
FEW_UNTIL = 60
POTTED_ON_AT = 380


def write_looks(diary: Diary, name: str, *, sown: int, up: int, last_look: int = 0, potted_on: bool = True) -> None:
    """``up`` is the age at which its first seedling showed, 0 for not yet."""
    waiting = ages(name, FIRST_LOOK, up or sown, gap(GAP_WAITING, sown))
    for age in waiting if up else until_last_look(waiting, sown, last_look):
        diary.write(sown - age, pot_looked_at, pot=The(name), seen="nothing")
    if up:
        _write_seedlings(diary, name, sown - up - Random(name).randint(0, 3), potted_on)


def _write_seedlings(diary: Diary, name: str, ago: int, potted_on: bool) -> None:
    diary.write(ago, pot_looked_at, pot=The(name), seen="first")
    end = POTTED_ON_AT if potted_on else ago
    for age in (SECOND_LOOK_UP, *ages(f"{name} up", SECOND_LOOK_UP, end, gap(GAP_UP, ago))):
        diary.write(ago - age, pot_looked_at, pot=The(name), seen=_amount(name, age))
    if potted_on:
        diary.write(ago - POTTED_ON_AT, stopped, thing=The(name), note="Potted on, singly.")


def _amount(name: str, age: int) -> str:
    return "few" if age < FEW_UNTIL else Random(name).choice(("plenty", "carpet", "plenty", "few"))
