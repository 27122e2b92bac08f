from datetime import date
from typing import Any

from breeding.words.ages import day_words
from breeding.words.stages import sex_words
from nursery.site.lists.parts import Column, Empty, ThingList, standing


def _plant(plant: Any, today: date) -> list[str]:
    return [standing(plant), plant.pot, sex_words(plant.clone.sex)]


def _clone(clone: Any, today: date) -> list[str]:
    return [clone.get_origin_display(), clone.source]


def _spike(spike: Any, today: date) -> list[str]:
    looked = day_words(spike.last_look, today) if spike.last_look else ""
    return [standing(spike), spike.position, looked]


LISTS = (
    ThingList(
        slug="plants",
        code="plant",
        title="Plants",
        section="plants",
        under_way="here now",
        empty=Empty("plant", "Every plant you grow will stand here, with its tag, its place and the sex of its clone."),
        columns=(Column("Place"), Column("Pot"), Column("Sex")),
        cells=_plant,
        last="Gone",
        add=("Add a plant", "plants"),
    ),
    ThingList(
        slug="clones",
        code="clone",
        title="Clones",
        section="plants",
        under_way="all",
        empty=Empty("flower", "One line for each genotype: a species or hybrid with your own word for the individual."),
        columns=(Column("Origin"), Column("From")),
        cells=_clone,
        last="Sex",
        add=("Add a clone", "clones"),
    ),
    ThingList(
        slug="spikes",
        code="spike",
        title="Spikes",
        section="plants",
        under_way="under way",
        empty=Empty(
            "spike",
            "Spikes that grow or flower now will stand here. Open the plant a spike is on and tap “Spike found”.",
            "/plants/",
            "To the plants",
        ),
        columns=(Column("Place"), Column("Position"), Column("Last look")),
        cells=_spike,
    ),
)
