"""Everything recorded, newest first: by whom, of what, and what was undone."""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date
from itertools import groupby

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.utils import timezone
from django.views.decorators.http import require_safe

from nursery.days import MONTHS
from nursery.forms.journal import JournalFilter
from nursery.models import Act
from nursery.records.telling import tell
from nursery.site import keyset, stories
from nursery.site.named import Named, named
from nursery.views.guards import signed_in

PAGE_SIZE = 50


@dataclass(frozen=True)
class Row:
    """One act: when it was recorded (local time), what it says of which thing, by whom, and how it was undone."""

    time: str
    thing: Named | None
    words: str
    who: str
    note: str
    undone: str
    phone: str = ""


@dataclass(frozen=True)
class Recorded:
    """The rows of one day of recording."""

    day: str
    rows: list[Row]


@signed_in
@require_safe
def journal(request: HttpRequest) -> HttpResponse:
    wanted = JournalFilter(request.GET)
    acts = wanted.chosen(Act.objects.exclude(kind="void"))
    page, next_page = keyset.page_of(acts, after=keyset.Cursor.read(request.GET.get("after", "")), size=PAGE_SIZE)
    return render(
        request,
        "office/journal.html",
        {
            "section": "office",
            "filter": wanted,
            "is_chosen": any(request.GET.get(name) for name in wanted.fields),
            "days": by_day(with_words(page)),
            "older": _query(request, next_page) if next_page else "",
            "newest": _query(request, None) if request.GET.get("after") else "",
        },
    )


def with_words(acts: Iterable[Act]) -> list[Act]:
    """The same acts in the same order, with all that telling them needs."""
    acts = list(acts)
    told = {act.pk: act for act in stories.told(Act.objects.filter(pk__in=[act.pk for act in acts]))}
    return [told[act.pk] for act in acts]


def by_day(acts: list[Act]) -> list[Recorded]:
    things = named(act.thing for act in acts)
    days = groupby(acts, key=lambda act: timezone.localdate(act.recorded_at))
    return [Recorded(_day_words(day), [_row(act, things) for act in on_day]) for day, on_day in days]


def _row(act: Act, things: dict[int, Named]) -> Row:
    return Row(
        time=f"{timezone.localtime(act.recorded_at):%H:%M}",
        thing=things.get(act.thing_id),
        words=tell(act),
        who=act.by.name,
        note=act.note,
        phone=act.phone_of.name if act.phone_of else "",
        undone=stories.void_words(act, timezone.localdate()) if hasattr(act, "voided_by") else "",
    )


def _day_words(day: date) -> str:
    return f"{day.day} {MONTHS[day.month - 1]} {day.year}"


def _query(request: HttpRequest, after: keyset.Cursor | None) -> str:
    """The query string of another page of the same choice; empty without a cursor means the newest."""
    query = request.GET.copy()
    query.pop("after", None)
    if after is not None:
        query["after"] = str(after)
    return f"?{query.urlencode()}"
