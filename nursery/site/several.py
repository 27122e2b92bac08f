"""Things of one kind that are asked the same, to be answered by one tap: those at a place, or the pots of a sowing."""

import uuid
from collections import Counter, defaultdict
from collections.abc import Iterable
from dataclasses import dataclass, replace
from datetime import date
from typing import Any

from django.urls import reverse

from breeding.answers import Answer, asked_of
from breeding.rounds.tasks import asked_now
from breeding.words.ages import plural
from breeding.words.names import name_parts
from breeding.words.stages import stage_words
from nursery.links import thing_url
from nursery.models import LivingThing, Place
from nursery.names import NamePart
from nursery.records import registry
from nursery.site import fetch, pages

KINDS = ("spike", "section", "seedpot")
"""What stands somewhere and is looked at."""
MOST = 200
_STANDS = {"spike": "plant__place", "section": "spike__plant__place", "seedpot": "place"}


@dataclass(frozen=True)
class Choice:
    """One thing with its tick."""

    pk: int
    number: int | None
    name_parts: tuple[NamePart, ...]
    sub: str
    url: str
    ticked: bool = True


@dataclass(frozen=True)
class Batch:
    """Things that have the same answers; the form of one batch posts one answer for those that are ticked."""

    title: str
    question: str
    kind: str
    choices: tuple[Choice, ...]
    answers: tuple[Answer, ...]
    cautions: tuple[str, ...]
    act_id: uuid.UUID

    @property
    def anchor(self) -> str:
        return f"{self.kind}-{self.choices[0].pk}"


def at_place(place: Place) -> list[Any]:
    """The open things of the kinds that are looked at, here and on all that stands inside; so many of each at most.

    What grew on a plant that is gone stands nowhere any more.
    """
    inside = _with_all_inside(place)
    found = []
    for code in KINDS:
        rows = fetch.under_way(code).filter(**{f"{_STANDS[code]}__in": inside})
        found += fetch.listed(rows.order_by("pk")[:MOST])
    return found


def of_sowing(sowing: uuid.UUID) -> list[Any]:
    """The pots that one sowing or split made and that are still open."""
    return fetch.listed(fetch.open_things("seedpot").filter(thing__born_by=sowing).order_by("pk")[:MOST])


def batches(things: Iterable[Any], today: date, *, ticked: set[int] | None = None) -> list[Batch]:
    """The things in batches of one kind and the same answers; all are ticked unless ``ticked`` says which."""
    alike: dict[tuple, list[Any]] = defaultdict(list)
    things = list(things)
    for thing in things:
        answers = answers_of(thing)
        if answers:
            alike[thing.kind, tuple((one.label, one.url, one.name, one.value) for one in answers)].append(thing)
    asked = _asked_now(things, today)
    return [_batch(found, today, ticked, asked) for found in alike.values()]


def _asked_now(things: Iterable[Any], today: date) -> set[int]:
    """The ids of those of which the round asks something by now."""
    of_kind: dict[str, list[Any]] = defaultdict(list)
    for thing in things:
        of_kind[thing.kind].append(thing)
    return {pk for found in of_kind.values() for pk in asked_now(found, today)}


def limit_met(found: Iterable[Batch]) -> int:
    """How many of a kind are listed at most, where there may be more than that; else 0."""
    counts = Counter()
    for batch in found:
        counts[batch.kind] += len(batch.choices)
    return MOST if max(counts.values(), default=0) >= MOST else 0


def answers_of(thing: LivingThing) -> list[Answer]:
    """The answers that one tap records and that make nothing new, each with the address that takes it for several."""
    asked = asked_of(thing)
    return _taken_for_several(thing, (*asked.answers, *asked.more))


def url_for(kind: str, act: str) -> str:
    """Where one act is recorded of several things of a kind."""
    return reverse("several-answer", args=[registry.thing_kind(kind).slug, act])


def act_of(answer: Answer) -> str:
    """The last part of the address that takes an answer."""
    return answer.url.rstrip("/").rpartition("/")[2]


def _taken_for_several(thing: LivingThing, answers: Iterable[Answer]) -> list[Answer]:
    return [_for_several(thing, one) for one in answers if one.url and not _births(thing, one)]


def _for_several(thing: LivingThing, answer: Answer) -> Answer:
    return replace(answer, url=url_for(thing.kind, act_of(answer)))


def _births(thing: LivingThing, answer: Answer) -> bool:
    return bool(pages.page_on(thing.kind, act_of(answer)).births)


def _batch(things: list[Any], today: date, ticked: set[int] | None, asked_by_now: set[int]) -> Batch:
    """With "Later" where every one of them is asked for by now."""
    first = things[0]
    asked = asked_of(first)
    later = asked.later if asked_by_now.issuperset(thing.pk for thing in things) else ()
    choices = tuple(_choice(thing, today, ticked is None or thing.pk in ticked) for thing in things)
    count, alike = plural(len(things), registry.thing_kind(first.kind).words), _alike([one.sub for one in choices])
    return Batch(
        title=f"{count}: {alike}" if alike else count,
        question=asked.question,
        kind=first.kind,
        choices=choices,
        answers=(*answers_of(first), *_taken_for_several(first, later)),
        cautions=asked.cautions,
        act_id=uuid.uuid4(),
    )


def _alike(stages: list[str]) -> str:
    """What these things, each in the words of its stage, have in common; else what most of them are. No ages.

    >>> _alike(["growing, found 38 days ago", "growing, found 24 days ago"])
    'growing'
    >>> _alike(["pods turning, not bagged", "pods ripening, most swelling", "pods ripening, half swelling"])
    'pods ripening and more'
    """
    told = [[part for part in stage.split(", ") if not any(map(str.isdigit, part))] for stage in stages]
    counts = Counter(part for parts in told for part in dict.fromkeys(parts))
    if not counts:
        return ""
    shared = [part for part, count in counts.items() if count == len(stages)]
    return ", ".join(shared) if shared else f"{counts.most_common(1)[0][0]} and more"


def _choice(thing: Any, today: date, ticked: bool) -> Choice:
    stage = stage_words(thing, today)
    return Choice(thing.pk, thing.number, tuple(name_parts(thing)), stage, thing_url(thing), ticked)


def _with_all_inside(place: Place) -> set[int]:
    """The place and every place inside it, however deep."""
    inside = defaultdict(list)
    for pk, outer in Place.objects.filter(cancelled=False).values_list("pk", "inside_id"):
        inside[outer].append(pk)
    found, waiting = set(), [place.pk]
    while waiting:
        pk = waiting.pop()
        if pk not in found:
            found.add(pk)
            waiting += inside[pk]
    return found
