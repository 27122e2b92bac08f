from django.utils import timezone

from nursery.days import Day
from nursery.models import Act
from nursery.records import registry


def tell(act: Act) -> str:
    """One act in words, with its day: "pods looked at: firm, green (3 Mar)"."""
    kind = registry.act_kind(act.kind)
    words = kind.tell(act)
    day = Day(act.day_first, act.day_last, act.said).words(timezone.localdate())
    return f"{kind.words}: {words} ({day})" if words else f"{kind.words} ({day})"
