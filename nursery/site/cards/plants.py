from dataclasses import replace
from datetime import date

from django.urls import reverse

from breeding.words.ages import plural
from breeding.words.names import name_parts
from nursery.links import act_url, thing_url
from nursery.models import Plant
from nursery.site.cards.blooming import evidence, history
from nursery.site.cards.descent import appendix
from nursery.site.cards.parts import (
    MOST_ROWS,
    Card,
    Detail,
    Fact,
    Listing,
    Row,
    acts_of,
    details,
    listing,
    named,
    row_of,
)
from nursery.site.fetch import OPEN_FIRST, listed, things


def card(plant: Plant, today: date) -> Card:
    """One pot of a clone: its spikes, open ones first."""
    spikes = listed(things("spike").filter(plant=plant, cancelled=False).order_by(OPEN_FIRST, "-pk")[: MOST_ROWS + 1])
    under_way = sum(spike.is_open for spike in spikes)
    sex = {"": "not known", "unclear": "both?"}.get(plant.clone.sex, plant.clone.sex)
    return Card(
        section="plants",
        facts=[
            Fact(sex, "sex of its clone"),
            Fact(str(under_way), "open spikes"),
            Fact(plant.pot or "not said", "pot"),
        ],
        acts=acts_of(plant, *_own_acts(plant)),
        details=_details(plant),
        lists=[_spikes(plant, spikes, today), _rests_on(plant, spikes, today)],
        history=history(spikes, today),
    )


def _own_acts(plant: Plant) -> list[tuple[str, str]]:
    if not plant.is_open:
        return [("Result of a sample", "result")]
    kept = ("Out of quarantine", "release") if plant.quarantine else ("Quarantine", "quarantine")
    first = [("Spike found", "spike"), ("Cutting taken", "cutting"), ("Move", "move"), ("It is gone", "gone")]
    return [*first, kept, ("Sample sent", "sample"), ("Result of a sample", "result")]


def _details(plant: Plant) -> list:
    clone = plant.clone
    return details(
        ("", named("Clone", clone)),
        ("", named("Seed parent", clone.seed_parent)),
        ("", named("Pollen parent", clone.pollen_parent)),
        ("Origin", _origin(plant)),
        ("CITES", appendix(clone)),
        ("", _trace(plant)),
    )


def _trace(plant: Plant) -> Detail:
    """The way to whom a virus may have reached from it."""
    words = "who stood near, who came from it, who was cut after it"
    return Detail("Trace", words, url=reverse("trace", args=[plant.pk]))


def _origin(plant: Plant) -> str:
    clone = plant.clone
    return ", ".join(part for part in (clone.get_origin_display(), clone.source) if part)


def _spikes(plant: Plant, spikes: list, today: date) -> Listing:
    return listing(
        f"Its {plural(len(spikes), 'spike')}" if 0 < len(spikes) <= MOST_ROWS else "Its spikes",
        [row_of(spike, today, text=spike_words(spike)) for spike in spikes],
        empty="No spike was found on it yet.",
        url=act_url(plant, "spike") if plant.is_open else "",
        label="I found a spike",
    )


def _rests_on(plant: Plant, spikes: list, today: date) -> Listing:
    """The readings of its own spikes; where the sex of its clone was read on other plants only, the way to those."""
    own = evidence(spikes, today)
    if own.rows or not plant.clone.sex:
        return own
    clone = Row(
        thing_url(plant.clone), name_parts=tuple(name_parts(plant.clone)), sub="read on spikes of its other plants"
    )
    return replace(own, rows=(clone,))


def spike_words(spike) -> str:
    """A spike without the name of its plant: "Spike, second from the top"."""
    return f"Spike, {spike.position}" if spike.position else "Spike"
