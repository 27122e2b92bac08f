from datetime import date

from breeding.answers import asked_of
from breeding.models import PollenLot, Pollinated
from breeding.words import facts
from nursery.links import thing_url
from nursery.site.cards.parts import MOST_ROWS, Card, Detail, acts_of, details, listing, named, row_of
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
        acts=acts_of(lot, *_own_acts(lot)),
        details=details(
            ("", named("Clone", lot.clone)),
            ("In words", lot.words),
            ("Kept", lot.get_storage_display()),
            ("", Detail("Split from", "the first packet", url=thing_url(lot.split_from)) if lot.split_from else None),
        ),
        lists=[
            listing("It went on", [row_of(one, today) for one in sections], empty="Not used yet."),
            listing("Split off from it", [row_of(one, today, text="Packet") for one in _parts(lot)]),
        ],
    )


def _own_acts(lot: PollenLot) -> list[tuple[str, str]]:
    if lot.cancelled:
        return []
    return [("Put elsewhere", "store"), ("Send it", "send"), ("Split off a part", "split")]


def _parts(lot: PollenLot) -> list:
    parts = things("pollenlot").filter(split_from=lot.pk, cancelled=False)
    return listed(parts.order_by("pk")[: MOST_ROWS + 1])
