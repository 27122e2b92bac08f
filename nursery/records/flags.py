from nursery.models import Act, Flag, Settled
from nursery.records import registry
from nursery.records.core import Entry, NewAct, recorded


def open_flags():
    """Contradictions that nobody settled, of acts that still count, oldest first; a queryset."""
    of_acts_that_count = Flag.objects.filter(act__voided_by__isnull=True)
    return of_acts_that_count.exclude(pk__in=_settled().values("flag")).order_by("act__recorded_at", "pk")


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
