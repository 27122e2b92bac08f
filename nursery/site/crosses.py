"""The story of a cross: parents, each section, the seed cut from it, the pots sown from that, with the numbers."""

from collections import defaultdict
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from typing import Any

from breeding.models import Cross
from breeding.words.ages import plural
from breeding.words.names import name_parts
from breeding.words.rates import Cut, Rate, rates
from breeding.words.stages import clone as clone_stage
from breeding.words.stages import stage_words
from nursery.links import thing_url
from nursery.models import Act, ActLink, Clone
from nursery.names import NamePart
from nursery.site import fetch
from nursery.site.cards.parts import Row, row_of
from nursery.site.cards.spikes import section_words
from nursery.site.stories import Reader, StoryRow, acts_about, told
from nursery.site.stories import row_of as act_row


@dataclass(frozen=True)
class Chapter:
    """One part of a story; ``things`` are listed below its acts."""

    title: str
    number: int | None = None
    url: str = ""
    name_parts: Sequence[NamePart] = ()
    sub: str = ""
    rows: Sequence[StoryRow] = ()
    things: Sequence[Row] = ()


@dataclass(frozen=True)
class Below:
    """What stands below a cross, each kind from the oldest, and their acts by the thing they are about."""

    sections: list[Any]
    lots: list[Any]
    pots: list[Any]
    acts: dict[int, list[Act]]

    @property
    def pks(self) -> list[int]:
        return [thing.pk for thing in (*self.sections, *self.lots)]


def below(cross: Cross) -> Below:
    """Six queries, however many sections and pots there are."""
    sections = _of_cross(fetch.things("section").filter(cross=cross).order_by("day0_first", "pk"), cross)
    lots = _of_cross(fetch.things("seedlot").filter(cross=cross).order_by("ripe_first", "pk"), cross)
    pots = list(_bare(fetch.things("seedpot").filter(lot__cross=cross)).order_by("sown_first", "pk"))
    return Below(sections, lots, pots, _acts([cross, *sections, *lots]))


def _of_cross(rows: Any, cross: Cross) -> list[Any]:
    """These rows, all of one cross, which need not be asked for its parents again."""
    found = list(_bare(rows))
    for row in found:
        row.cross = cross
    return found


def _bare(rows: Any) -> Any:
    return rows.filter(cancelled=False).prefetch_related(None)


def _acts(things: Sequence[Any]) -> dict[int, list[Act]]:
    """By thing, its acts from the oldest."""
    about = acts_about(thing.pk for thing in things)
    acts = list(told(about))
    acts.reverse()
    pks = {thing.pk for thing in things}
    touched = defaultdict(set)
    for act, thing in ActLink.objects.filter(thing_id__in=pks).values_list("act_id", "thing_id"):
        touched[act].add(thing)
    by_thing = defaultdict(list)
    for act in acts:
        for pk in (touched[act.pk] | {act.thing_id}) & pks:
            by_thing[pk].append(act)
    return by_thing


def chapters(cross: Cross, under: Below, reader: Reader) -> list[Chapter]:
    """The story: sections under way first, then in the order in which it happened.

    Each section is followed by its seed, each lot by its pots.
    """
    teller = _Teller(under, reader)
    by_section = defaultdict(list)
    for lot in under.lots:
        by_section[lot.section_id].append(teller.lot(lot))
    in_turn = sorted(under.sections, key=lambda section: not _under_way(section))
    told_sections = [one for section in in_turn for one in (teller.section(section), *by_section[section.pk])]
    known = {section.pk for section in under.sections}
    elsewhere = [one for pk, some in by_section.items() if pk not in known for one in some]
    return [*_parents(cross, reader.today), *teller.wish(cross), *told_sections, *elsewhere]


def _under_way(section: Any) -> bool:
    """What grew on a plant that is gone is under way no more."""
    return section.is_open and section.spike.plant.is_open


def numbers(under: Below) -> list[Rate]:
    return rates(under.sections, _cuts(under), under.lots, [pot for pot in under.pots if not pot.unsown])


def _cuts(under: Below) -> list[Cut]:
    """Its harvests that count, one for each lot that was cut here."""
    harvests = [
        (lot, act)
        for lot in under.lots
        for act in under.acts[lot.pk]
        if act.kind == "harvested" and act.thing_id == lot.pk and not hasattr(act, "voided_by")
    ]
    return [Cut(lot.section_id, lot.pk, act.harvested.pods, act.said == "exact") for lot, act in harvests]


class _Teller:
    """Writes chapters for one reader on one day."""

    def __init__(self, under: Below, reader: Reader):
        self.under = under
        self.reader = reader
        self.today = reader.today

    def wish(self, cross: Cross) -> list[Chapter]:
        """What was wished for, and what was remarked of the cross itself."""
        own = [act for act in self.under.acts[cross.pk] if act.thing_id == cross.pk]
        parts = [f"{plural(cross.wanted, 'plant')} wanted" if cross.wanted else "", cross.aim, cross.family]
        sub = ", ".join(part for part in parts if part)
        return [Chapter("Wished for", sub=sub, rows=self._rows(own, cross.pk))] if own else []

    def section(self, section: Any) -> Chapter:
        spike = f"on a spike of {section.spike.plant.clone}"
        return Chapter(
            title=section_words(section).capitalize(),
            number=section.number,
            url=thing_url(section),
            sub=f"{spike}: {stage_words(section, self.today)}",
            rows=self._rows(self.under.acts[section.pk], section.pk),
        )

    def lot(self, lot: Any) -> Chapter:
        pots = [pot for pot in self.under.pots if pot.lot_id == lot.pk]
        sown_pots = [pot for pot in pots if not pot.unsown and pot.split_from_id is None]
        up = sum(pot.stage == "up" for pot in sown_pots)
        sown = f"{up} of {plural(len(sown_pots), 'pot')} up" if sown_pots else ""
        return Chapter(
            title="Seed" if lot.section_id else f"Seed, {lot.words}" if lot.words else "Seed from elsewhere",
            number=lot.number,
            url=thing_url(lot),
            sub="; ".join(part for part in (stage_words(lot, self.today), sown) if part),
            rows=self._rows(self._own_acts_of_lot(lot), lot.pk),
            things=[row_of(pot, self.today, text="Pot", where=True) for pot in pots],
        )

    def _own_acts_of_lot(self, lot: Any) -> list[Act]:
        """Without the harvest that made it, which stands in the chapter of its section."""
        acts = self.under.acts[lot.pk]
        return [act for act in acts if act.kind != "harvested"] if lot.section_id else acts

    def _rows(self, acts: Sequence[Act], pk: int) -> list[StoryRow]:
        return [act_row(act, self.reader, on=pk) for act in acts]


def _parents(cross: Cross, today: date) -> list[Chapter]:
    mother = _parent("Seed parent", cross.seed_parent, today)
    if cross.pollen_parent is not None:
        return [mother, _parent("Pollen parent", cross.pollen_parent, today)]
    candidates = sorted(cross.candidates.all(), key=lambda clone: clone.pk)
    fathers = [_parent("Pollen parent, one of these", one, today) for one in candidates]
    return [mother, *(fathers or [_parent("Pollen parent", None, today)])]


def _parent(title: str, clone: Clone | None, today: date) -> Chapter:
    if clone is None:
        return Chapter(title, sub="Nobody knows.")
    sub = ", ".join(one for one in (clone_stage(clone, today), clone.get_origin_display()) if one)
    return Chapter(title, url=thing_url(clone), name_parts=name_parts(clone), sub=sub)
