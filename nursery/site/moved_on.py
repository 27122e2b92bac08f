"""What a tag means now: of a thing that has ended, what it has become; of a tag, which others there are and where it
should hang."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from datetime import date
from typing import Any
from urllib.parse import urlencode

from django.urls import reverse

from breeding.models import Pollinated
from breeding.rounds.naming import sub_words
from breeding.rounds.tasks import tasks_for
from breeding.rounds.why_not import why_nothing
from breeding.words.stages import stage_words
from nursery.links import thing_url
from nursery.models import LivingThing, PlantArrived, Tag
from nursery.records import registry
from nursery.records.numbers import current_numbers
from nursery.site import fetch
from nursery.site.cards.parts import Detail, Link
from nursery.templatetags.tepal import plate
from nursery.where import place_words

MOST = 4
"""Things that are named as what it is now; all of them stand further down on its page."""


@dataclass(frozen=True)
class Now:
    """Sentences on what has become of it, and the ways there."""

    words: str
    links: tuple[Link, ...] = ()
    label: str = "What it is now"


def moved_on(thing: LivingThing, today: date) -> Now | None:
    """What has become of a thing that has ended; None while it is under way, and where nobody watches it any more."""
    became = _BECAME.get(thing.kind)
    if became is None or thing.cancelled or (thing.is_open and not _plant_is_gone(thing)):
        return None
    if thing.closed_why == "stopped":
        return None
    words, links = became(thing, today)
    first = why_nothing(thing, today) if thing.is_open else ""  # of what has ended itself, its stage says so above
    return Now(" ".join(filter(None, (first, words))), tuple(links))


def left_hanging(thing: Any, today: date) -> Now | None:
    """Of seed that was cut while some pods were left, what the round asks of these; None for anything else."""
    section = getattr(thing, "section", None) if thing.kind == "seedlot" and not thing.cancelled else None
    if section is None or not section.is_open or _plant_is_gone(section):
        return None
    number = current_numbers([section]).get(section.pk)
    which = " ".join(filter(None, (sub_words(section), plate(number))))
    first = next((f" {one.title}: {one.due_words}." for one in tasks_for(section, today).tasks), "")
    return Now(f"Pods still hang on {which}.{first}", (Link("Open the section", thing_url(section)),), "Left hanging")


def fallen(thing: LivingThing, tag: Tag) -> Now | None:
    """Where a tag should hang that somebody found lying about; None for one that was replaced, or for what is gone."""
    if tag.retired or not thing.is_open or thing.kind == "place":
        return None
    place, kind = fetch.place_of(thing), registry.thing_kind(thing.kind).words
    where = f" in {place_words(place)}" if place else ""
    lost = {"kind": thing.kind} | ({"place": place.pk} if place else {})
    links = [Link(f"What stands in {place.name}", thing_url(place))] if place else []
    links += [
        Link("Several there have none: which may it be?", f"{reverse('tag-lost')}?{urlencode(lost)}"),
        Link("It is spoilt: print it again", reverse("labels:print", args=[tag.number])),
    ]
    return Now(
        f"It belongs on this {kind}{where}. Hang it back only where you are sure: no tag is better.", tuple(links)
    )


def replaced_words(thing: Any, tag: Tag) -> str:
    """Of a tag that was replaced: which one holds now, and what to do with this one."""
    if not thing.number:
        return f"Tag {plate(tag.number)} was replaced by another."
    now = plate(thing.number)
    return (
        f"Tag {plate(tag.number)} was replaced by another. It carries {now} now. "
        f"This one still opens it; where both hang on it, take this one off and leave {now}."
    )


def other_tags(thing: LivingThing, tag: Tag | None) -> list[Detail]:
    """The other tags that open a thing; asked only where the tag that led here is known to have some beside it."""
    if tag is None or not getattr(tag, "beside", 0):
        return []
    others = Tag.objects.filter(thing_id=thing.pk).exclude(pk=tag.pk).order_by("-made_at", "-number")
    told = [f"{plate(one.number)} ({'replaced' if one.retired else 'in use'})" for one in others]
    return [Detail("Also opened by", ", ".join(told))]


def _plant_is_gone(thing: Any) -> bool:
    plant = {"spike": lambda: thing.plant, "section": lambda: thing.spike.plant}.get(thing.kind)
    return plant is not None and plant().closed_on is not None


def _section(section: Any, today: date) -> tuple[str, list[Link]]:
    lots = _links(fetch.things("seedlot").filter(section=section, cancelled=False).order_by("pk"), "Seed", today)
    if lots:
        return "What was cut from it is here:", lots
    return "No seed of it was cut here.", [Link("The plant it was on", thing_url(section.spike.plant))]


def _spike(spike: Any, today: date) -> tuple[str, list[Link]]:
    sections = _links(fetch.things("section").filter(spike=spike, cancelled=False).order_by("order"), "Section", today)
    words = "What was pollinated on it:" if sections else "Nothing was pollinated on it."
    return words, [*sections, Link("Its plant", thing_url(spike.plant))]


def _pollen(lot: Any, today: date) -> tuple[str, list[Link]]:
    dabbed = Pollinated.objects.filter(lot=lot, act__voided_by__isnull=True).values("act__thing")
    sections = _links(fetch.things("section").filter(pk__in=dabbed, cancelled=False).order_by("-pk"), "Section", today)
    return "It went on these:" if sections else "It went on no section here.", sections


def _seed_lot(lot: Any, today: date) -> tuple[str, list[Link]]:
    pots = fetch.things("seedpot").filter(lot=lot, cancelled=False).order_by(fetch.OPEN_FIRST, "pk")
    links = _links(pots, "Seed pot", today)
    parts = _links(fetch.things("seedlot").filter(split_from=lot, cancelled=False).order_by("pk"), "Seed", today)
    return "It is in these now:" if links or parts else "Nothing was sown from it here.", [*links, *parts]


def _seed_pot(pot: Any, today: date) -> tuple[str, list[Link]]:
    parts = fetch.things("seedpot").filter(split_from=pot, cancelled=False).order_by(fetch.OPEN_FIRST, "pk")
    links = _links(parts, "Seed pot", today)
    if links:
        return "Its seedlings went into these pots:", links
    return "Where it came from:", [
        Link("The seed it was for", thing_url(pot.lot)),
        Link("Its cross", thing_url(pot.lot.cross)),
    ]


def _plant(plant: Any, today: date) -> tuple[str, list[Link]]:
    struck = PlantArrived.objects.filter(struck_from=plant, act__voided_by__isnull=True).values("act__thing")
    cuttings = _links(fetch.open_things("plant").filter(pk__in=struck).order_by("pk"), "Cutting", today)
    same = fetch.open_things("plant").filter(clone=plant.clone_id).exclude(pk__in=struck).order_by("pk")
    others = _links(same, "Plant of the same clone", today)
    words = "The same clone is still here:" if cuttings or others else "No other plant of its clone is here."
    return words, [*cuttings, *others, Link("Its clone", thing_url(plant.clone))]


def _links(rows: Any, words: str, today: date) -> list[Link]:
    """The first few of these things, with their numbers and how far they are or where they stand."""
    return [Link(_words(row, words, today), thing_url(row)) for row in fetch.listed(rows[:MOST])]


def _words(row: Any, words: str, today: date) -> str:
    number = f" {plate(row.number)}" if row.number else ""
    told: Sequence[str] = [stage_words(row, today), place_words(fetch.place_of(row))]
    return f"{words}{number}: {', '.join(filter(None, told)) or 'here'}"


_BECAME: dict[str, Callable[[Any, date], tuple[str, list[Link]]]] = {
    "section": _section,
    "spike": _spike,
    "pollenlot": _pollen,
    "seedlot": _seed_lot,
    "seedpot": _seed_pot,
    "plant": _plant,
}
