"""Timings are settings, not acts: owners change them in place, and each says where it comes from."""

from collections.abc import Iterable
from dataclasses import asdict, dataclass, fields

from django.db import transaction
from django.utils import timezone

from breeding.models import Expectation, LeftOut
from breeding.science.shipped import Shipped, shipped
from nursery.models import HouseEvent, Person, Taxon
from nursery.records import rights, rows


@dataclass(frozen=True)
class TimingFacts:
    """What a timing says: its 80% window and graces in days, the accepted risk as a share, and where it comes from.

    The nursery's log learns on top of the window, unless it is to be used ``as_it_stands``.
    """

    low: int
    high: int
    grace_plain: int
    grace_bagged: int
    risk: float
    longest_gap: int
    source: str
    strength: str
    note: str = ""
    as_it_stands: bool = False


@transaction.atomic
def expectation_added(*, by: Person, step: str, taxon: Taxon, facts: TimingFacts) -> Expectation:
    """Give one taxon a timing of its own for a step; for all others the common one stays.

    Raises:
        Refused: this taxon has one for this step already, or a value cannot be.
        ValueError: no such step.
    """
    rights.must_be_owner(by)
    row = Expectation(step=shipped(step).step, taxon=taxon)
    return _written(row, facts)


@transaction.atomic
def expectation_changed(*, by: Person, expectation: Expectation, facts: TimingFacts) -> Expectation:
    """Change a timing; tasks follow it from the next look at the round."""
    rights.must_be_owner(by)
    return _written(Expectation.objects.select_for_update().get(pk=expectation.pk), facts)


@transaction.atomic
def expectation_reset(*, by: Person, expectation: Expectation) -> Expectation:
    """Put a common timing back to what Tepal ships; a taxon's own one is taken out, so that the common one holds.

    Returns:
        The common timing that holds from now on.
    """
    rights.must_be_owner(by)
    if expectation.taxon_id is None:
        return _written(Expectation.objects.select_for_update().get(pk=expectation.pk), shipped_facts(expectation.step))
    expectation.delete()
    return Expectation.objects.get(step=expectation.step, taxon=None)


@transaction.atomic
def risk_accepted(*, by: Person, steps: Iterable[str], risk: float) -> int:
    """Accept that this share is lost unseen, for these steps of all taxa. Returns how many timings it is in.

    Raises:
        Refused: no owner, or no share between 0 and a half.
    """
    rights.must_be_owner(by)
    found = list(Expectation.objects.select_for_update().filter(step__in=list(steps)).order_by("pk"))
    for row in found:
        row.risk = risk
        rows.check_row(row)
        row.save(update_fields=["risk"])
    return len(found)


@transaction.atomic
def time_left_out(*, by: Person, event: HouseEvent, left_out: bool) -> LeftOut:
    """Leave the time of something in the log of a place out of what is learned, or let it count again."""
    rights.must_be_owner(by)
    row = LeftOut.objects.select_for_update().filter(event=event).first() or LeftOut(event=event)
    row.left_out, row.by, row.changed_at = left_out, by, timezone.now()
    row.save()
    return row


def shipped_facts(step: str) -> TimingFacts:
    """What Tepal ships for a step."""
    return _facts_from(shipped(step))


def facts_of(expectation: Expectation) -> TimingFacts:
    return _facts_from(expectation)


def _facts_from(row: Expectation | Shipped) -> TimingFacts:
    return TimingFacts(**{one.name: getattr(row, one.name) for one in fields(TimingFacts) if hasattr(row, one.name)})


def _written(row: Expectation, facts: TimingFacts) -> Expectation:
    for name, value in asdict(facts).items():
        setattr(row, name, value)
    rows.check_row(row)
    row.save()
    return row
