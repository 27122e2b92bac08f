import uuid
from dataclasses import replace

from nursery.models import Act, Repair, Thing, Void
from nursery.records import locks, milestones, registry, rights, versions, voiding
from nursery.records.core import Entry, NewAct, recorded
from nursery.records.errors import Refused


@recorded
def undone(*, act: NewAct, target: Act) -> Act:
    """Undo an act of any kind. What it made is taken out of the lists, and nothing is erased.

    Of a correction, only that is taken back: the version before stands again, told again by whoever undoes.
    """
    things = voiding.things_of(target)
    version = versions.stands_again(target)
    if version is not None:
        # All at once and in their order, before the parts are locked one after the other.
        found = [*voiding.things_of(target), *voiding.things_of(version)]
        locks.lock([*found, *(below for thing in found for below in registry.below(thing))])
    entry = Entry(act, "void", on=things, said={"target": target.pk})
    if sent := entry.sent_before():
        return sent
    earlier = Void.objects.filter(target=target).select_related("act").first()
    if earlier:
        return earlier.act  # somebody else was quicker: it is undone, as was asked
    if target.kind == "void":
        raise Refused("undo_of_undo", "An undo cannot be undone. Record it again instead.")
    if not rights.may_undo(act.by, target, entry.today):
        raise Refused("not_yours", "Somebody else recorded this on another day. Ask them or an owner.")
    if version is not None:
        return versions.brought_back(version, act, target, payload_hash=entry.hash)
    # Asked again now that it is held: a correction that we waited for may have led it to other things.
    things = voiding.things_of(target)
    locks.lock(things)
    _bring_back_what_was_moved(act, target)
    for thing in _made_by(target):
        voiding.must_have_no_dependents(thing, besides=target)
    signed = {"by": act.by, "phone_of": act.phone_of, "recorded_at": entry.recorded_at}
    row = voiding.insert_void(target, id=act.id, payload_hash=entry.hash, **signed)
    milestones.rewrite(things, because=target.kind)
    return row


def _bring_back_what_was_moved(act: NewAct, target: Act) -> None:
    """With an exchange of tags goes back what was recorded through the wrong one; what was undone since stays so."""
    moved = Repair.objects.filter(swap__act=target, act__voided_by__isnull=True).select_related("act")
    for repair in moved.order_by("act__recorded_at", "pk"):
        undo = replace(act, id=uuid.uuid5(act.id, f"back {repair.act_id}"))
        versions.brought_back(versions.before(repair.act), undo, repair.act)


def _made_by(target: Act):
    """A cross is no reason to refuse: it is a pairing, and stays as long as anything else belongs to it."""
    return [registry.instance_of(thing) for thing in Thing.objects.filter(born_by=target).exclude(kind="cross")]
