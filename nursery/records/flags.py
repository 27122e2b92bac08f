from django.db.models import Exists, OuterRef

from nursery.models import Act, Flag, Repair, Settled, SettledTogether
from nursery.records import registry
from nursery.records.core import Entry, NewAct, recorded


def open_flags():
    """Contradictions that nobody settled, of acts that still count, oldest first; a queryset."""
    of_acts_that_count = Flag.objects.filter(act__voided_by__isnull=True)
    together = SettledTogether.objects.filter(
        act__voided_by__isnull=True, brought_by=OuterRef("act"), code=OuterRef("code")
    )
    repaired = Repair.objects.filter(act__voided_by__isnull=True, flag=OuterRef("pk"))
    still_open = (
        of_acts_that_count.exclude(pk__in=_settled().values("flag")).exclude(Exists(together)).exclude(Exists(repaired))
    )
    return still_open.order_by("act__recorded_at", "pk")


def _settled():
    return Settled.objects.filter(act__voided_by__isnull=True)


@recorded
def flag_settled(*, act: NewAct, flag: Flag) -> Act:
    """A person looked at a contradiction and says that it needs nothing more."""
    thing = registry.instance_of(flag.thing)
    entry = Entry(act, "flag_settled", on=[thing], said={"flag": flag.pk})
    if sent := entry.sent_before():
        return sent
    earlier = _settled().filter(flag=flag).select_related("act").first()
    if earlier:
        return earlier.act
    return entry.keep(thing, Settled(flag=flag))


@recorded
def flags_settled(*, act: NewAct, brought_by: Act, code: str) -> Act:
    """Settle all flags of one reason that one act brought, such as every tag to print again: one act, one undo."""
    thing = registry.instance_of(brought_by.thing)
    entry = Entry(act, "flags_settled", on=[thing], said={"brought_by": brought_by.pk, "code": code})
    if sent := entry.sent_before():
        return sent
    earlier = SettledTogether.objects.filter(act__voided_by__isnull=True, brought_by=brought_by, code=code)
    if known := earlier.select_related("act").first():
        return known.act
    return entry.keep(thing, SettledTogether(brought_by=brought_by, code=code))
