"""The versions of an act: those that corrections made, and those that an undo told again."""

import uuid

from nursery.days import Day
from nursery.models import Act, Void
from nursery.records import registry
from nursery.records.core import Again, NewAct


def id_told_again(undo_id: uuid.UUID) -> uuid.UUID:
    """The id of the act that an undo tells again: made from its own, so that a second sending makes no second."""
    return uuid.uuid5(undo_id, "again")


def is_told_again(act: Act) -> bool:
    """Whether an undo told this act again; then what it replaces was no mistake of its own, but was undone."""
    if act.replaces_id is None:
        return False
    undo = Void.objects.filter(target=act.replaces_id).values_list("act_id", flat=True).first()
    return undo is not None and act.pk == id_told_again(undo)


def stands_again(act: Act) -> Act | None:
    """The version that an undo of this act brings back; None where the undo takes it out altogether."""
    return before(act) if registry.back(act.kind) else None


def before(act: Act) -> Act | None:
    """The version that this one took the place of; None for the first.

    What was told again stands for the version that it tells, so that undoing goes back and never forth.
    """
    if act.replaces is None or not is_told_again(act):
        return act.replaces
    told = before(act.replaces)
    return before(told) if told else None


def brought_back(version: Act, undo: NewAct, target: Act, *, payload_hash: str = "") -> Act:
    """Tell a version once more in place of ``target``, which is undone by that; gives the row of the undo."""
    record, facts = registry.back(version.kind)(version)
    new = NewAct(
        id=id_told_again(undo.id),
        by=undo.by,
        day=Day(version.day_first, version.day_last, version.said),
        at=version.at,
        note=version.note,
        replaces=target,
        recorded_at=undo.recorded_at,
        phone_of=undo.phone_of,
        again=Again(version, undo.id, payload_hash),
    )
    record(act=new, **facts)
    return Act.objects.get(pk=undo.id)
