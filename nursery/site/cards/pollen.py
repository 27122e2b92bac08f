from datetime import date

from breeding.answers import asked_of
from breeding.models import PollenLot, Pollinated
from breeding.words import facts
from nursery.site.cards.parts import MOST_ROWS, Card, acts_of, details, listing, named, row_of
from nursery.site.fetch import listed, things


def card(lot: PollenLot, today: date) -> Card:
    """A packet of pollen: whose, where kept, how long it usually lasts, what it went on."""
    dabs = Pollinated.objects.filter(lot=lot, act__voided_by__isnull=True)
    went_on = things("section").filter(pk__in=dabs.values("act__thing_id"), cancelled=False)
    sections = listed(went_on.order_by("-pk")[: MOST_ROWS + 1])
    return Card(
        section="crosses",
        facts=facts.pollen(lot, today),
        asked=asked_of(lot),
        acts=acts_of(lot, *([] if lot.cancelled else [("Put elsewhere", "store")])),
        details=details(("", named("Clone", lot.clone)), ("In words", lot.words), ("Kept", lot.get_storage_display())),
        lists=[listing("It went on", [row_of(one, today) for one in sections], empty="Not used yet.")],
    )
