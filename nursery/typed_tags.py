"""A tag's number as somebody typed it: what is wrong with it, and which tags may have been meant."""

from django.db.models import F, Q

from nursery.damm import number_is_valid, one_slip_away, read_number
from nursery.models import Tag
from nursery.records import registry
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
    """The first few tags that somebody may have meant who typed this with one slip.

    Those in use on what is still there come first, each in the order in which they were printed.

    Args:
        which: narrows them to tags that would do where the number was asked for.
    """
    number = read_number(typed)
    if number is None:
        return []
    tags = Tag.objects.filter(which or Q(), number__in=one_slip_away(number)).select_related("thing")
    found = list(tags.order_by(F("printed_at").asc(nulls_last=True), "number"))
    over = _over(found)
    return sorted(found, key=lambda tag: tag.retired or tag.thing_id in over)[:MOST_MEANT]


def _over(tags: list[Tag]) -> set[int]:
    """The things that these tags are on and that are no longer there; a query for each kind."""
    kinds = {tag.thing.kind for tag in tags if tag.thing is not None}
    ids = [tag.thing_id for tag in tags if tag.thing_id is not None]
    gone = Q(closed_on__isnull=False) | Q(cancelled=True)
    found = (registry.thing_kind(code).model.objects.filter(gone, pk__in=ids) for code in sorted(kinds))
    return {pk for rows in found for pk in rows.values_list("pk", flat=True)}
