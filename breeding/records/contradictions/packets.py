"""What goes on or away of a pollen packet, and does not agree with when it was collected and finished."""

from breeding.models import PollenLot, Spike
from breeding.records.contradictions.early import too_early
from breeding.records.parts import whole_of
from nursery.days import Day
from nursery.models import Act, Plant
from nursery.records.core import Contradiction
from nursery.records.milestones import without as apart
from nursery.records.prepared import Prepared
from nursery.records.quarantine import quarantine_contradictions

_SPIKES_OF_LOT = Prepared(
    lambda ids: (
        Spike.objects.filter(thing__links__act__kind="pollen_collected", thing__links__act__births__in=ids)
        .select_related("plant__clone")
        .order_by("pk")
    )
)


def packet_contradictions(lot: PollenLot, day: Day, *, without: Act | None = None) -> list[Contradiction]:
    """For what goes on or away of a packet: older than its collecting, or after it was finished."""
    lot = apart(lot, without)
    flags = too_early(day, lot.collected_first, "pollen_not_yet", "This pollen was collected later than that day.")
    if lot.closed_on and day.first and day.first > lot.closed_on:
        flags.append(Contradiction("pollen_was_finished", "This pollen was finished before that day."))
    return flags


def pollen_sent_contradictions(lot: PollenLot, day: Day, *, without: Act | None = None) -> list[Contradiction]:
    """Pollen of a plant that is kept apart carries to others what the plant is kept apart for."""
    kept = quarantine_contradictions(plants_of_pollen(lot, None), day)
    return [*kept, *packet_contradictions(lot, day, without=without)]


def plants_of_pollen(lot: PollenLot | None, from_spike: Spike | None) -> list[Plant]:
    """The plants here that the pollen was taken from, whole or split off; none for pollen from elsewhere."""
    if from_spike is not None:
        return [from_spike.plant]
    return [spike.plant for spike in _SPIKES_OF_LOT.objects([whole_of(lot).pk])] if lot else []
