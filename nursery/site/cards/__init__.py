"""The card of a thing: what it is, where, how far, what to record of it, what belongs to it. A module per kind."""

from datetime import date

from nursery.models import LivingThing, Person
from nursery.site.cards import clones, places, plants, pollen, pots, routines, sections, seed, sowing, spikes
from nursery.site.cards.parts import Card

CARDS = {
    "place": places.card,
    "clone": clones.card,
    "plant": plants.card,
    "spike": spikes.card,
    "section": sections.card,
    "pollenlot": pollen.card,
    "seedlot": seed.card,
    "seedpot": pots.card,
    "sowingsession": sowing.card,
    "routine": routines.card,
}
"""A cross has no card of its own: its page is its story (``nursery.site.crosses``)."""


def card_of(thing: LivingThing, person: Person, today: date) -> Card:
    """The card of a thing fetched by ``nursery.site.fetch``; for a viewer without what records."""
    card = CARDS[thing.kind](thing, today)
    return card if person.may_record else card.without_acts()
