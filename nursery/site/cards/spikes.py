from datetime import date

from breeding.answers import asked_of
from breeding.models import Section, Spike
from breeding.words import facts
from breeding.words.stages import sex_words
from nursery.links import act_url
from nursery.site.cards.parts import MOST_ROWS, Card, acts_of, details, listing, named, row_of
from nursery.site.fetch import listed, things


def card(spike: Spike, today: date) -> Card:
    """A spike: what it shows, the sections on it from the bottom, the pollen taken from it."""
    sections = listed(things("section").filter(spike=spike, cancelled=False).order_by("order", "pk")[: MOST_ROWS + 1])
    taken = things("pollenlot").filter(thing__born_by__links__thing_id=spike.pk, cancelled=False)
    lots = listed(taken.order_by("-pk")[: MOST_ROWS + 1])
    dabbed_on = max((one.day0_last for one in sections if one.day0_last), default=None)
    rows = [row_of(one, today, sub=f"{section_words(one)}: {row_of(one, today).sub}") for one in sections]
    return Card(
        section="plants",
        facts=facts.spike(spike, today, dabbed_on=dabbed_on),
        asked=asked_of(spike),
        acts=acts_of(spike, *_own_acts(spike)),
        details=_details(spike),
        lists=[
            listing("Its sections, from the bottom", rows, empty=_no_section(spike), **_pollinate(spike)),
            listing("Pollen taken from it", [row_of(lot, today) for lot in lots]),
        ],
    )


def section_words(section: Section) -> str:
    """A section without its cross: "section 2, red tie"."""
    return f"section {section.order}, {section.tie}" if section.tie else f"section {section.order}"


def _own_acts(spike: Spike) -> list[tuple[str, str]]:
    if spike.cancelled:
        return []
    return [("Look in words", "look"), ("Take pollen", "collect"), ("Pollinate", "pollinate")]


def _details(spike: Spike) -> list:
    return details(
        ("", named("Plant", spike.plant)),
        ("Position", spike.position),
        ("Sex", sex_words(spike.sex, spike.sex_from)),
        ("Clone", sex_words(spike.plant.clone.sex) and f"{sex_words(spike.plant.clone.sex)}, from all its spikes"),
    )


def _no_section(spike: Spike) -> str:
    return "" if spike.sex == "male" else "Nothing was pollinated on it yet."


def _pollinate(spike: Spike) -> dict[str, str]:
    if not spike.is_open or spike.sex == "male":
        return {}
    return {"url": act_url(spike, "pollinate"), "label": "Pollinate a section"}
