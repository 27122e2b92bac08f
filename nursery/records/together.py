"""Several acts that one tap records: one for each thing, all or none, and taken back by one undo."""

import uuid
from collections.abc import Callable, Sequence
from dataclasses import replace

from django.db import transaction

from nursery.models import Act, LivingThing, Together
from nursery.records import locks, voiding
from nursery.records.core import NewAct
from nursery.records.errors import AlreadySent
from nursery.records.undo import undone


def act_id_of(submit: uuid.UUID, thing: LivingThing) -> uuid.UUID:
    """The UUID of a thing's own act: the same tap gives it again."""
    return uuid.uuid5(submit, str(thing.pk))


@transaction.atomic
def recorded_together(
    *, submit: uuid.UUID, things: Sequence[LivingThing], record: Callable[[LivingThing, uuid.UUID], Act]
) -> list[Act]:
    """Record one act for each thing by ``record(thing, id)``; all are held first, in the one order of locks.

    Raises:
        AlreadySent: this tap is on record with other things or other values.
        Refused: for one of them; then nothing is recorded of any.
    """
    things = sorted(things, key=locks.rank)
    locks.lock(things)
    ids = {act_id_of(submit, thing) for thing in things}
    _must_be_the_same_tap(submit, ids)
    acts = [record(thing, act_id_of(submit, thing)) for thing in things]
    known = set(Together.objects.filter(submit=submit).values_list("act_id", flat=True))
    Together.objects.bulk_create(Together(act=act, submit=submit) for act in acts if act.pk not in known)
    return acts


@transaction.atomic
def undone_together(*, act: NewAct, submit: uuid.UUID) -> list[Act]:
    """Undo all acts of a tap that still count; returns the undos, none where all were undone before.

    Raises:
        Refused: one of them cannot be undone; then none is.
    """
    targets = list(acts_of(submit).filter(voided_by__isnull=True))
    locks.lock(thing for target in targets for thing in voiding.things_of(target))
    return [undone(act=replace(act, id=uuid.uuid5(act.id, str(target.pk))), target=target) for target in targets]


def acts_of(submit: uuid.UUID):
    """The acts of a tap, in the order in which they were recorded; a queryset."""
    return Act.objects.filter(together__submit=submit).order_by("together__pk")


def submit_of(act: Act) -> uuid.UUID | None:
    """The tap that recorded this act together with others, if one did."""
    return Together.objects.filter(act=act).values_list("submit", flat=True).first()


def _must_be_the_same_tap(submit: uuid.UUID, ids: set[uuid.UUID]) -> None:
    before = list(acts_of(submit))
    if before and {act.pk for act in before} != ids:
        raise AlreadySent(before[0])
