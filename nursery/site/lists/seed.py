from datetime import date
from typing import Any

from django.db.models import F

from breeding.words.ages import age, day_words
from breeding.words.stages import seeds_words
from nursery.site.lists.parts import Column, Empty, ThingList, standing


def _lot(lot: Any, today: date) -> list[str]:
    return [
        seeds_words(lot),
        lot.get_storage_display(),
        age(lot.ripe_first, lot.ripe_last, today),
        f"{lot.pots_sown:,}",
    ]


def _pot(pot: Any, today: date) -> list[str]:
    counted = f"{pot.counted:,}" if pot.counted is not None else ""
    return [standing(pot), age(pot.sown_first, pot.sown_last, today), counted]


def _sowing(session: Any, today: date) -> list[str]:
    planned = day_words(session.planned_for, today)
    return [planned, standing(session), session.medium, f"{session.pots_sown:,} of {session.pots_planned:,}"]


LISTS = (
    ThingList(
        slug="seed",
        code="seedlot",
        title="Seed",
        section="seed",
        under_way="in store",
        empty=Empty("packet", "Harvested and received seed will stand here until it is sown."),
        columns=(Column("Seeds"), Column("Kept"), Column("Days old", numeric=True), Column("Pots sown", numeric=True)),
        cells=_lot,
        add=("Add seed from elsewhere", "seed"),
        also=("Plan a sowing", "sowings"),
    ),
    ThingList(
        slug="pots",
        code="seedpot",
        title="Seed pots",
        section="seed",
        under_way="watched",
        empty=Empty(
            "seedling",
            "Sown pots will stand here, the longest sown first. Open a seed lot and tap “Sow”.",
            "/seed/",
            "To the seed",
        ),
        columns=(Column("Place"), Column("Days sown", numeric=True), Column("Counted", numeric=True)),
        cells=_pot,
        order=(F("sown_first").asc(nulls_last=True), "pk"),
    ),
    ThingList(
        slug="sowings",
        code="sowingsession",
        title="Sowings",
        section="seed",
        under_way="under way",
        empty=Empty(
            "packet",
            "Sowing evenings will stand here: which seed goes into how many pots. The pots get their numbers when one "
            "is planned, so that their tags are printed before the first seed is touched.",
        ),
        columns=(Column("Planned for"), Column("Place"), Column("Medium"), Column("Sown", numeric=True)),
        cells=_sowing,
        add=("Plan a sowing", "sowings"),
        order=("planned_for", "pk"),
    ),
)
