"""A row of a section with pods: the spike it is on, the pollen that went on, and how far its pods are."""

from django.db.models import F

from breeding.models import PollenLot, Section, Spike
from breeding.records.pods import bagged, pods_looked_at, take_read
from breeding.records.pollen import pollen_finished, pollen_received
from breeding.records.sections import section_pollinated
from breeding.records.spikes import spike_found
from nursery.models import Clone, Place, Plant
from nursery.records.plants import plant_arrived
from nursery.site.moving.clones import name_of
from nursery.site.moving.making import refused, thing_of
from nursery.site.moving.places import path_words
from nursery.site.moving.rows.books import Books
from nursery.site.moving.tables.columns import Told
from nursery.site.moving.tables.errors import quoted
from nursery.site.moving.tables.names import may_be_several


def bring(books: Books, told: Told) -> str:
    """Bring one row in; what it made, in words."""
    spike = _spike(books, told)
    lot = _pollen(books, told)
    day = told.day("pollinated")
    facts = {"tie": told.words("tie"), "flowers": told.value("flowers"), "tag": told.value("tag")}
    section = thing_of(books.record(section_pollinated, "dab", day=day, spike=spike, lot=lot, **facts))
    if lot is not None:
        books.record(pollen_finished, "pollen finished", lot=lot)
    _looks(books, told, section)
    books.remark(section, told.remark)
    on = name_of(spike.plant.clone)
    return f"a section on {on}, {_father(lot)}{books.told_day(day, 'pollinated')}"


def _father(lot: PollenLot | None) -> str:
    if lot is None:
        return "father unknown"
    return f"pollen of {name_of(lot.clone) if lot.clone else lot.words}"


def _looks(books: Books, told: Told, section: Section) -> None:
    day, pods = told.day("looked"), told.value("pods")
    if told.words("take"):
        # Where pods are told of too, the day and the number are of that look: take was read some time before it.
        alone = {} if told.words("seen") else {"day": day, "pods": pods}
        books.record(take_read, "take", section=section, swelling=told.words("take"), **alone)
    if told.words("seen"):
        facts = {"seen": told.words("seen"), "bagged": told.value("bagged"), "pods_left": pods}
        books.record(pods_looked_at, "pods", day=day, section=section, **facts)
    elif told.value("bagged"):
        books.record(bagged, "bagged", day=day, section=section)
    if pods is not None and not told.words("take") and not told.words("seen"):
        raise refused("pods", "Pods are counted, but how they are is not told. Say how they are, or “can't tell”.")


def _pollen(books: Books, told: Told) -> PollenLot | None:
    """The pollen that went on, as a packet that is used up; None where nobody knows whose it was."""
    text = told.words("pollen_parent")
    several = may_be_several(text)
    clone = None if several else books.clones.parent(text, "pollen_parent")
    if clone is None and not several:
        return None
    return thing_of(books.record(pollen_received, "pollen", clone=clone, words=text if several else ""))


def _spike(books: Books, told: Told) -> Spike:
    """The spike of a row: an earlier row's of the same plant and word, or a new one. Pods say that it is female."""
    plant = _plant(books, told)
    word = told.words("spike")
    key = (plant.pk, word.casefold())
    if word and key in books.spikes:
        return books.spikes[key]
    known = _spike_of_the_same_table(books, plant, word) if word else None
    if known is not None:
        books.spikes[key] = known
        return known
    seen = "over" if told.words("take") or told.words("seen") else "cant_tell"
    facts = {"plant": plant, "position": word, "seen": seen, "sex": "female", "sex_from": "flowers"}
    books.spikes[key] = thing_of(books.record(spike_found, "spike", **facts))
    return books.spikes[key]


def _spike_of_the_same_table(books: Books, plant: Plant, word: str) -> Spike | None:
    """The spike that an earlier table made by this word, where this table is that one grown longer."""
    made = Spike.objects.filter(thing__born_by__imported__moving__in=books.making.grown_from, cancelled=False)
    return made.filter(plant=plant, position__iexact=word).first()


def _plant(books: Books, told: Told) -> Plant:
    """The plant of this clone, in that place if one is told; one is entered where there is none."""
    text = told.words("plant")
    if not text:
        raise refused("plant", "Say which clone the section is on; “unknown” will not do, it must be found again.")
    clone = books.clones.parent(text, "plant")
    if clone is None:
        raise refused("plant", f"{quoted(text)} names no clone. Give the plant a name, and change it later.")
    place = books.places.of(told.words("place"))
    key = (clone.pk, place and place.pk)
    if key not in books.plants:
        books.plants[key] = _standing(books, clone, place) or thing_of(
            books.record(plant_arrived, "plant", clone=clone, place=place)
        )
    return books.plants[key]


def _standing(books: Books, clone: Clone, place: Place | None) -> Plant | None:
    """The plant of this clone in this place; where none is told, one that stands nowhere, else any."""
    of_this_import = books.making.moving.acts.values("act")
    plants = Plant.objects.filter(clone=clone, cancelled=False, closed_on__isnull=True)
    plants = plants.exclude(thing__born_by__in=of_this_import).order_by(F("place").asc(nulls_first=True), "pk")
    here = list(plants.filter(place=place) if place else plants)
    if place and not here and plants:
        books.making.note(_elsewhere(clone, plants[0], place))
    if len(here) > 1:
        books.making.note(
            f"Several plants of {name_of(clone)} may be meant; it is put on the first. Say in which place it stands."
        )
    return here[0] if here else None


def _elsewhere(clone: Clone, plant: Plant, place: Place) -> str:
    """That the row enters one more plant of a clone, which may not be what was meant."""
    where = f"stands in {path_words(plant.place)}" if plant.place else "is entered without a place"
    return (
        f"{name_of(clone)} {where}, not in {path_words(place)}. A second plant of it is entered there; "
        "if it is the same plant, put its own place in the row or leave the place empty."
    )
