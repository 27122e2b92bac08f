"""The newest remark on each thing, while it is new: where something is done to a thing, it is to be read before."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, datetime, time, timedelta

from django.utils import timezone

from breeding.rounds import words
from nursery.models import ActLink, Remark

NEW_FOR = timedelta(days=14)
LONGEST = 80


@dataclass(frozen=True)
class Said:
    """A remark, cut to a line or two, with who said it and when in words."""

    words: str
    by: str
    when: str


def newest_remarks(day: date) -> dict[int, Said]:
    """By thing, its newest remark of the two weeks before a day, in two queries; one where nobody remarked anything."""
    since = timezone.make_aware(datetime.combine(day - NEW_FOR, time.min))
    rows = Remark.objects.filter(act__recorded_at__gte=since, act__voided_by__isnull=True).order_by("act__recorded_at")
    told = list(rows.values_list("act_id", "act__thing_id", "words", "act__by__name", "act__recorded_at"))
    if not told:
        return {}
    also: dict[object, list[int]] = {}
    for act, thing in ActLink.objects.filter(act__in=[act for act, *_ in told]).values_list("act_id", "thing_id"):
        also.setdefault(act, []).append(thing)
    newest: dict[int, Said] = {}
    for act, thing, text, by, at in told:
        said = Said(shortened(text), by, words.short(timezone.localdate(at), day))
        newest |= dict.fromkeys([thing, *also.get(act, [])], said)
    return newest


def shortened(text: str) -> str:
    """In one line, and cut after a whole word.

    >>> shortened("Do not waste it\\non the old packets."), len(shortened("moss " * 30)), shortened("moss " * 30)[-10:]
    ('Do not waste it on the old packets.', 75, 'moss moss…')
    """
    line = " ".join(text.split())
    return line if len(line) <= LONGEST else f"{line[: LONGEST - 1].rsplit(' ', 1)[0]}…"
