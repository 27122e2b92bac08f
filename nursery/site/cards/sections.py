from datetime import date

from breeding.answers import asked_of
from breeding.models import Section
from breeding.words import facts
from breeding.words.ages import days_words
from nursery.links import act_url
from nursery.site.cards.parts import MOST_ROWS, Card, Link, acts_of, details, listing, named, row_of
from nursery.site.fetch import listed, things


def card(section: Section, today: date) -> Card:
    """The part of a spike that one pollen went on: how its pods do, and the seed cut from it."""
    lots = listed(things("seedlot").filter(section=section, cancelled=False).order_by("pk")[: MOST_ROWS + 1])
    return Card(
        section="crosses",
        facts=facts.section(section, today),
        asked=asked_of(section),
        acts=[*_next_one(section), *acts_of(section, *_own_acts(section))],
        details=_details(section, today),
        lists=[listing("Seed cut from it", [row_of(lot, today, text="Seed") for lot in lots])],
    )


def _own_acts(section: Section) -> list[tuple[str, str]]:
    if section.cancelled:
        return []
    return [("Dab again", "dab"), ("Read the take", "take"), ("Look at the pods", "pods"), ("Harvest", "harvest")]


def _next_one(section: Section) -> list[Link]:
    """Until its take is read: sections are pollinated one after the other, without the way back to the spike."""
    if section.cancelled or section.stage != "pollinated" or not section.spike.is_open:
        return []
    return [Link("Pollinate the next section", act_url(section.spike, "pollinate"))]


def _details(section: Section, today: date) -> list:
    return details(
        ("", named("Cross", section.cross)),
        ("", named("On the spike of", section.spike)),
        ("Order", f"section {section.order} from the bottom"),
        ("Tie", section.tie),
        ("Pollinated", days_words(section.day0_first, section.day0_last, today)),
        ("Bag", "on" if section.bagged else ""),
    )
