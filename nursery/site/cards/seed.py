from datetime import date

from breeding.answers import asked_of
from breeding.models import SeedLot
from breeding.words import facts
from breeding.words.ages import days_words, plural
from nursery.links import act_url, thing_url
from nursery.site.cards.parts import (
    MOST_ROWS,
    Card,
    Detail,
    Listing,
    acts_of,
    details,
    listing,
    named,
    pots_of_acts,
    printing,
    row_of,
)
from nursery.site.cards.spikes import section_words
from nursery.site.fetch import listed, things


def card(lot: SeedLot, today: date) -> Card:
    """A bag or packet of seed: how much was told, and the pots sown from it."""
    pots = listed(things("seedpot").filter(lot=lot, cancelled=False).order_by("pk")[: MOST_ROWS + 1])
    own = (
        []
        if lot.cancelled
        else [("Estimate again", "clean"), ("Sow", "sow"), ("Send it", "send"), ("Split off a part", "split")]
    )
    return Card(
        section="seed",
        facts=facts.seed(lot, today),
        asked=asked_of(lot),
        acts=[*acts_of(lot, *own), *pots_of_acts(pots), *printing(pots)],
        details=_details(lot, pots, today),
        lists=[
            _pots(lot, pots, today),
            listing("Split off from it", [row_of(one, today, text="Seed") for one in _parts(lot)]),
        ],
    )


def _pots(lot: SeedLot, pots: list, today: date) -> Listing:
    sown = [pot for pot in pots if not pot.unsown and pot.split_from_id is None]
    up = sum(pot.stage == "up" for pot in sown)
    return listing(
        f"Its pots: {up} of {len(sown)} up" if sown and len(pots) <= MOST_ROWS else "Its pots",
        [row_of(pot, today, text="Seed pot", where=True) for pot in pots],
        empty="Nothing was sown from it yet.",
        url=act_url(lot, "sow") if lot.is_open else "",
        label="Sow from it",
    )


def _details(lot: SeedLot, pots: list, today: date) -> list:
    section = lot.section
    return details(
        ("", named("Cross", lot.cross)),
        ("", Detail("Cut from", section_words(section), url=thing_url(section)) if section else None),
        ("In words", lot.words),
        ("Harvested", days_words(lot.ripe_first, lot.ripe_last, today)),
        ("Kept", lot.get_storage_display()),
        ("", Detail("Split from", "the first lot", url=thing_url(lot.split_from)) if lot.split_from else None),
        ("Seeds sown", plural(lot.seeds_sown, "seed") if lot.seeds_sown else ""),
        ("Sent or split off", plural(lot.seeds_gone, "seed") if lot.seeds_gone else ""),
        ("Planned", _planned(lot, pots)),
        ("Left", _left(lot)),
    )


def _planned(lot: SeedLot, pots: list) -> str:
    """What prepared pots wait for; nothing of it is taken before they are sown."""
    all_of_them = pots if len(pots) <= MOST_ROWS else lot.pots.filter(unsown=True)
    waiting = [pot for pot in all_of_them if pot.unsown and pot.is_open]
    if not waiting:
        return ""
    seeds = sum(pot.planned_seeds or 0 for pot in waiting)
    amount = f", {plural(seeds, 'seed')}" if seeds else ""
    return f"{plural(len(waiting), 'pot')} prepared{amount}, nothing taken yet"


def _left(lot: SeedLot) -> str:
    """By the estimate, once something went out of it; never for a lot of which nobody estimated the seeds."""
    if lot.left is None or not (lot.seeds_sown or lot.seeds_gone) or lot.closed_on:
        return ""
    return f"about {plural(lot.left, 'seed')}, by the estimate"


def _parts(lot: SeedLot) -> list:
    parts = things("seedlot").filter(split_from=lot.pk, cancelled=False)
    return listed(parts.order_by("pk")[: MOST_ROWS + 1])
