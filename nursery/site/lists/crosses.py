from datetime import date
from typing import Any

from django.db.models import F

from breeding.words.ages import age, day_words
from nursery.site.lists.parts import Column, Empty, ThingList, standing


def _cross(cross: Any, today: date) -> list[str]:
    wanted = f"{cross.wanted:,}" if cross.wanted is not None else ""
    return [f"{cross.sections:,}", f"{cross.pots:,}", wanted, cross.family]


def _section(section: Any, today: date) -> list[str]:
    where = standing(section.spike)
    return [where, section.tie, age(section.day0_first, section.day0_last, today)]


def _pollen(lot: Any, today: date) -> list[str]:
    keeps = day_words(lot.best_before, today) if lot.best_before else ""
    return [lot.get_storage_display(), age(lot.collected_first, lot.collected_last, today), keeps]


LISTS = (
    ThingList(
        slug="crosses",
        code="cross",
        title="Crosses",
        section="crosses",
        under_way="all",
        empty=Empty(
            "flower", "Every cross will stand here, female parent first: those you made and those you wish for."
        ),
        columns=(
            Column("Sections", numeric=True),
            Column("Pots", numeric=True),
            Column("Wanted", numeric=True),
            Column("Family"),
        ),
        cells=_cross,
        add=("Add a cross", "crosses"),
    ),
    ThingList(
        slug="sections",
        code="section",
        title="Sections",
        section="crosses",
        under_way="under way",
        empty=Empty(
            "brush",
            "Pollinated sections will stand here until they are harvested. Open a spike in flower and tap “Pollinate”.",
            "/spikes/",
            "To the spikes",
        ),
        columns=(Column("Place"), Column("Tie"), Column("Days since", numeric=True)),
        cells=_section,
        order=(F("day0_first").asc(nulls_last=True), "pk"),
    ),
    ThingList(
        slug="pollen",
        code="pollenlot",
        title="Pollen",
        section="crosses",
        under_way="in store",
        empty=Empty("packet", "Pollen in store will stand here, the one that keeps least long first."),
        columns=(Column("Kept"), Column("Days old", numeric=True), Column("Good until about")),
        cells=_pollen,
        add=("Add pollen from elsewhere", "pollen"),
        order=(F("best_before").asc(nulls_last=True), "pk"),
    ),
)
