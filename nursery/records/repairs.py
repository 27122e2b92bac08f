"""Putting right what a flag says, by an act; while that act counts, the flag is settled."""

from collections.abc import Callable, Sequence

from nursery.models import Act, Flag, Repair
from nursery.records import locks, registry
from nursery.records.core import NewAct, recorded
from nursery.records.errors import Refused
from nursery.records.flags import open_flags


@recorded
def repaired(*, act: NewAct, flag: Flag, record: Callable[[NewAct], Act], brings: Sequence[str] = ()) -> Act:
    """Record an act that puts right what a flag says. Somebody else's repair, a moment earlier, is the repair.

    ``brings`` are the reasons for which the repair itself may be flagged because it is one: they are settled with it.

    Raises:
        Refused: the record was refused, or somebody has settled the flag meanwhile.
    """
    locks.lock([registry.instance_of(flag.thing)])
    earlier = Repair.objects.filter(flag=flag, act__voided_by__isnull=True).select_related("act").first()
    if earlier and earlier.act_id != act.id:
        return earlier.act
    if earlier is None and not open_flags().filter(pk=flag.pk).exists():
        raise Refused("sorted_out", "Somebody has sorted this out already.")
    done = record(act)
    for one in [flag, *done.flags.filter(code__in=brings)]:
        Repair.objects.get_or_create(flag=one, act=done)
    return done
