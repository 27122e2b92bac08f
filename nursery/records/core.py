"""How an act gets into the books: lock, look whether it was sent before, insert, rewrite the milestones."""

import hashlib
import json
import uuid
from collections import defaultdict
from collections.abc import Callable, Iterable, Sequence, Set
from dataclasses import dataclass
from datetime import date, datetime, time
from functools import wraps
from typing import Any

from django.core.exceptions import NON_FIELD_ERRORS, ValidationError
from django.db import IntegrityError, OperationalError, transaction
from django.db.models import Model, UniqueConstraint
from django.utils import timezone

from nursery.days import Day
from nursery.models import Act, ActLink, Flag, LivingThing, Person, Thing, Void
from nursery.records import locks, milestones, numbers, registry, rights
from nursery.records.errors import AlreadySent, Refused

EARLIEST = date(1950, 1, 1)


@dataclass(frozen=True)
class NewAct:
    """What every act says beside its details.

    ``id`` is minted once per submit by whoever sends it. ``day`` None means the day it is recorded. ``replaces`` is
    the act that this one corrects. ``recorded_at`` None means now; only imports and the demo set it.
    """

    id: uuid.UUID
    by: Person
    day: Day | None = None
    at: time | None = None
    note: str = ""
    replaces: Act | None = None
    recorded_at: datetime | None = None


@dataclass(frozen=True)
class Contradiction:
    """What the books do not agree with: taken all the same, and flagged."""

    code: str
    sentence: str


def recorded(function: Callable[..., Act]) -> Callable[..., Act]:
    """Run a record function in one transaction, and once more if another connection got in between.

    Two connections that send the same act, or make the same cross, at the same moment collide on a unique column; a
    deadlock ends one of two. The other has committed by then, so the second run finds its rows.
    """

    @wraps(function)
    def in_one_transaction(**facts: Any) -> Act:
        try:
            with transaction.atomic():
                return function(**facts)
        except (IntegrityError, OperationalError) as error:
            if isinstance(error, OperationalError) and "deadlock" not in str(error):
                raise
            with transaction.atomic():
                return function(**facts)

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
        self.hash = _payload_hash(act, kind, self.on, said)
        self.recorded_at = act.recorded_at or timezone.now()
        self.today = timezone.localdate(self.recorded_at)
        self._born: list[LivingThing] = []
        self._reborn: dict[str, list[Thing]] = {}
        self._again = False

    @property
    def day(self) -> Day:
        return (self.act.day or Day.on(self.today)).clipped(self.today)

    def sent_before(self) -> Act | None:
        """Lock; the act on record if this is the same one again. Raises AlreadySent, or Refused for what cannot be."""
        locks.lock([*self.on, self.also, *self._replaced()])
        known = Act.objects.filter(pk=self.act.id).first()
        if known is not None:
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
            for name, value in columns.items():
                setattr(instance, name, value)
            _save_valid(instance)
        else:
            kind = registry.thing_kind(model._meta.model_name)
            thing = Thing.objects.create(kind=kind.code, made_at=self.recorded_at, born_by_id=self.act.id)
            instance = model(thing=thing, **columns)
            _save_valid(instance)
            if kind.tagged:
                numbers.give_number(thing, at=self.recorded_at, blank=tag)
        self._born.append(instance)
        return instance

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
            _save_valid(detail)
        others = _distinct([*touched, *self._born], without=thing)
        born = {one.pk for one in self._born}
        ActLink.objects.bulk_create(
            ActLink(act=row, thing_id=one.pk, role=ActLink.Role.BORN if one.pk in born else ActLink.Role.TOUCHED)
            for one in others
        )
        Flag.objects.bulk_create(
            Flag(act=row, thing_id=thing.pk, code=flag.code, sentence=flag.sentence)
            for flag in [*flags, *self._of_something_undone()]
        )
        before = self._undo_replaced()
        after = self._resettle() if self._again else []
        milestones.rewrite([thing, *others, *before, *after])
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
            note=self.act.note,
            recorded_at=self.recorded_at,
            payload_hash=self.hash,
            replaces=self.act.replaces,
        )
        _save_valid(row)
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
                "day_absurd", "That is before 1950. Check the year, or say that it is not known.", field="day"
            )

    def _must_be_replaceable(self, old: Act) -> None:
        if old.kind != self.kind:
            raise Refused("other_kind", "A record can only be corrected by one of its own kind.")
        if Void.objects.filter(target=old).exists():
            raise Refused("already_undone", "This record was undone or corrected before. Open it again to see how.")
        if not rights.may_undo(self.act.by, old, self.today):
            raise Refused("not_yours", "Somebody else recorded this on another day. Ask them or an owner.")

    def _find_things_to_keep(self, old: Act) -> None:
        again = defaultdict(list)
        for thing in Thing.objects.filter(born_by=old).exclude(kind="cross").order_by("pk"):
            again[thing.kind].append(thing)
        self._reborn = dict(again)

    def _replaced(self) -> list[LivingThing]:
        """What a correction may change: the things of the act it corrects, and those whose facts follow from them."""
        things = things_of(self.act.replaces) if self.act.replaces else []
        return [*things, *(below for thing in things for below in registry.below(thing))]

    def _resettle(self) -> list[LivingThing]:
        """Let what came from a corrected thing follow: its pollen is another clone's, its sections other crosses."""
        below = _distinct(below for thing in self._born for below in registry.below(thing))
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
            must_have_no_dependents(thing, besides=old)
        insert_void(old, by=self.act.by, recorded_at=self.recorded_at, id=uuid.uuid5(self.act.id, "void"))
        return things_of(old)


def things_of(act: Act) -> list[LivingThing]:
    """All things that an act is about: its main one first, then those it touched or made."""
    ids = [act.thing_id, *act.links.order_by("pk").values_list("thing_id", flat=True)]
    found = {thing.pk: registry.instance_of(thing) for thing in Thing.objects.filter(pk__in=ids)}
    return [found[pk] for pk in dict.fromkeys(ids)]


def insert_void(target: Act, *, by: Person, recorded_at: datetime, id: uuid.UUID, payload_hash: str = "") -> Act:
    """Insert the act that undoes ``target``, about the same things."""
    today = timezone.localdate(recorded_at)
    row = Act.objects.create(
        id=id,
        kind="void",
        thing_id=target.thing_id,
        day_first=today,
        day_last=today,
        said="exact",
        by=by,
        recorded_at=recorded_at,
        payload_hash=payload_hash,
    )
    Void.objects.create(act=row, target=target)
    ActLink.objects.bulk_create(
        ActLink(act=row, thing_id=pk) for pk in target.links.order_by("pk").values_list("thing_id", flat=True)
    )
    take_back = registry.act_kind(target.kind).take_back
    if take_back:
        take_back(target)
    return row


def dependents(thing: LivingThing, *, besides: Act) -> list[Act]:
    """The acts that make no sense without this thing: all that count, but for remarks and the like.

    A move is nothing to the plant that moved, but without the place the plant would stand nowhere.
    """
    aside = [code for code, kind in registry.act_kinds().items() if kind.aside]
    if thing.kind == "place":
        aside.remove("moved")
    acts = milestones.counting_acts(thing).exclude(pk=besides.pk).exclude(kind__in=aside)
    return list(acts.select_related("by").order_by("day_last", "recorded_at"))


def must_have_no_dependents(thing: LivingThing, *, besides: Act) -> None:
    acts = dependents(thing, besides=besides)
    if acts:
        words = registry.thing_kind(thing.kind).words
        raise Refused(
            "others_depend",
            f"More was recorded about this {words}. Undo that first, newest first.",
            reasons=[tell(act) for act in reversed(acts)],
        )


def tell(act: Act) -> str:
    """One act in words, with its day: "pods looked at: firm, green (3 Mar)"."""
    kind = registry.act_kind(act.kind)
    words = kind.tell(act)
    day = Day(act.day_first, act.day_last, act.said).words(timezone.localdate())
    return f"{kind.words}: {words} ({day})" if words else f"{kind.words} ({day})"


def _save_valid(row: Model) -> None:
    """Save a row whose columns are sound. What the database itself refuses becomes a sentence too.

    Check constraints are left to the database: asking it first costs three statements for each.
    """
    unique = any(isinstance(one, UniqueConstraint) for one in row._meta.constraints)
    check_row(row, exclude=_foreign_keys(row), constraints=unique)
    try:
        row.save(force_insert=row._state.adding)
    except IntegrityError as error:
        broken = next((one for one in row._meta.constraints if one.name in str(error)), None)
        if broken is None:
            raise
        raise Refused("cannot_be", broken.get_violation_error_message()) from error


def _foreign_keys(row: Model) -> set[str]:
    return {one.name for one in row._meta.concrete_fields if one.is_relation or one.primary_key}


def check_row(row: Model, *, exclude: Set[str] = frozenset(), constraints: bool = True) -> None:
    """Run the column checks and constraints of a row, so that a person gets a sentence and not a database error."""
    may_be_empty = {
        one.name for one in row._meta.concrete_fields if getattr(row, one.attname) in (None, "", {}) and _optional(one)
    }
    try:
        row.clean_fields(exclude=exclude | may_be_empty)
        if constraints:
            row.validate_constraints()
    except ValidationError as error:
        name, messages = next(iter(error.message_dict.items()))
        raise Refused("cannot_be", messages[0], field=None if name == NON_FIELD_ERRORS else name) from error


def _optional(column) -> bool:
    return column.null or column.has_default()


def _distinct(things: Iterable[LivingThing | None], without: LivingThing | None = None) -> list[LivingThing]:
    found = {thing.pk: thing for thing in things if thing is not None}
    if without is not None:
        found.pop(without.pk, None)
    return list(found.values())


def _payload_hash(act: NewAct, kind: str, on: Iterable[LivingThing], said: dict[str, Any]) -> str:
    payload = {
        "kind": kind,
        "on": [thing.pk for thing in on],
        "day": [act.day.first, act.day.last, act.day.said] if act.day else None,
        "at": act.at,
        "note": act.note,
        "replaces": act.replaces.pk if act.replaces else None,
        "said": said,
    }
    return hashlib.sha256(json.dumps(payload, sort_keys=True, default=_plain).encode()).hexdigest()


def _plain(value: Any) -> Any:
    if isinstance(value, Model):
        return value.pk
    if isinstance(value, set | frozenset | tuple):
        return list(value)
    return str(value)
