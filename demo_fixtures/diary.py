"""The nursery's diary: lines in any order on their way in, in the order of their days when they go into the books."""

import uuid
from collections import Counter
from collections.abc import Callable, Iterable
from dataclasses import dataclass
from datetime import date, datetime, time, timedelta
from random import Random
from typing import Any

from django.utils import timezone

from demo_fixtures.pictures import Drawn
from demo_fixtures.told import Told, on
from nursery.models import Act, Flag, LivingThing, Person, Thing
from nursery.records import registry
from nursery.records.core import NewAct
from nursery.records.mind import thing_in_mind
from nursery.records.prepared import Prepared

NAMESPACE = uuid.uuid5(uuid.NAMESPACE_URL, "https://tags.drizzle-lane.example/demo")
GROWERS = ("Teo", "Teo", "Ines", "Ines", "Marta")
START_OF_WORK = time(7, 40)
MINUTES_BETWEEN = 3
_BORN = Prepared(lambda ids: Thing.objects.filter(born_by__in=ids).exclude(kind="cross").order_by("pk"))


@dataclass(frozen=True)
class The:
    """A thing, by its name in the tables."""

    name: str


@dataclass(frozen=True)
class ActOf:
    """An act, by the key of its line."""

    key: str


@dataclass(frozen=True)
class Blank:
    """One of the blank tags in the drawer, by its turn."""

    turn: int


@dataclass(frozen=True)
class FlagOf:
    """What the books did not agree with in an act."""

    key: str
    code: str


@dataclass(frozen=True)
class DetailOf:
    """The details of an act, by the key of its line and the name of their table."""

    key: str
    name: str


@dataclass(frozen=True)
class InDays:
    """A day to come."""

    days: int


@dataclass(frozen=True)
class Line:
    """One act: written down ``ago`` days before today, about the day it is ``told`` of."""

    key: str
    ago: int
    told: Told
    by: str
    record: Callable[..., Act]
    facts: dict[str, Any]
    makes: tuple[str, ...] = ()
    note: str = ""
    at: time | None = None
    replaces: ActOf | None = None


class Diary:
    """Collects lines; ``into_the_books`` records them all, oldest first. It was begun ``opened`` days ago."""

    def __init__(self, today: date, opened: int):
        self.today = today
        self.opened = opened
        self.lines: list[Line] = []
        self.blanks: list[int] = []
        self._turns: Counter[str] = Counter()
        self._things: dict[str, LivingThing] = {}
        self._people: dict[str, Person] = {}

    def write(
        self,
        ago: int,
        record: Callable[..., Act],
        *,
        told: Told | None = None,
        by: str = "",
        key: str = "",
        makes: Iterable[str] = (),
        note: str = "",
        at: time | None = None,
        replaces: ActOf | None = None,
        **facts: Any,
    ) -> None:
        """Note one act. The book ends yesterday: what would be written today or later is left out."""
        if ago < 1:
            return
        makes = tuple(makes)
        key = key or self._next_key(record, makes, facts)
        by = by or Random(key).choice(GROWERS)
        self.lines.append(Line(key, ago, told or on(ago), by, record, facts, makes, note, at, replaces))

    def into_the_books(self) -> None:
        day, turn = -1, 0
        for line in sorted(self.lines, key=lambda line: -line.ago):
            turn = turn + 1 if line.ago == day else 0
            day = line.ago
            self._keep(line, turn)

    def thing(self, name: str) -> LivingThing:
        """The thing as it is stored now.

        Raises:
            KeyError: no line has made it yet.
        """
        known = self._things[name]
        return type(known).objects.get(pk=known.pk)

    def act_id(self, key: str) -> uuid.UUID:
        return uuid.uuid5(NAMESPACE, key)

    def _next_key(self, record: Callable[..., Act], makes: tuple[str, ...], facts: dict[str, Any]) -> str:
        subject = ", ".join(makes) or next((value.name for value in facts.values() if isinstance(value, The)), "")
        plain = f"{record.__name__} {subject}"
        self._turns[plain] += 1
        return f"{plain} {self._turns[plain]}"

    def _keep(self, line: Line, turn: int) -> None:
        act = NewAct(
            id=self.act_id(line.key),
            by=self._person(line.by),
            day=line.told.day(self.today),
            at=line.at,
            note=line.note,
            replaces=self._found(line.replaces),
            recorded_at=self._moment(line.ago, turn),
        )
        kept = line.record(act=act, **{name: self._found(value) for name, value in line.facts.items()})
        if line.makes:
            self._remember(kept, line.makes)

    def _moment(self, ago: int, turn: int) -> datetime:
        start = datetime.combine(self.today - timedelta(days=ago), START_OF_WORK)
        return timezone.make_aware(start + timedelta(minutes=MINUTES_BETWEEN * turn))

    def _person(self, name: str) -> Person:
        if name not in self._people:
            self._people[name] = Person.objects.get(name=name)
        return self._people[name]

    def _found(self, value: Any) -> Any:
        match value:
            case The(name=name):
                known = self._things[name]
                return thing_in_mind(known.pk) or known  # whoever records locks it, and so reads it afresh
            case ActOf(key=key):
                return Act.objects.get(pk=self.act_id(key))
            case FlagOf(key=key, code=code):
                return Flag.objects.get(act_id=self.act_id(key), code=code)
            case DetailOf(key=key, name=name):
                return getattr(Act.objects.get(pk=self.act_id(key)), name)
            case InDays(days=days):
                return self.today + timedelta(days=days)
            case Drawn():
                return value.kept()
            case Blank(turn=turn):
                return self.blanks[turn]
            case list():
                return [self._found(one) for one in value]
        return value

    def _remember(self, act: Act, names: tuple[str, ...]) -> None:
        things = _BORN.objects([act.pk])
        for name, thing in zip(names, things, strict=True):
            self._things[name] = thing_in_mind(thing.pk) or registry.instance_of(thing)
