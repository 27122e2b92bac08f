"""Where plants and pots stood when, fetched in a number of queries that grows with nothing."""

from collections import defaultdict
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import date, datetime
from uuid import UUID

from django.db.models import Case, F, Q, QuerySet, Value
from django.db.models import When as If
from django.utils import timezone

from nursery.models import Act, LivingThing, Place, PlaceMoved, Thing
from nursery.standing import EVER, Move, Stay, When, stood

MOVES = ("moved", "plant_gone", "pot_gone", "place_moved")
_FACTS = ("pk", "name", "size", "inside")
_DAY = ("kind", "day_first", "day_last", "recorded_at", "pk")


@dataclass(frozen=True)
class PlaceFacts:
    """A place as it is now."""

    name: str
    size: str
    inside: int | None


@dataclass(frozen=True)
class Layout:
    """All places, and where each stood when; ``moved`` names the acts that moved them."""

    places: Mapping[int, PlaceFacts]
    moves: Mapping[int, list[Move]]
    moved: Mapping[UUID, tuple[int, When]]

    def words(self, place: int) -> str:
        """The name of a place with that of its house: "Warm house, Tray 1"."""
        here, house = self.places[place], self.house(place)
        return here.name if house == place else f"{self.places[house].name}, {here.name}"

    def house(self, place: int) -> int:
        """The place around all others around this one, as it stands now."""
        seen: set[int] = set()
        while place not in seen and (above := self.places[place].inside) is not None:
            seen.add(place)
            place = above
        return place

    def is_house(self, place: int) -> bool:
        return self.places[place].size == Place.Size.HOUSE


def layout() -> Layout:
    """One query, however many places there are: what each is now, and where it was put up or moved to."""
    places, moves, moved = {}, defaultdict(list), {}
    born = ("thing__born_by__placemade__inside", *(f"thing__born_by__{name}" for name in _DAY))
    went = ("inside", *(f"act__{name}" for name in _DAY))
    made = Place.objects.order_by().values_list(*_FACTS, *born)
    told = PlaceMoved.objects.filter(act__voided_by__isnull=True).order_by()
    told = told.values_list(*(f"act__thing__place__{name}" for name in _FACTS), *went)
    for pk, name, size, inside, to, *day in made.union(told, all=True):
        places[pk] = PlaceFacts(name, size, inside)
        if day[0] == "place_moved":
            when = when_of(*day)
            moves[pk].append(Move(to, when))
            moved[day[-1]] = (pk, when)
        elif to is not None:
            moves[pk].append(Move(to, EVER))
    return Layout(places, dict(moves), moved)


_EMPTIED = Q(kind="pot_split", potsplit__extent="all", thing__seedpot__closed_why="split")
_WENT = Q(kind__in=MOVES) | _EMPTIED
_WENT_AS = Case(If(kind="pot_split", then=Value("plant_gone")), default=F("kind"))
"""A pot of which all went into other pots is gone, too."""

BEGAN = ("plantarrived__place", "sown__place", "sowingplanned__place", "potsplit__place")
"""Where the act that made it told that a plant or pot stands."""


def stays_of(things: QuerySet[Thing], known: Layout) -> dict[int, list[Stay]]:
    """For plants and seed pots, by id: every place in which each stood. One query."""
    return {pk: stood(moves, known.moves) for pk, moves in _moves_of(things).items()}


def standing_thing(thing: LivingThing) -> LivingThing | None:
    """What stands on the bench: a plant or pot, the plant of a spike and its sections; None for what stands nowhere."""
    match thing.kind:
        case "plant" | "seedpot":
            return thing
        case "spike":
            return thing.plant
        case "section":
            return thing.spike.plant
    return None


def _moves_of(things: QuerySet[Thing]) -> dict[int, list[Move]]:
    """The place in which each began, and where it went; its being gone, or emptied, is a move to nowhere. One query."""
    births = things.filter(born_by__voided_by__isnull=True).order_by()
    began = births.values_list("pk", *(f"born_by__{path}" for path in (*BEGAN, *_DAY)))
    went = Act.objects.filter(_WENT, thing__in=things.order_by().values("pk"), voided_by__isnull=True)
    went = went.annotate(went_as=_WENT_AS)
    found: dict[int, list[Move]] = defaultdict(list)
    went = went.values_list("thing", *["moved__place"] * len(BEGAN), "went_as", *_DAY[1:])
    for pk, *told in began.union(went, all=True):
        places, day = told[: len(BEGAN)], told[len(BEGAN) :]
        found[pk].append(Move(next(filter(None, places), None), when_of(*day)))
    return dict(found)


def when_of(kind: str, first: date | None, last: date | None, recorded_at: datetime, pk: UUID) -> When:
    """A day as told; one that is not known was no later than it was recorded.

    What moves a thing comes as late as it can have been, as for where it stands now (``Seen.late_order``); where it
    began comes as early.
    """
    first, last = first or date.min, last or timezone.localdate(recorded_at)
    return When(first, last, (last if kind in MOVES else first, recorded_at, pk))


def ids(things: Iterable[LivingThing]) -> QuerySet[Thing]:
    return Thing.objects.filter(pk__in=[thing.pk for thing in things])
