"""A tag's number as somebody typed it: what is wrong with it, and which tags may have been meant."""

from django.db.models import F, Q

from nursery.damm import number_is_valid, one_slip_away, read_number
from nursery.models import Tag
from nursery.templatetags.tepal import plate

MOST_MEANT = 5
"""Tags that are offered where a number was typed wrongly."""

BLANK = Q(thing=None)
ON_SOMETHING = Q(thing__isnull=False)


def what_is_wrong(typed: str) -> str:
    """Why a typed number leads nowhere, and what to do."""
    number = read_number(typed)
    if number is None:
        return "A tag number has digits only. Type the digits on the tag, the last one too."
    if not number_is_valid(number):
        return f"{plate(number)} does not fit its last digit, so one digit is wrong or missing. Look at the tag again."
    return f"No tag {plate(number)} was ever made here. Look at the tag again."


def leads_nowhere(typed: str) -> bool:
    """Whether this is a number, and none of any tag of ours."""
    number = read_number(typed)
    return number is not None and not Tag.objects.filter(number=number).exists()


def near_misses(typed: str, which: Q | None = None) -> list[Tag]:
    """The first few tags that somebody may have meant who typed this with one slip; those printed first.

    Args:
        which: narrows them to tags that would do where the number was asked for.
    """
    number = read_number(typed)
    if number is None:
        return []
    tags = Tag.objects.filter(which or Q(), number__in=one_slip_away(number)).select_related("thing")
    return list(tags.order_by(F("printed_at").asc(nulls_last=True), "number")[:MOST_MEANT])
