"""How a section ended and who told it, for whoever tells something of it afterwards, perhaps a minute later."""

from django.db.models import Q
from django.utils import timezone

from breeding.models import Section
from nursery.days import Day
from nursery.models import Act
from nursery.records.numbers import current_numbers
from nursery.templatetags.tepal import plate

_ENDED = {
    "harvested": ("harvested", Q(kind="harvested", harvested__what="section")),
    "lost": ("lost", Q(kind="pod_look", podlook__pods_left=0)),
    "stopped": ("no longer watched", Q(kind="stopped")),
}


def closed_before(section: Section, without: Act | None) -> str:
    """The sentence, so that two people on two phones know of each other, with the number of the seed."""
    how, ends = _ENDED[section.closed_why]
    told = Act.objects.filter(ends, Q(thing=section.pk) | Q(links__thing=section.pk), voided_by__isnull=True)
    act = told.exclude(pk=without.pk if without else None).select_related("by").order_by("-recorded_at").first()
    if act is None:
        return f"This section was {how} before."
    day = timezone.localdate(act.recorded_at)
    number = current_numbers([act.thing]).get(act.thing_id) if act.kind == "harvested" else None
    seed = f" Its seed is {plate(number)}." if number else ""
    return f"This section was {how} before, as {act.by.name} has told on {Day.on(day).words(day)} {day.year}.{seed}"
