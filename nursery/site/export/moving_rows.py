"""One row of each table that moving in takes, from a thing in the books."""

from collections import defaultdict
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from typing import Any

from django.db.models import F

from breeding.models import Cross, PollenLot, Pollinated, PotLook, Section, SeedLot, SeedPot
from breeding.models.pots import PotSeen
from breeding.records.parts import whole_of
from breeding.words.descent import cross_tree, pollen_tree
from nursery.days import Day
from nursery.models import Act, Clone, LivingThing, Plant, Remark, Tag, Taxon
from nursery.names import GENUS, label
from nursery.site.export.naming import Names
from nursery.site.moving.places import path_cell
from nursery.site.moving.tables import days
from nursery.site.moving.tables.parse import MOST_LETTERS

LONGEST_WORDS = 120
PAIRS = {"'": "'", '"': '"', "‘": "’", "“": "”"}


@dataclass(frozen=True)
class Told:
    """A row by the names of its columns, and the number on the thing's tag."""

    values: dict[str, Any]
    number: int | None


def clone_rows(clones: list[Clone]) -> Iterator[Told]:
    """A row for each plant, and one for each clone without any; parents before their offspring."""
    names = Names(clones)
    plants: dict[int, list[Plant]] = defaultdict(list)
    standing = Plant.objects.filter(cancelled=False, closed_on__isnull=True)
    for plant in standing.select_related("place__inside__inside", "thing__born_by").order_by("pk"):
        plants[plant.clone_id].append(plant)
    for clone in _parents_first(clones):
        facts = _of_clone(clone, names)
        rows = plants[clone.pk] or [None]
        for plant in rows:
            before = _remark(clone) if plant is rows[0] else ""
            yield _of_plant(plant, facts, before) if plant else Told(facts | {"plants": 0, "remark": before}, None)


def _of_clone(clone: Clone, names: Names) -> dict[str, Any]:
    return {
        "species": species_words(clone.taxon) if clone.taxon else "",
        "word": _quoted(clone.designation),
        "ref": clone.pk,
        "seed_parent": names.of(clone.seed_parent),
        "pollen_parent": names.of(clone.pollen_parent),
        "origin": clone.get_origin_display(),
        "source": clone.source,
        "document": clone.document,
        "words_only": True if clone.words_only else "",
    }


def _of_plant(plant: Plant, facts: dict[str, Any], before: str) -> Told:
    own = {
        "plants": 1,
        "came": day_words(plant.thing.born_by),
        "place": path_cell(plant.place),
        "pot": plant.pot,
        "remark": _joined(before, _remark(plant)),
    }
    return Told(facts | own, number_of(plant))


def pot_row(pot: SeedPot, names: Names) -> Told:
    sowing = _sowing(whole_of(pot))
    look = _last(PotLook.objects.filter(act__thing=pot.thing).exclude(seen="cant_tell"))
    values = _of_cross(pot.lot, names) | {
        "harvested": day_words(whole_of(pot.lot).thing.born_by),
        "sown": day_words(sowing.act) if sowing else days.written(Day.unknown()),
        "pots": 1,
        "seeds": pot.seeds,
        "pods": getattr(sowing, "pods", None),
        "place": path_cell(pot.place),
        "pot_size": pot.pot_size or getattr(sowing, "pot_size", ""),
        "medium": pot.session.medium if pot.session else getattr(sowing, "medium", ""),
        "seen": look.get_seen_display() if look else "",
        "counted": pot.counted if look and look.seen != "nothing" else None,
        "looked": day_words(look.act) if look else "",
        "remark": _remark(pot),
    }
    return Told(values | (_of_part(pot, look) if pot.split_from else {}), number_of(pot))


def _of_part(pot: SeedPot, look: PotLook | None) -> dict[str, Any]:
    """What a pot that was split off does not share with the one that was sown; the split is its first look, which
    showed seedlings, counted or not."""
    split = pot.thing.born_by.potsplit
    values = {"pods": None, "pot_size": pot.pot_size, "medium": split.medium}
    if look:
        return values
    seen = PotSeen.FIRST.label if pot.counted is None else ""
    return values | {"seen": seen, "counted": pot.counted, "looked": day_words(split.act)}


def _sowing(pot: SeedPot) -> Any:
    """The details of the act that put seed into a pot: it made the pot, or told so of a prepared one. None where
    nobody told so of one that was split all the same."""
    if pot.session is None:
        return pot.thing.born_by.sown
    told = Act.objects.filter(thing=pot.thing, kind="pot_sown", voided_by__isnull=True)
    first = told.order_by(F("day_last").asc(nulls_first=True), "recorded_at").first()
    return first and first.potsown


def seed_row(lot: SeedLot, names: Names) -> Told:
    values = _of_cross(lot, names) | {
        "harvested": day_words(whole_of(lot).thing.born_by),
        "storage": lot.get_storage_display(),
        "seeds": lot.left,
        "remark": _remark(lot),
    }
    return Told(values, number_of(lot))


def pollen_row(lot: PollenLot, names: Names) -> Told:
    mixed = label(pollen_tree(lot)) if lot.clone is None and lot.candidates.exists() else ""
    values = {
        "clone": names.of(lot.clone),
        "words": _short(lot.words or mixed),
        "collected": day_words(whole_of(lot).thing.born_by),
        "storage": lot.get_storage_display(),
        "remark": _remark(lot),
    }
    return Told(values, number_of(lot))


def section_rows(names: Names) -> Iterator[Told]:
    """A row for each section under way."""
    sections = Section.objects.filter(cancelled=False, closed_on__isnull=True)
    found = list(sections.select_related("spike__plant__place", "spike__plant__clone", "cross").order_by("pk"))
    spikes = _spike_words(found)
    for section in found:
        yield _of_section(section, names, spikes[section.spike_id])


def _of_section(section: Section, names: Names, spike: str) -> Told:
    looks = Act.objects.filter(thing_id=section.pk, voided_by__isnull=True)
    pods = _last_act(looks.filter(kind="pod_look").exclude(podlook__seen="cant_tell"))
    take = _last_act(looks.filter(kind="take_look").exclude(takelook__swelling__in=["", "cant_tell"]))
    look = pods or take
    counted = pods.podlook.pods_left if pods else take.takelook.pods if take else None
    values = {
        "plant": names.of(section.spike.plant.clone),
        "place": path_cell(section.spike.plant.place),
        "spike": spike,
        "pollen_parent": _father(section, names),
        "pollinated": day_words(section.thing.born_by),
        "tie": section.tie,
        "flowers": section.flowers,
        "take": take.takelook.get_swelling_display() if take else "",
        "pods": counted,
        "seen": pods.podlook.get_seen_display() if pods else "",
        "bagged": True if section.bagged else "",
        "looked": day_words(look) if look else "",
        "remark": _remark(section),
    }
    return Told(values, number_of(section))


def _father(section: Section, names: Names) -> str:
    """The pollen parent; of several, all; of one known by words only, those."""
    cross = section.cross
    if cross.pollen_parent is not None:
        return names.of(cross.pollen_parent)
    dabs = Pollinated.objects.filter(act__thing_id=section.pk, act__voided_by__isnull=True, lot__isnull=False)
    words = next((dab.lot.words for dab in dabs.select_related("lot") if dab.lot.words), "")
    return _mixed(cross) or words


def _spike_words(sections: list[Section]) -> dict[int, str]:
    """A word for each spike that no other of its plant has; none where it has one section and no position."""
    of_spike: dict[int, list[Section]] = defaultdict(list)
    for section in sections:
        of_spike[section.spike_id].append(section)
    found: dict[int, str] = {}
    taken: set[tuple[int, str]] = set()
    for pk, of in of_spike.items():
        spike = of[0].spike
        word = spike.position or ("spike" if len(of) > 1 else "")
        count = 1
        while word and (spike.plant_id, word.casefold()) in taken:
            count += 1
            word = f"{spike.position or 'spike'} {count}"
        taken.add((spike.plant_id, word.casefold()))
        found[pk] = word
    return found


def _of_cross(lot: SeedLot, names: Names) -> dict[str, str]:
    mixed = _mixed(lot.cross)
    doubt = f"pollen parent one of: {mixed}" if mixed else ""
    return {
        "seed_parent": names.of(lot.cross.seed_parent),
        "pollen_parent": names.of(lot.cross.pollen_parent),
        "words": _short("; ".join(one for one in (lot.words, doubt) if one)),
    }


def _mixed(cross: Cross) -> str:
    """Several possible fathers: "hamata A or hamata B"."""
    return label(cross_tree(cross).pollen) if cross.pollen_parent_id is None and cross.candidates.exists() else ""


# --- cells -------------------------------------------------------------------------------------------------------


def day_words(act: Act) -> str:
    return days.written(Day(act.day_first, act.day_last, act.said))


def species_words(taxon: Taxon) -> str:
    genus = "" if taxon.genus == GENUS else f"{taxon.genus} "
    sign = "× " if taxon.rank == Taxon.Rank.HYBRID else ""
    return f"{genus}{sign}{taxon.epithet}"


def number_of(thing: LivingThing) -> int | None:
    tags = Tag.objects.filter(thing_id=thing.pk, retired=False).order_by("-made_at", "-number")
    return tags.values_list("number", flat=True).first()


def _quoted(word: str) -> str:
    """A word that itself stands in quotation marks gets another pair, since moving in takes one off."""
    return f"“{word}”" if len(word) > 1 and PAIRS.get(word[0]) == word[-1] else word


def _remark(thing: LivingThing) -> str:
    remarks = Remark.objects.filter(act__thing_id=thing.pk, act__voided_by__isnull=True)
    return _joined(*remarks.order_by("act__recorded_at", "act__pk").values_list("words", flat=True))


def _joined(*words: str) -> str:
    """Remarks behind each other, cut where no remark goes on."""
    text = "\n".join(one.strip() for one in words if one.strip())
    return text if len(text) <= MOST_LETTERS else f"{text[: MOST_LETTERS - 1]}…"


def _short(words: str) -> str:
    return words if len(words) <= LONGEST_WORDS else f"{words[: LONGEST_WORDS - 1]}…"


def _last(looks: Any) -> PotLook | None:
    found = list(looks.filter(act__voided_by__isnull=True).select_related("act"))
    return max(found, key=lambda look: _order(look.act), default=None)


def _last_act(acts: Any) -> Act | None:
    return max(acts, key=_order, default=None)


def _order(act: Act) -> tuple:
    """As the milestones order acts: by the middle of the day, unknown days first."""
    return (*Day(act.day_first, act.day_last, act.said).key, act.recorded_at, act.pk)


def _parents_first(clones: Iterable[Clone]) -> list[Clone]:
    """In the order of their ids, but parents before offspring; those whose parent is not among them as they come."""
    by_pk = {clone.pk: clone for clone in clones}
    ordered: dict[int, Clone] = {}

    def add(clone: Clone) -> None:
        for parent in (clone.seed_parent_id, clone.pollen_parent_id):
            if parent in by_pk and parent not in ordered and parent != clone.pk:
                add(by_pk[parent])
        ordered.setdefault(clone.pk, clone)

    for clone in by_pk.values():
        add(clone)
    return list(ordered.values())
