"""The round of a day as a page; what is due is decided in ``breeding.rounds``."""

import re
import uuid
from collections import defaultdict
from collections.abc import Collection, Iterable, Mapping
from dataclasses import dataclass, replace
from datetime import date, timedelta
from urllib.parse import parse_qs, urlsplit

from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse
from django.utils import timezone
from django.views.decorators.http import require_safe

from breeding.rounds import words
from breeding.rounds.kinds import BY_CODE, TASK_KINDS
from breeding.rounds.order import Group, grouped
from breeding.rounds.tasks import Round, Task, round_for
from breeding.rounds.together import together
from nursery.closings import banners
from nursery.days import EARLIEST, LATEST
from nursery.models import Person
from nursery.views.guards import signed_in

ONE_DAY = timedelta(days=1)
MOST_REST = 40
"""Of what rolls over, so many are on the page: a season's backlog must not make it slow on a phone."""


@dataclass(frozen=True)
class Tab:
    label: str
    url: str
    current: bool = False
    count: int | None = None


@dataclass(frozen=True)
class Bench:
    """One place on the page, with its tasks and the form for walking past it.

    ``walk`` is what that form is called. Each row that still asks for a look adds its thing to it, so that what was
    answered since is not walked past.
    """

    anchor: str
    house: str
    place: str
    tasks: tuple[Task, ...]
    nothing_new_url: str
    walk: str
    act_id: uuid.UUID
    next: str
    done: tuple = ()


@dataclass(frozen=True)
class Rest:
    """What did not fit the minutes."""

    words: str
    groups: tuple[Bench, ...]


@dataclass(frozen=True)
class Reader:
    """Who reads the page of which day: answers are for those who may record, and for today."""

    person: Person
    day: date
    today: date
    address: str
    rows: Mapping[int, Collection[str]]
    """By thing, what its rows on the page are called."""

    @property
    def may_answer(self) -> bool:
        return self.person.may_record and self.day == self.today


@signed_in
@require_safe
def home(request: HttpRequest) -> HttpResponse:
    """Today's round; ``?day=`` leads to the round of another day."""
    if "day" in request.GET:
        return redirect(_day_url(day_of_address(request.GET["day"]), timezone.localdate()))
    return _page(request, timezone.localdate())


@signed_in
@require_safe
def of_day(request: HttpRequest, day: str) -> HttpResponse:
    """The round of another day, past or to come, as the books stand now."""
    return _page(request, day_of_address(day))


def _page(request: HttpRequest, day: date) -> HttpResponse:
    today = timezone.localdate()
    kind = request.GET.get("kind", "")
    kind = kind if kind in BY_CODE else ""
    shown = round_for(day, kind=kind, most_rest=MOST_REST)
    reader = Reader(request.user, day, today, request.get_full_path(), _rows_by_thing(shown))
    return render(
        request,
        "round/round.html",
        {
            "section": "round",
            "title": f"{words.WEEKDAYS[day.weekday()]} round",
            "day_words": _where(day, today, shown),
            "minutes_words": f"{shown.minutes_needed} min to do" if shown.today else "",
            "day": day,
            "days": _days(day, today),
            "kinds": _kinds(shown, today, kind),
            "groups": [_bench(group, reader) for group in shown.groups],
            "quiet": not reader.may_answer,
            "note": _note(reader) or _used(shown),
            "grid_url": reverse("grid", args=[day.isoformat()]) if request.user.may_record else "",
            "paper_url": reverse("labels:round-paper", args=[day.isoformat()]),
            "closings": banners(request.user),
            "later": _rest(shown, reader),
            "empty": _empty(shown, today),
        },
    )


def _bench(group: Group, reader: Reader, prefix: str = "place") -> Bench:
    walked = reader.may_answer and group.place_id and group.looks
    name = group.place_id or group.house.lower().replace(" ", "-")
    anchor = f"{prefix}-{name}"
    return Bench(
        anchor=anchor,
        house=group.house,
        place=group.within,
        tasks=_cards(group.tasks, reader),
        nothing_new_url=reverse("walk", args=[group.place_id]) if walked else "",
        walk=f"{anchor}-walk" if walked else "",
        act_id=uuid.uuid4(),
        next=reader.address,
    )


def bench_now(person: Person, address: str, anchor: str) -> Bench | None:
    """What is left at one place of today's page, which has this address; None where nothing is."""
    today = timezone.localdate()
    kind = parse_qs(urlsplit(address).query).get("kind", [""])[0]
    shown = round_for(today, kind=kind if kind in BY_CODE else "", most_rest=MOST_REST)
    reader = Reader(person, today, today, address, _rows_by_thing(shown))
    rest = _rest(shown, reader)
    benches = [*(_bench(group, reader) for group in shown.groups), *(rest.groups if rest else ())]
    return next((bench for bench in benches if bench.anchor == anchor), None)


def _cards(tasks: Iterable[Task], reader: Reader) -> tuple[Task, ...]:
    return tuple(_card(task, reader) for task in together(tasks))


def _card(task: Task, reader: Reader) -> Task:
    task = replace(task, beside=_cards(task.beside, reader))
    if reader.may_answer:
        others = tuple(row for row in reader.rows[task.thing_id] if row != task.row)
        return replace(task, act_id=uuid.uuid4(), others=others)
    return replace(task, answers=(), extra_links=())


def _rows_by_thing(shown: Round) -> dict[int, list[str]]:
    rows: dict[int, list[str]] = defaultdict(list)
    for task in (*shown.today, *shown.rest):
        for one in (task, *task.beside):
            if one.row not in rows[one.thing_id]:
                rows[one.thing_id].append(one.row)
    return rows


def _rest(shown: Round, reader: Reader) -> Rest | None:
    """What rolls over, but for what stands beside today's tasks already."""
    also = [one for task in shown.today for one in task.beside if one.due <= shown.day]
    above = {(one.thing_id, one.kind) for one in also}
    rest = [task for task in shown.rest if (task.thing_id, task.kind) not in above]
    count, minutes = shown.rest_count - len(also), shown.rest_minutes - sum(one.minutes for one in also)
    if not rest:
        return None
    groups = tuple(_bench(group, reader, "rest") for group in grouped(rest, shown.places))
    first = f", the {len(rest)} most urgent first" if count > len(rest) else ""
    return Rest(f"If there is time: {count} more, about {minutes} min{first}", groups)


def _where(day: date, today: date, shown: Round) -> str:
    houses = list(dict.fromkeys(group.house for group in shown.groups if group.place_id))
    walk = ", then ".join(houses)
    said = words.long(day) if day.year != today.year else words.long(day).rsplit(" ", 1)[0]
    return f"{said} · {walk}" if walk else said


def _days(day: date, today: date) -> list[Tab]:
    around = [day + ONE_DAY * step for step in (-1, 0, 1)]
    shown = [one for one in {*around, today} if EARLIEST <= one <= LATEST]
    return [Tab(_day_words(one, today), _day_url(one, today), one == day) for one in sorted(shown)]


def _day_words(day: date, today: date) -> str:
    named = {-1: "Yesterday", 0: "Today", 1: "Tomorrow"}
    return named.get((day - today).days) or words.short(day, today)


def _day_url(day: date, today: date) -> str:
    return reverse("round") if day == today else reverse("round-of-day", args=[day.isoformat()])


def _kinds(shown: Round, today: date, current: str) -> list[Tab]:
    """A link for each kind of task that there is; none where all are of one kind."""
    url, counts = _day_url(shown.day, today), shown.counts
    there = [kind for kind in TASK_KINDS if kind.code in counts or kind.code == current]
    if len(there) < 2 and not current:
        return []
    tabs = [Tab(kind.many, f"{url}?kind={kind.code}", kind.code == current, counts.get(kind.code, 0)) for kind in there]
    return [Tab("All", url, not current, sum(counts.values())), *tabs]


def _note(reader: Reader) -> str:
    if reader.day > reader.today:
        return "What will be due by then, as the books stand today. Answers are given on today’s round."
    if reader.day < reader.today:
        return "What was due by then and is still open. Answers are given on today’s round."
    return ""


def _used(shown: Round) -> str:
    """Why the list is short while more is due: most of the day went into what is done."""
    if not shown.answered or shown.answered < shown.minutes_needed:
        return ""
    return (
        f"{shown.answered} of the {shown.minutes} min a day went into what was answered today. "
        "What does not fit any more stands below."
    )


def _empty(shown: Round, today: date) -> dict[str, str]:
    if shown.counts and not shown.today:
        return {"words": "Nothing of this kind is due.", "url": _day_url(shown.day, today), "label": "The whole round"}
    if shown.rest_count and not shown.counts:
        return {"words": "Today’s list is done. What follows may wait."}
    return {}


def day_of_address(text: str) -> date:
    """A day as its address has it; anything else is no page."""
    try:
        day = date.fromisoformat(text) if re.fullmatch(r"\d{4}-\d{2}-\d{2}", text, re.ASCII) else None
    except ValueError:
        day = None
    if day is None or not EARLIEST <= day <= LATEST:
        raise Http404("There is no such day here.")
    return day
