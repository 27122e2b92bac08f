"""What is done again and again in the two houses, and how faithfully."""

from collections.abc import Iterator
from datetime import timedelta

from breeding.records.routines import routine_done, routine_made
from breeding.science.recurrence import days
from demo_fixtures.diary import Diary, The

# name in the tables, words, place, rule, begun days ago, of how many one was put off
ROUTINES = (
    ("r mist", "mist", "warm", "FREQ=DAILY", 62, 9),
    ("r feed", "feed the seedlings", "warm heated", "FREQ=WEEKLY;INTERVAL=2", 370, 6),
    ("r cards", "change the sticky cards", "cool", "FREQ=MONTHLY;BYDAY=1MO", 400, 99),
    ("r trays", "clean the trays", None, "FREQ=MONTHLY;BYMONTHDAY=-1", 300, 4),
)


def write_routines(diary: Diary) -> None:
    for name, words, place, rule, begun, every in ROUTINES:
        where = The(place) if place else None
        diary.write(begun, routine_made, by="Marta", makes=[name], words=words, place=where, rule=rule)
        for turn, ago in enumerate(_due(diary, rule, begun), start=1):
            answer = "done" if turn % every else "not_today"
            diary.write(ago, routine_done, routine=The(name), answer=answer)


def _due(diary: Diary, rule: str, begun: int) -> Iterator[int]:
    """How many days ago it fell due, the longest ago first."""
    for day in days(rule, diary.today - timedelta(days=begun)):
        if day >= diary.today:
            return
        yield (diary.today - day).days
