"""Who came from a plant, down the records: cuttings, pollen, sections, seed, pots, and clones raised from its clone."""

from collections import defaultdict
from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date
from typing import Any

from django.db.models import Q

from breeding.models import PollenLot, Pollinated, Section, SeedLot, SeedPot, Spike
from breeding.records.parts import with_parts
from nursery.days import Day
from nursery.models import ActLink, Clone, LivingThing, Plant, PlantArrived
from nursery.site.traces.parts import Trace, trace_of

Reasons = dict[int, str]
FROM_IT, FROM_A_CUTTING = "taken from it", "taken from a cutting of it"


@dataclass(frozen=True)
class CameFrom:
    """What came from a plant, by id, with the reason."""

    plants: Reasons
    pollen: Reasons
    sections: Reasons
    seed: Reasons
    pots: Reasons
    clones: Reasons


def offspring(plant: Plant, today: date) -> list[Trace]:
    """A trace for each kind, in a number of queries that grows only with how often a packet was split again."""
    found = came_from(plant, today)
    lists = (
        ("Struck from it", found.plants, "plant"),
        ("Pollen taken from it", found.pollen, "pollenlot"),
        ("Sections on it, or with its pollen", found.sections, "section"),
        ("Seed of these", found.seed, "seedlot"),
        ("Pots sown from that seed", found.pots, "seedpot"),
        ("Clones raised from its clone", found.clones, "clone"),
    )
    return [
        trace_of(title, list(reasons.items()), [kind], today, empty="None, as far as the books know.")
        for title, reasons, kind in lists
    ]


def came_from(plant: Plant, today: date) -> CameFrom:
    """Cuttings of cuttings count too, and what was pollinated on them or with their pollen."""
    mothers = _struck()
    plants = _cuttings(plant.pk, mothers, today)
    spikes = dict(Spike.objects.filter(plant__in=[plant.pk, *plants], cancelled=False).values_list("pk", "plant"))
    pollen = _pollen(spikes, plant.pk, today)
    sections = _sections(spikes, pollen, plant.pk, today)
    lots = SeedLot.objects.filter(section__in=sections)
    seed = _born(lots.filter(split_from=None), "harvested from one of these sections", today)
    seed |= _born(lots.exclude(split_from=None), "split off from that seed", today)
    of_seed = SeedPot.objects.filter(lot__in=seed, unsown=False)
    pots = _born(of_seed.filter(split_from=None), "sown from that seed", today)
    pots |= _born(of_seed.exclude(split_from=None), "split off from a pot of that seed", today)
    return CameFrom(plants, pollen, sections, seed, pots, _raised(plant.clone_id))


def _struck() -> dict[int, list[tuple[int, Day]]]:
    """Every cutting there is, with its day, by the plant it was struck from."""
    told = PlantArrived.objects.filter(struck_from__isnull=False, act__voided_by__isnull=True).order_by("act__thing")
    columns = ("struck_from", "act__thing", "act__day_first", "act__day_last", "act__said")
    found: dict[int, list[tuple[int, Day]]] = defaultdict(list)
    for mother, cutting, first, last, said in told.values_list(*columns):
        found[mother].append((cutting, Day(first, last, said)))
    return found


def _cuttings(plant: int, struck: Mapping[int, list[tuple[int, Day]]], today: date) -> Reasons:
    found: Reasons = {}
    waiting = [(plant, "struck from it")]
    while waiting:
        mother, words = waiting.pop(0)
        for cutting, day in struck.get(mother, []):
            if cutting != plant and cutting not in found:
                found[cutting] = f"{words}, {day.words(today)}"
                waiting.append((cutting, "struck from a cutting of it"))
    return found


def _pollen(spikes: Mapping[int, int], plant: int, today: date) -> Reasons:
    """Lots taken from these spikes, mixed ones too, and what was split off from them."""
    links = ActLink.objects.filter(thing__in=spikes, act__kind="pollen_collected", act__voided_by__isnull=True)
    columns = ("act__thing", "thing", "act__day_first", "act__day_last", "act__said")
    found: Reasons = {}
    for lot, spike, *day in links.order_by("act__thing").values_list(*columns):
        whose = FROM_IT if spikes[spike] == plant else FROM_A_CUTTING
        found.setdefault(lot, f"{whose}, {Day(*day).words(today)}")
    for part in with_parts(PollenLot.objects.filter(pk__in=found)):
        found.setdefault(part.pk, f"{found.get(part.split_from_id, '')}, split off since")
    return _counting(PollenLot, found)


def _sections(spikes: Mapping[int, int], pollen: Reasons, plant: int, today: date) -> Reasons:
    dabs = Pollinated.objects.filter(act__voided_by__isnull=True).order_by("act__thing", "act__recorded_at")
    dabs = dabs.filter(Q(act__thing__section__spike__in=spikes) | Q(lot__in=pollen) | Q(from_spike__in=spikes))
    columns = ("act__thing", "act__thing__section__spike", "lot", "from_spike")
    days = ("act__day_first", "act__day_last", "act__said")
    found: Reasons = {}
    for section, spike, lot, fresh, *day in dabs.values_list(*columns, *days):
        if spike in spikes:
            words = "on it" if spikes[spike] == plant else "on a cutting of it"
        else:
            is_hers = pollen.get(lot, "").startswith(FROM_IT) or spikes.get(fresh) == plant
            words = "with its pollen" if is_hers else "with pollen of a cutting of it"
        found.setdefault(section, f"{words}, pollinated {Day(*day).words(today)}")
    return _counting(Section, found)


def _counting(model: type[LivingThing], found: Reasons) -> Reasons:
    """Without what was undone."""
    counting = model.objects.filter(pk__in=found, cancelled=False).order_by("pk")
    return {pk: found[pk] for pk in counting.values_list("pk", flat=True)}


def _born(rows: Any, words: str, today: date) -> Reasons:
    """Each with the day of the act that made it."""
    columns = ("pk", "thing__born_by__day_first", "thing__born_by__day_last", "thing__born_by__said")
    told = rows.filter(cancelled=False).order_by("pk").values_list(*columns)
    return {pk: f"{words}, {Day(first, last, said).words(today)}" for pk, first, last, said in told}


def _raised(clone: int) -> Reasons:
    """Clones of which hers is an ancestor; from which of its plants they came, a clone does not say."""
    children: dict[int, list[int]] = defaultdict(list)
    pairs = Clone.objects.filter(cancelled=False).order_by("pk").values_list("pk", "seed_parent", "pollen_parent")
    for child, *parents in pairs:
        for parent in {*parents} - {None}:
            children[parent].append(child)
    found: Reasons = {}
    waiting: list[tuple[int, str]] = [(clone, "a parent is its clone")]
    while waiting:
        parent, words = waiting.pop(0)
        for child in children.get(parent, []):
            if child != clone and child not in found:
                found[child] = f"{words}; from which of its plants is not on record"
                waiting.append((child, "an ancestor is its clone"))
    return found
