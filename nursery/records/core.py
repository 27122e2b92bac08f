"""How an act gets into the books: lock, look whether it was sent before, insert, rewrite the milestones."""

import uuid
from collections import defaultdict
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from datetime import datetime, time
from functools import wraps
from typing import Any

from django.db import IntegrityError, OperationalError, transaction
from django.db.models import Model
from django.utils import timezone

from nursery.days import EARLIEST, Day
from nursery.models import Act, ActLink, Flag, LivingThing, Person, Thing, Void
from nursery.records import locks, milestones, numbers, registry, rights, voiding
from nursery.records.errors import AlreadySent, Refused
from nursery.records.mind import keep_things, mind
from nursery.records.payloads import payload_hash
from nursery.records.prepared import Prepared
from nursery.records.rows import save_valid

_SENT = Prepared(lambda ids: Act.objects.filter(pk__in=ids))


@dataclass(frozen=True)
class Again:
    """The version that an undo lets stand again, and the undo, which takes back what replaced it."""

    version: Act
    undo_id: uuid.UUID
    undo_hash: str


@dataclass(frozen=True)
class NewAct:
    """What every act says beside its details.

    ``id`` is minted once per submit by whoever sends it. ``day`` None means the day it is recorded. ``replaces`` is
    the act that this one corrects. ``phone_of`` is who was signed in, where that is not ``by``. ``recorded_at`` None
    means now; only imports and the demo set it. ``again`` only an undo sets.
    """

    id: uuid.UUID
    by: Person
    day: Day | None = None
    at: time | None = None
    note: str = ""
    replaces: Act | None = None
    recorded_at: datetime | None = None
    phone_of: Person | None = None
    again: Again | None = None


@dataclass(frozen=True)
class Contradiction:
    """What the books do not agree with: taken all the same, and flagged.

    ``thing`` is the id of the thing that somebody should look at, where that is not the act's main one.
    """

    code: str
    sentence: str
    thing: int | None = None


def recorded(function: Callable[..., Act]) -> Callable[..., Act]:
    """Run a record function in one transaction, and again if another connection got in between.

    Two connections that send the same act, or make the same cross, at the same moment collide on a unique column. A
    deadlock ends one of two: things are locked in one order, but a section that goes over to a cross that nobody
    could foresee locks it late. The other has committed by then, so the next run finds its rows.
    """

    @wraps(function)
    def in_one_transaction(**facts: Any) -> Act:
        savepoint = not ((kept := mind()) and kept.all_or_nothing)
        for _ in range(4 if savepoint else 0):
            try:
                with milestones.forgotten_if_it_fails(), transaction.atomic():
                    return function(**facts)
            except (IntegrityError, OperationalError) as error:
                if isinstance(error, OperationalError) and "deadlock" not in str(error):
                    raise
        try:
            with milestones.forgotten_if_it_fails(), transaction.atomic(savepoint=savepoint):
                return function(**facts)
        except IntegrityError as error:
            if "unique" not in str(error).lower():
                raise
            raise Refused("clash", "Something else has that name by now. Give that another name first.") from error

    return in_one_transaction


class Entry:
    """One act on its way into the books.

    ``on`` are the things it is told of, locked and read afresh; ``said`` is what the act tells, as the sender gave it.
    ``also`` is locked too, but found out by us: it does not tell one sending from another.
    """

    def __init__(
        self,
        act: NewAct,
        kind: str,
        *,
        on: Iterable[LivingThing | None] = (),
        also: LivingThing | None = None,
        said: dict[str, Any],
    ):
        self.act = act
        self.kind = kind
        self.on = [thing for thing in on if thing is not None]
        self.also = also
        self.hash = payload_hash(act, kind, self.on, said)
        self.recorded_at = act.recorded_at or timezone.now()
        self.today = timezone.localdate(self.recorded_at)
        self._born: list[LivingThing] = []
        self._reborn: dict[str, list[Thing]] = {}
        self._again = False
        self._stood_under: list[LivingThing] = []

    @property
    def day(self) -> Day:
        return (self.act.day or Day.on(self.today)).clipped(self.today)

    def sent_before(self) -> Act | None:
        """Lock; the act on record if this is the same one again. Raises AlreadySent, or Refused for what cannot be."""
        locks.lock([*self.on, self.also, *self._replaced()])
        for known in _SENT.objects([self.act.id]):
            if known.payload_hash == self.hash:
                return known
            raise AlreadySent(known)
        rights.must_be_able_to_record(self.act.by)
        self._day_must_be_possible()
        if self.act.replaces:
            self._must_be_replaceable(self.act.replaces)
            self._find_things_to_keep(self.act.replaces)
        return None

    def born(self, model: type[LivingThing], *, tag: int | None = None, **columns: Any) -> Any:
        """Make a thing of this kind, or, when the act corrects another, take over the one that act made."""
        again = self._reborn.get(model._meta.model_name)
        if again:
            thing = again.pop(0)
            self._again = True
            thing.born_by_id = self.act.id
            thing.save(update_fields=["born_by"])
            instance = model.objects.get(pk=thing.pk)
            self._stood_under += locks.with_upstream([instance])
            for name, value in columns.items():
                setattr(instance, name, value)
            save_valid(instance)
            self._see_to_a_number(thing)
        else:
            kind = registry.thing_kind(model._meta.model_name)
            thing = Thing.objects.create(kind=kind.code, made_at=self.recorded_at, born_by_id=self.act.id)
            instance = model(thing=thing, **columns)
            save_valid(instance)
            if kind.tagged:
                numbers.give_number(thing, at=self.recorded_at, blank=tag)
        keep_things([instance])
        self._born.append(instance)
        return instance

    def _see_to_a_number(self, thing: Thing) -> None:
        """The tag of something that was taken out for a while may be on something else by now."""
        if registry.thing_kind(thing.kind).tagged and not thing.tags.exists():
            numbers.give_number(thing, at=self.recorded_at)

    def keep(
        self,
        thing: LivingThing,
        detail: Model | None = None,
        *,
        touched: Iterable[LivingThing | None] = (),
        flags: Sequence[Contradiction] = (),
    ) -> Act:
        """Insert the act with its details, links and flags, undo what it replaces, rewrite the milestones."""
        row = self._insert(thing)
        if detail is not None:
            detail.act = row
            save_valid(detail)
        others = _distinct([*touched, *self._born], without=thing)
        born = {one.pk for one in self._born}
        links = [
            ActLink(act=row, thing_id=one.pk, role=ActLink.Role.BORN if one.pk in born else ActLink.Role.TOUCHED)
            for one in others
        ]
        found = [
            Flag(act=row, thing_id=flag.thing or thing.pk, code=flag.code, sentence=flag.sentence)
            for flag in [*flags, *self._of_something_undone()]
        ]
        for table, rows in ((ActLink, links), (Flag, found)):
            if rows:
                table.objects.bulk_create(rows)
        before = self._undo_replaced()
        after = self._resettle() if self._again else []
        told = None if self.act.replaces else row
        things = [thing, *others, *before, *after]
        milestones.rewrite(things, because=self.kind, again=self._again, told=told, detail=detail)
        milestones.summarise(self._stood_under)  # a later dab may have led a section to a cross that no link names
        return row

    def _insert(self, thing: LivingThing) -> Act:
        day = self.day
        row = Act(
            id=self.act.id,
            kind=self.kind,
            thing_id=thing.pk,
            day_first=day.first,
            day_last=day.last,
            said=day.said,
            at=self.act.at,
            by=self.act.by,
            phone_of=self.act.phone_of,
            note=self.act.note,
            recorded_at=self.recorded_at,
            payload_hash=self.hash,
            replaces=self.act.replaces,
        )
        save_valid(row)
        return row

    def _of_something_undone(self) -> list[Contradiction]:
        """A phone may tell of something that was undone since: taken, and shown to somebody who can tell."""
        gone = [thing for thing in self.on if thing.cancelled and thing.kind != "cross"]
        return [
            Contradiction(
                "was_undone", f"The {registry.thing_kind(thing.kind).words} was taken out of the books before."
            )
            for thing in gone[:1]
        ]

    def _day_must_be_possible(self) -> None:
        day = self.act.day
        if day is None or day.first is None:
            return
        if day.first > self.today:
            raise Refused("day_to_come", "That day is still to come. Choose today or an earlier day.", field="day")
        if day.first < EARLIEST:
            raise Refused(
                "day_absurd",
                f"That is before {EARLIEST.year}. Check the year, or say that it is not known.",
                field="day",
            )

    def _must_be_replaceable(self, old: Act) -> None:
        if old.kind != self.kind:
            raise Refused("other_kind", "A record can only be corrected by one of its own kind.")
        if Void.objects.filter(target=old).exists():
            raise Refused("already_undone", "This record was undone or corrected before. Open it again to see how.")
        if not rights.may_undo(self.act.by, old, self.today):
            raise Refused("not_yours", "Somebody else recorded this on another day. Ask them or an owner.")

    def _find_things_to_keep(self, old: Act) -> None:
        versions = [old, self.act.again.version] if self.act.again else [old]
        again = defaultdict(list)
        for thing in Thing.objects.filter(born_by__in=versions).exclude(kind="cross").order_by("pk"):
            again[thing.kind].append(thing)
        self._reborn = dict(again)

    def _replaced(self) -> list[LivingThing]:
        """What a correction may change: the things of the act it corrects, and those whose facts follow from them."""
        things = voiding.things_of(self.act.replaces) if self.act.replaces else []
        things += voiding.things_of(self.act.again.version) if self.act.again else []
        return [*things, *(below for thing in things for below in registry.below(thing))]

    def _resettle(self) -> list[LivingThing]:
        """Let what came from a corrected thing follow: its pollen is another clone's, its sections other crosses."""
        below = _distinct(below for thing in self._born for below in registry.below(thing))
        locks.lock(below)  # most are held; one that came while we waited is not
        for thing in below:
            resettle = registry.thing_kind(thing.kind).resettle
            if resettle:
                resettle(thing)
        return below

    def _undo_replaced(self) -> list[LivingThing]:
        old = self.act.replaces
        if old is None:
            return []
        left_over = [registry.instance_of(thing) for things in self._reborn.values() for thing in things]
        for thing in left_over:
            voiding.must_have_no_dependents(thing, besides=old)
        signed = {"by": self.act.by, "phone_of": self.act.phone_of, "recorded_at": self.recorded_at}
        again = self.act.again
        undo = {"id": again.undo_id, "payload_hash": again.undo_hash} if again else {}
        voiding.insert_void(old, **({"id": uuid.uuid5(self.act.id, "void")} | undo), **signed)
        return voiding.things_of(old)


def _distinct(things: Iterable[LivingThing | None], without: LivingThing | None = None) -> list[LivingThing]:
    found = {thing.pk: thing for thing in things if thing is not None}
    if without is not None:
        found.pop(without.pk, None)
    return list(found.values())
