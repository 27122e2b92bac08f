"""What the nursery's own acts say of which thing is which, in words."""

from datetime import date

from nursery.days import Day
from nursery.models import Act, CloneMade, Redetermined
from nursery.names import label
from nursery.records.descent import descent

ENTERED_AS = {"bought": "Bought as", "gift": "Given to us as", "permit": "Collected as", "raised": "Raised as"}


def thought(told: Redetermined) -> str:
    """What a clone is thought to be: a name, words, or a name with words behind it."""
    named = told.taxon or told.seed_parent or told.pollen_parent
    return ", ".join(part for part in (label(descent(told)) if named else "", told.words) if part)


def redetermined(act: Act) -> str:
    told = act.redetermined
    return f"thought {thought(told)}, because {told.why}"


def once_and_now(entered: CloneMade, act: Act, today: date) -> str:
    """One sentence: "Bought as lowii anvil, thought hamata since May 2026, because its flowers are."."""
    told = act.redetermined
    came = ENTERED_AS.get(entered.origin, "Entered as")
    day = Day(act.day_first, act.day_last, act.said)
    since = f" since {day.words(today).removeprefix('in ')}" if day.is_known else ""
    return f"{came} {label(descent(entered))}, thought {thought(told)}{since}, because {told.why.rstrip('.')}."


def swapped(act: Act) -> str:
    swap = act.tagsswapped
    return f"{swap.tag_id} and {swap.other_tag_id} hung on each other's thing"
