from datetime import date, timedelta
from typing import Any

from django.utils import timezone

from breeding.models import Routine, RoutineChanged, RoutineDone, RoutineMade
from breeding.science.recurrence import checked
from nursery.days import EARLIEST
from nursery.models import Act, Place
from nursery.records.core import Entry, NewAct, recorded
from nursery.records.errors import Refused

LATEST_START = timedelta(days=3 * 366)


@recorded
def routine_made(*, act: NewAct, words: str, rule: str, starts: date | None = None, place: Place | None = None) -> Act:
    """Something is to be done again and again, from ``starts`` on (None: from the day of the act).

    Raises:
        Refused: the rule cannot be, or names no day; the sentence says what to write instead.
    """
    entry = Entry(act, "routine_made", on=[place], said={"words": words, "rule": rule, "starts": starts})
    if sent := entry.sent_before():
        return sent
    facts = _facts(entry, words=words, rule=rule, starts=starts, place=place)
    routine = entry.born(Routine, **facts)
    return entry.keep(routine, RoutineMade(**facts), touched=[place])


@recorded
def routine_changed(
    *, act: NewAct, routine: Routine, words: str, rule: str, starts: date | None = None, place: Place | None = None
) -> Act:
    """From now on it has other words, days or another place; what was done before stays as it was told."""
    entry = Entry(act, "routine_changed", on=[routine, place], said={"words": words, "rule": rule, "starts": starts})
    if sent := entry.sent_before():
        return sent
    facts = _facts(entry, words=words, rule=rule, starts=starts or routine.starts, place=place)
    return entry.keep(routine, RoutineChanged(**facts), touched=[place])


@recorded
def routine_done(*, act: NewAct, routine: Routine, answer: str = "done") -> Act:
    """It was done, or it is not done today and is asked for again tomorrow."""
    entry = Entry(act, "routine_done", on=[routine], said={"answer": answer})
    return entry.sent_before() or entry.keep(routine, RoutineDone(answer=answer))


def _facts(entry: Entry, *, words: str, rule: str, starts: date | None, place: Place | None) -> dict[str, Any]:
    starts = starts or entry.day.last or entry.today
    if not EARLIEST <= starts <= entry.today + LATEST_START:
        raise Refused("start_absurd", f"It starts between {EARLIEST.year} and three years from now.", field="starts")
    try:
        text = checked(rule, start=starts, zone=timezone.get_current_timezone()).text
    except ValueError as error:
        raise Refused("rule_cannot_be", str(error), field="rule") from error
    return {"words": " ".join(words.split()), "rule": text, "starts": starts, "place": place}
