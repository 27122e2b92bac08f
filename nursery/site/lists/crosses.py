from datetime import date
from typing import Any

from django.db.models import (
    Case,
    Count,
    DateField,
    Exists,
    F,
    IntegerField,
    Max,
    OuterRef,
    Q,
    QuerySet,
    Subquery,
    When,
)
from django.db.models.functions import Coalesce, Greatest

from breeding.models import Section, SeedLot, SeedPot
from breeding.words.ages import age, day_words
from nursery.site import fetch
from nursery.site.lists.parts import Column, Empty, ThingList, standing


def _cross(cross: Any, today: date) -> list[str]:
    wanted = f"{cross.wanted:,}" if cross.wanted is not None else ""
    latest = day_words(cross.latest, today) if cross.latest > date.min else ""
    running = f" ({cross.running:,} under way)" if cross.running else ""
    return [latest, f"{cross.sections:,}{running}", f"{cross.pots:,}", wanted, cross.family]


def _how_it_goes(crosses: QuerySet[Any]) -> QuerySet[Any]:
    """Each with how many of its sections are under way, whether anything of it is, and when that was last told of.

    By the days kept with each section, lot and pot: to ask their acts would take longer the longer a nursery keeps
    its books.
    """
    sections = Section.objects.filter(cancelled=False, cross=OuterRef("pk"))
    lots = SeedLot.objects.filter(cancelled=False, cross=OuterRef("pk"))
    pots = SeedPot.objects.filter(cancelled=False, unsown=False, lot__cross=OuterRef("pk"))
    growing = sections.filter(closed_on__isnull=True, **fetch.PLANT_IS_THERE["section"])
    going_on = (Exists(growing), *(Exists(rows.filter(closed_on__isnull=True)) for rows in (lots, pots)))
    days = (
        _latest(sections, "cross", "day0_last", "last_look", "closed_on"),
        _latest(lots, "cross", "ripe_last", "last_look", "closed_on"),
        _latest(pots, "lot__cross", "sown_last", "last_look", "closed_on"),
    )
    return crosses.annotate(
        running=Coalesce(Subquery(growing.order_by().values("cross").annotate(n=Count("pk")).values("n")), 0),
        goes_on=Case(When(Q(*going_on, _connector=Q.OR), then=1), default=0, output_field=IntegerField()),
        latest=Greatest(*(Coalesce(day, date.min) for day in days)),
    )


def _latest(rows: QuerySet[Any], cross: str, *days: str) -> Subquery:
    """The last of these days of all the rows of one cross."""
    last = Max(Greatest(*(Coalesce(day, date.min, output_field=DateField()) for day in days)))
    return Subquery(rows.order_by().values(cross).annotate(last=last).values("last"), output_field=DateField())


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
            Column("Last told of"),
            Column("Sections", numeric=True),
            Column("Pots", numeric=True),
            Column("Wanted", numeric=True),
            Column("Family"),
        ),
        cells=_cross,
        add=("Add a cross", "crosses"),
        order=("-goes_on", "-latest", "-pk"),
        with_more=_how_it_goes,
        lead="What is under way stands first, by when it was last told of.",
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
