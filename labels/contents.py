"""What the tag of each kind of thing says, fetched in a constant number of queries.

A tag hangs for years and is read alone, so its days carry their year, and what changes (where a thing stands, how far
it is) is left to the page that its code opens.
"""

import uuid
from collections import defaultdict
from collections.abc import Callable, Collection, Iterable, Sequence
from dataclasses import dataclass
from datetime import date
from operator import attrgetter
from typing import Any

from django.db.models import OuterRef, Prefetch, Q, QuerySet, Subquery

from breeding.answers import amount_words
from breeding.words.ages import day_words, days_words, plural
from breeding.words.names import FETCH, name_parts
from labels.layout import LabelText, Leads
from labels.models import PrintedTag
from nursery.damm import LONGEST_NUMBER
from nursery.days import Day
from nursery.links import thing_url
from nursery.models import Act, Flag, Tag
from nursery.names import JOINED, NamePart
from nursery.records import registry
from nursery.worn import WORN_AHEAD

ANOTHER_YEAR = date(1, 1, 1)
"""Days told as from this one always name their year."""

MOST_LISTED = 2_000
"""Tags on one page: as many as one PDF takes."""

AT_ONCE = 500
"""Tags whose things are in memory together while their words are made: a thing takes many times what its words do."""

BLANK = "blank"
"""What stands for the kind of a tag that is on nothing yet."""


@dataclass(frozen=True)
class Tagged:
    """A tag with what it says.

    Attributes:
        name: parts of the name as pages show them.
        url: the thing's page; empty for a blank tag.
        kind: code of the kind of thing, or ``BLANK``.
        place: id of the place where it stands; None for packets, blank tags and what stands nowhere.
        printed_early: whether it is printed before what its lines tell has happened, as for a pot that waits for seed.
    """

    number: int
    kind_words: str
    name: tuple[NamePart, ...]
    lines: tuple[str, ...]
    url: str
    kind: str = BLANK
    place: int | None = None
    printed_early: bool = False

    @property
    def said(self) -> str:
        """What its print must go on saying as long as it hangs, a line for each part; empty of a blank tag."""
        if self.kind == BLANK:
            return ""
        name = "".join(part.text for part in self.name)
        return "\n".join((self.kind_words, name, *(() if self.printed_early else self.lines)))

    @property
    def is_formula(self) -> bool:
        """Whether the name shows a cross, so that the page must say which parent stands first."""
        return JOINED in "".join(part.text for part in self.name)

    def text(self, address: str) -> LabelText:
        """As it is drawn."""
        parts = tuple((part.text, part.style) for part in self.name)
        told = _TOLD.get(self.kind)
        leads = told.leads if told else Leads.NUMBER
        return LabelText(self.number, address, self.kind_words, parts, self.lines, leads)


def tagged(numbers: Sequence[int]) -> list[Tagged]:
    """The tags of these numbers in this order; numbers that were never made are left out."""
    possible = [number for number in numbers if len(str(number)) <= LONGEST_NUMBER]
    found = {}
    for start in range(0, len(possible), AT_ONCE):
        part = Tag.objects.filter(number__in=possible[start : start + AT_ONCE])
        found |= {one.number: one for one in _told(part)}
    return [found[number] for number in numbers if number in found]


def waiting(*, only: Q | None = None) -> list[Tagged]:
    """Tags that were never printed: those of things still watched, then blank ones; the first made first.

    ``only`` narrows them; of more than ``MOST_LISTED`` it gives those made first.
    """
    tags = unprinted().filter(only or Q())
    return sorted(_told(tags.order_by("made_at", "number")[:MOST_LISTED]), key=lambda one: not one.url)


def unprinted() -> QuerySet[Tag]:
    """Tags in use, or blank, that nobody has printed."""
    return Tag.objects.filter(_blank_or_open(), printed_at=None, retired=False)


def standing_in(places: Collection[int]) -> Q:
    """Tags of what stands in one of these places, and the places' own."""
    found = Q()
    for kind, told in _TOLD.items():
        if told.place:
            found |= Q(**{f"thing__{kind}__{told.place}__in": places})
    return found


def kind_words(kind: str) -> str:
    """The kind as tags and pages say it.

    >>> kind_words("seedpot"), kind_words(BLANK)
    ('Seed pot', 'Blank')
    """
    told = _TOLD.get(kind)
    return (told.words or registry.thing_kind(kind).words).capitalize() if told else kind.capitalize()


def kinds() -> list[str]:
    """The codes of all kinds that carry tags, and of blank ones."""
    return [*_TOLD, BLANK]


def redetermined(act: uuid.UUID) -> list[Tagged]:
    """Tags of things still watched that this redetermination flagged; the first made first."""
    flagged = Flag.objects.filter(act=act, code="parent_redetermined").values("thing")
    tags = Tag.objects.filter(_blank_or_open(), thing__in=flagged, retired=False)
    return _told(tags.order_by("made_at", "number")[:MOST_LISTED])


def worn(today: date, *, only: Q | None = None) -> list[Tagged]:
    """Tags in use whose print is near its end, by what it was printed on; the oldest first. ``only`` narrows them."""
    tags = in_use().filter(only or Q(), lasts_until__lte=today + WORN_AHEAD)
    return _told(tags.order_by("lasts_until", "number")[:MOST_LISTED])


def worn_count(today: date) -> int:
    """How many tags ``worn`` would list if it had no end."""
    return in_use().filter(lasts_until__lte=today + WORN_AHEAD).count()


def carrying_another(address: str) -> list[Tagged]:
    """Tags in use whose print leads to another address than this one; the oldest first."""
    return _told(carrying().exclude(carries__iexact=address).order_by("printed_at", "number")[:MOST_LISTED])


def carrying() -> QuerySet[Tag]:
    """Tags in use, blank ones too, of whose last print the address is known, as ``carries``."""
    last = PrintedTag.objects.filter(tag=OuterRef("pk")).order_by("-printing__at", "-pk")
    tags = Tag.objects.filter(_blank_or_open(), retired=False, pk__in=PrintedTag.objects.values("tag"))
    return tags.annotate(carries=Subquery(last.values("printing__address")[:1]))


def in_use() -> QuerySet[Tag]:
    """Tags that hang on something still watched."""
    return Tag.objects.filter(_blank_or_open(), retired=False, thing__isnull=False)


def blanks_waiting() -> int:
    """How many blank tags were made and not printed yet."""
    return Tag.objects.filter(printed_at=None, retired=False, thing=None).count()


def _blank_or_open() -> Q:
    """Asked of the database, so that what died unlabelled never crowds out what lives."""
    wanted = Q(thing=None)
    for kind in _TOLD:
        wanted |= Q(**{f"thing__{kind}__cancelled": False, f"thing__{kind}__closed_on": None})
    return wanted


def _told(tags: QuerySet[Tag]) -> list[Tagged]:
    tags = list(tags.select_related("thing"))
    things = _things([tag.thing for tag in tags if tag.thing_id])
    return [_tagged(tag, things[tag.thing_id]) if tag.thing_id else _blank(tag) for tag in tags]


def _things(rows: Iterable[Any]) -> dict[int, Any]:
    """The things of any kinds with all that their tags tell: one query a kind, and one for its mixed pollen."""
    by_kind = defaultdict(list)
    for row in rows:
        by_kind[row.kind].append(row.pk)
    found = {}
    for kind, pks in by_kind.items():
        wanted = registry.thing_kind(kind).model.objects.filter(pk__in=pks)
        told = _TOLD[kind]
        wanted = wanted.select_related("thing__born_by__by", *told.details, *FETCH[kind])
        found |= {thing.pk: thing for thing in wanted.prefetch_related(*told.several)}
    return found


def _blank(tag: Tag) -> Tagged:
    return Tagged(tag.number, "", (), (), "")


def _tagged(tag: Tag, thing: Any) -> Tagged:
    told = _TOLD[thing.kind]
    return Tagged(
        number=tag.number,
        kind_words=kind_words(thing.kind),
        name=tuple(name_parts(thing)),
        lines=tuple(line for line in told.lines(thing) if line),
        url=thing_url(thing),
        kind=thing.kind,
        place=attrgetter(told.place.replace("__", "."))(thing) if told.place else None,
        printed_early=getattr(thing, "session_id", None) is not None,
    )


def _day(thing: Any) -> str:
    """The day of the act that made it, as it was told; of a split-off part, of the act that made the first one."""
    while getattr(thing, "split_from", None) is not None:
        thing = thing.split_from
    return _told_day(thing.thing.born_by)


def _told_day(act: Act) -> str:
    """A vague day as it was told, never as an exact one."""
    return Day(act.day_first, act.day_last, act.said).words(ANOTHER_YEAR)


def _ends(first: date | None, last: date | None) -> str:
    """A day of which only the ends are kept, in words that are vague from the first on, as a label may cut the rest.

    >>> _ends(date(2026, 3, 3), date(2026, 3, 3)), _ends(date(2026, 3, 1), date(2026, 3, 31))
    ('3 Mar 2026', 'between 1 Mar 2026 and 31 Mar 2026')
    """
    if first == last:
        return days_words(first, last, ANOTHER_YEAR)
    return f"between {day_words(first, ANOTHER_YEAR)} and {day_words(last, ANOTHER_YEAR)}"


def _by(thing: Any) -> str:
    return thing.thing.born_by.by.initials


def _dotted(*parts: str) -> str:
    return " · ".join(part for part in parts if part)


def _place(place: Any) -> list[str]:
    return [f"in {place.inside.name}" if place.inside else ""]


def _spike(spike: Any) -> list[str]:
    return [_dotted(f"found {_day(spike)}", _by(spike)), spike.position]


def _section(section: Any) -> list[str]:
    flowers = section.flowers if section.flowers is not None else section.get_size_display().removesuffix(" flowers")
    return [
        _dotted(f"pollinated {_day(section)}", _by(section)),
        _dotted(
            f"section {section.order}",
            f"tie: {section.tie}" if section.tie else "",
            f"{flowers} flowers" if flowers != "" else "",
        ),
    ]


def _pollen(lot: Any) -> list[str]:
    words = lot.words if lot.clone else ""
    storage = lot.get_storage_display() if lot.storage != "unknown" else ""
    return [_dotted(f"collected {_day(lot)}", _by(lot)), storage, words]


def _seed_lot(lot: Any) -> list[str]:
    return [_dotted(f"harvested {_day(lot)}", _by(lot)), lot.words]


def _seed_pot(pot: Any) -> list[str]:
    if pot.split_from_id is not None:
        return _split_pot(pot)
    if pot.session_id is not None:
        return _session_pot(pot)
    sown = pot.thing.born_by.sown
    pods = f"{sown.pods} {'pod' if sown.pods == 1 else 'pods'}" if sown.pods is not None else ""
    seeds = f"{pot.seeds} {'seed' if pot.seeds == 1 else 'seeds'}" if pot.seeds is not None else ""
    return [_dotted(f"sown {_day(pot)}", _by(pot)), _dotted(pods, seeds)]


def _session_pot(pot: Any) -> list[str]:
    """A prepared pot has no day of sowing yet: its tag names the sowing's, and what is meant to go in."""
    sown = _sown_by(pot)
    if sown is None:
        day = Day.on(pot.session.planned_for).words(ANOTHER_YEAR)
        return [_dotted(f"sowing {day}", _by(pot)), amount_words(pot.planned_seeds, pot.planned_pods)]
    return [_dotted(f"sown {_told_day(sown)}", sown.by.initials), amount_words(pot.seeds, sown.potsown.pods)]


def _sown_by(pot: Any) -> Act | None:
    """The act that put seed into a prepared pot: of several, the first whose day is that of the books."""
    days = pot.sown_first, pot.sown_last
    return next((act for act in pot.thing.sowings if (act.day_first, act.day_last) == days), None)


def _split_pot(pot: Any) -> list[str]:
    """Of a pot that was split off, that day; when it was sown comes behind, and how many went into it."""
    act = pot.thing.born_by
    sown = _ends(pot.sown_first, pot.sown_last)
    seedlings = act.potsplit.seedlings
    count = plural(seedlings, "seedling") if seedlings is not None else ""
    return [_dotted(f"split off {_told_day(act)}", _by(pot)), _dotted(f"sown {sown}", count)]


@dataclass(frozen=True)
class Told:
    """What a kind's tag tells beside the name: its lines, and what to fetch for them.

    ``words`` say the kind where the books' own word is not the shortest; ``place`` leads to the id of where it stands;
    ``leads`` is what is read at arm's length first, and the day is in the first line.
    """

    lines: Callable[[Any], list[str]]
    details: tuple[str, ...] = ()
    several: tuple[str | Prefetch, ...] = ()
    words: str = ""
    place: str = ""
    leads: Leads = Leads.NUMBER


_SOWINGS = (
    Act.objects.filter(kind="pot_sown", voided_by=None).select_related("by", "potsown").order_by("recorded_at", "pk")
)

_TOLD = {
    "place": Told(_place, place="pk", leads=Leads.NAME),
    "plant": Told(lambda plant: [], place="place_id", leads=Leads.NAME),
    "spike": Told(_spike, place="plant__place_id", leads=Leads.NAME),
    "section": Told(_section, several=("cross__candidates",), place="spike__plant__place_id", leads=Leads.NAME),
    "pollenlot": Told(_pollen, several=("candidates",), words="pollen", leads=Leads.NAME_AND_DAY),
    "seedlot": Told(_seed_lot, several=("cross__candidates",), words="seed", leads=Leads.NAME_AND_DAY),
    "seedpot": Told(
        _seed_pot,
        ("thing__born_by__sown", "thing__born_by__potsplit", "session"),
        ("lot__cross__candidates", Prefetch("thing__acts", _SOWINGS, to_attr="sowings")),
        place="place_id",
        leads=Leads.NAME,
    ),
}
"""One line a kind of thing that carries a tag."""
