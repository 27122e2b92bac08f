"""Seed and pollen by post: what went where and what came of it there, what came here and what came of it."""

from collections import defaultdict
from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date
from typing import Any

from django.db.models import Count, Q
from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.utils import timezone
from django.views.decorators.http import require_safe

from breeding.models import OutcomeTold
from breeding.records.posted import SENT
from breeding.words.ages import plural
from nursery.days import Day
from nursery.models import Act, Person
from nursery.records import registry
from nursery.site import fetch
from nursery.site.named import Named, named
from nursery.site.stories import told
from nursery.site.views.lists import tabs_of
from nursery.views.guards import signed_in

MOST = 200
"""Rows of each list, the latest first."""


@dataclass(frozen=True)
class Outcome:
    words: str
    told: str


@dataclass(frozen=True)
class SentRow:
    """One sending: of what, in words, and what was told of it since; ``url`` is where more is told."""

    thing: Named
    words: str
    day: str
    outcomes: list[Outcome]
    url: str = ""


@dataclass(frozen=True)
class CameRow:
    """What came from elsewhere, with what it has given here so far."""

    thing: Named
    words: str
    gave: str


@signed_in
@require_safe
def by_post(request: HttpRequest) -> HttpResponse:
    context = {
        "section": "seed",
        "tabs": tabs_of("seed", current="by-post"),
        "sent": sent_rows(request.user, timezone.localdate()),
        "came": came_rows(),
        "most": MOST,
    }
    return render(request, "things/by_post.html", context)


def sent_rows(person: Person, today: date) -> list[SentRow]:
    """What went elsewhere, the latest first, each with all that was told of it."""
    acts = list(told(Act.objects.filter(kind__in=SENT, voided_by__isnull=True))[:MOST])
    things, outcomes = named(act.thing for act in acts), _outcomes(acts, today)
    return [
        SentRow(
            thing=things[act.thing_id],
            words=registry.act_kind(act.kind).tell(act),
            day=_day(act, today),
            outcomes=outcomes[act.pk],
            url=f"{things[act.thing_id].url}outcome/?sent={act.pk}" if person.may_record else "",
        )
        for act in acts
    ]


def _outcomes(acts: Iterable[Act], today: date) -> dict[Any, list[Outcome]]:
    """By the id of the sending, what was told of it, oldest first."""
    found = OutcomeTold.objects.filter(sent__in=acts, act__voided_by__isnull=True).select_related("act")
    by_sent: dict[Any, list[Outcome]] = defaultdict(list)
    for one in found.order_by("act__day_last", "act__recorded_at"):
        by = f", by {one.told_by}" if one.told_by else ""
        by_sent[one.sent_id].append(Outcome(one.words, f"told {_day(one.act, today)}{by}"))
    return by_sent


def _day(act: Act, today: date) -> str:
    return Day(act.day_first, act.day_last, act.said).words(today)


def came_rows() -> list[CameRow]:
    """Pollen and seed from elsewhere, the latest first; of the pollen the sections it went on, of the seed its pots."""
    pollen = fetch.things("pollenlot").filter(thing__born_by__kind="pollen_received", cancelled=False)
    used = pollen.annotate(sections=Count("dabs__act__thing", filter=Q(dabs__act__voided_by=None), distinct=True))
    seed = fetch.things("seedlot").filter(thing__born_by__kind="seed_received", cancelled=False)
    up = seed.annotate(up=Count("pots", filter=Q(pots__stage="up", pots__cancelled=False)))
    lots = sorted([*used.order_by("-pk")[:MOST], *up.order_by("-pk")[:MOST]], key=lambda lot: -lot.pk)
    names = named(lot.thing for lot in lots)
    return [CameRow(names[lot.pk], lot.words, _gave(lot)) for lot in lots[:MOST]]


def _gave(lot: Any) -> str:
    if lot.kind == "pollenlot":
        return f"went on {plural(lot.sections, 'section')}" if lot.sections else "not used yet"
    if not lot.pots_sown:
        return "not sown yet"
    return f"{plural(lot.pots_sown, 'pot')} sown, {lot.up} up"
