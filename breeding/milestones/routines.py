from datetime import date
from typing import Any

from nursery.milestones import last_of, watching
from nursery.seen import Seen

FACTS = ("words", "place_id", "rule", "starts")


def routine(seen: list[Seen]) -> dict[str, Any]:
    """What a routine is now, and the last days on which it was done and put off."""
    told = last_of(seen, "routine_changed") or last_of(seen, "routine_made")
    facts = {name: told.data[name] for name in FACTS} if told else {}
    answers = [one for one in seen if one.kind == "routine_done"]
    return watching(seen) | facts | {"done_on": _last(answers, "done"), "put_off_on": _last(answers, "not_today")}


def _last(answers: list[Seen], answer: str) -> date | None:
    """A vague day counts from its last one, as every "yes" does."""
    days = [one.latest for one in answers if one.data["answer"] == answer]
    return max(days, default=None)
