"""What an act says that the books do not agree with. Listed before it is recorded, so that a view can ask once; taken
and flagged by the record function all the same. Reads the things as they are, writes nothing; a correction is told of
the things as they would be ``without`` the act that it takes the place of."""

from dataclasses import replace
from datetime import date

from breeding.milestones.pots import UP
from breeding.models import (
    Harvested,
    PollenLot,
    PotGone,
    PotSown,
    Section,
    SeedLot,
    SeedPot,
    SowingSession,
    Sown,
    Spike,
)
from breeding.models.sections import SizeClass
from breeding.records.apart import clone_without
from breeding.records.closed_before import closed_before
from breeding.records.crosses import dab_fathers, fathers_of, wrong_sexes
from breeding.records.parts import whole_of
from nursery.days import EARLIEST, Day
from nursery.models import Act, Clone, Plant, Thing
from nursery.records.core import Contradiction
from nursery.records.milestones import without as apart
from nursery.records.prepared import Prepared
from nursery.records.quarantine import quarantine_contradictions

_SPIKES_OF_LOT = Prepared(
    lambda ids: (
        Spike.objects.filter(thing__links__act__kind="pollen_collected", thing__links__act__births__in=ids)
        .select_related("plant__clone")
        .order_by("pk")
    )
)
_COUNTED_CUTS = Prepared(
    lambda ids: Harvested.objects.filter(
        act__links__thing__in=ids, act__voided_by__isnull=True, pods__isnull=False
    ).values("act_id", "pods")
)


SEX_IN_DOUBT = ("buds_misread", "sex_contradicts", "clone_other_sex", "male_pollinated", "pollen_from_female")
"""Codes that make it doubtful whether a spike takes pollen or gives it."""


def found_contradictions(plant: Plant, *, sex: str, without: Act | None = None) -> list[Contradiction]:
    flags, clone = [], clone_without(plant.clone, without)
    if apart(plant, without).closed_on:
        flags.append(Contradiction("plant_was_gone", "This plant was gone before. Was the tag on another plant?"))
    if sex and clone.sex and sex != clone.sex:
        flags.append(Contradiction("clone_other_sex", f"Other spikes of {clone} were {clone.sex}, this one is {sex}."))
    return flags


def spike_look_contradictions(
    spike: Spike, *, seen: str, sex: str, sex_from: str, day: Day, without: Act | None = None
) -> list[Contradiction]:
    spike, clone = apart(spike, without), clone_without(spike.plant.clone, without)
    flags = _before(
        day, spike.found_first, "spike_before_found", "This look is older than the day the spike was found."
    )
    if sex and spike.sex and sex != spike.sex:
        flags.append(_other_sex(spike, sex, sex_from))
    elif sex and clone.sex and sex != clone.sex:
        flags.append(
            Contradiction(
                "clone_other_sex",
                f"Other spikes of {clone} were {clone.sex}, this one is {sex}. {_how_so(sex_from)}",
            )
        )
    if spike.closed_on and seen not in {"over", "aborted", "cant_tell"}:
        flags.append(Contradiction("spike_was_closed", "This spike was over, stopped or aborted before."))
    return flags


def _how_so(sex_from: str) -> str:
    """Open flowers are not misread."""
    return "Buds misread, or a swapped tag?" if sex_from == "buds" else "A swapped tag?"


def _other_sex(spike: Spike, sex: str, sex_from: str) -> Contradiction:
    if spike.sex_from == "buds" and sex_from == "flowers":
        return Contradiction("buds_misread", f"Its buds were read as {spike.sex}, its flowers are {sex}.")
    return Contradiction("sex_contradicts", f"This spike was read as {spike.sex} before, now as {sex}.")


def pollen_contradictions(spikes: list[Spike], *, day: Day, without: Act | None = None) -> list[Contradiction]:
    spikes = [apart(spike, without) for spike in spikes]
    females = [spike for spike in spikes if spike.sex == "female"]
    flags = quarantine_contradictions([spike.plant for spike in spikes], day)
    if females:
        flags.append(
            Contradiction("pollen_from_female", f"{females[0]} was read as female. {_how_so(females[0].sex_from)}")
        )
    if len({spike.plant.clone_id for spike in spikes}) > 1:
        flags.append(Contradiction("pollen_mixed", "This pollen comes from more than one clone: mixed pollen."))
    return flags


def pollination_contradictions(
    spike: Spike,
    *,
    lot: PollenLot | None,
    from_spike: Spike | None,
    day: Day,
    section: Section | Thing | None = None,
    without: Act | None = None,
) -> list[Contradiction]:
    """``section`` is the one that is dabbed, where it has dabs: by other acts than the one that is corrected."""
    spike, mother = apart(spike, without), clone_without(spike.plant.clone, without)
    flags = quarantine_contradictions([spike.plant, *plants_of_pollen(lot, from_spike)], day)
    father = lot.clone if lot else from_spike.plant.clone if from_spike else None
    wrong = {flag.code: flag for flag in wrong_sexes(mother, clone_without(father, without))}
    if spike.sex == "male":  # said of the spike, it need not be said of its clone as well
        flags.append(Contradiction("male_pollinated", f"This spike was read as male. {_how_so(spike.sex_from)}"))
        wrong.pop("seed_parent_male", None)
    if father is not None and father.pk == spike.plant.clone_id:  # then one of its sexes is wrong anyway
        sentence = f"Pollen of {father} on {father} itself: a plant is male or female. Another packet, or spike?"
        flags.append(Contradiction("own_pollen", sentence))
        wrong = {}
    elif from_spike and (giver := apart(from_spike, without)).sex == "female":
        sentence = f"{from_spike} was read as female. {_how_so(giver.sex_from)}"
        flags.append(Contradiction("pollen_from_female", sentence))
        wrong.pop("pollen_parent_female", None)
    flags += wrong.values()
    if lot and lot.clone_id is None and not lot.candidates.exists():
        flags.append(Contradiction("father_unknown", "Nobody knows whose pollen this was."))
    if lot:
        flags += _lot_contradictions(apart(lot, without), day)
    flags += _before(
        day, spike.found_first, "pollinated_before_found", "This is older than the day the spike was found."
    )
    return flags + (_another_father(section, dab_fathers(lot, from_spike), without) if section else [])


def _another_father(section: Section | Thing, now: set[int], without: Act | None) -> list[Contradiction]:
    """For pollen of a father that the other dabs did not bring: from then on nobody knows which a seedling has.

    Where the father is not known anyway, nothing is lost; nor is it said of a dab that is corrected to be unknown.
    """
    before = fathers_of(section, without)
    if not before or now and now <= before or not now and without:
        return []
    told = f"The pollen on this section was of {_named(before)}"
    told += f", now it is of {_named(now - before)}." if now else ", now nobody knows whose."
    return [Contradiction("another_father", f"{told} The wrong packet, or another section?")]


def _named(clones: set[int]) -> str:
    return " or ".join(str(clone) for clone in Clone.objects.filter(pk__in=clones).order_by("pk"))


def tie_contradictions(spike: Spike, tie: str, *, without: Act | None = None) -> list[Contradiction]:
    """For the tie of a section: another one on its spike that is still there has it, too."""
    others = Section.objects.filter(spike=spike, cancelled=False, closed_on__isnull=True)
    others = others.exclude(pk=without.thing_id) if without else others
    if not tie or _plain(tie) not in {_plain(known) for known in others.values_list("tie", flat=True)}:
        return []
    sentence = f"Another section of this spike has the tie “{' '.join(tie.split())}”, too: nobody can tell them apart."
    return [Contradiction("same_tie", sentence)]


def _plain(tie: str) -> str:
    return " ".join(tie.casefold().split())


def plants_of_pollen(lot: PollenLot | None, from_spike: Spike | None) -> list[Plant]:
    """The plants here that the pollen was taken from, whole or split off; none for pollen from elsewhere."""
    if from_spike is not None:
        return [from_spike.plant]
    return [spike.plant for spike in _SPIKES_OF_LOT.objects([whole_of(lot).pk])] if lot else []


def _lot_contradictions(lot: PollenLot, day: Day) -> list[Contradiction]:
    flags = _before(day, lot.collected_first, "pollen_not_yet", "This pollen was collected later than that day.")
    if lot.closed_on and day.first and day.first > lot.closed_on:
        flags.append(Contradiction("pollen_was_finished", "This pollen was finished before that day."))
    return flags


def section_contradictions(
    section: Section, *, day: Day, pods: int | None = None, without: Act | None = None
) -> list[Contradiction]:
    """For any look at a section: older than its pollination, after its harvest, more pods than flowers."""
    section = apart(section, without)
    flags = _before(day, section.day0_first, "before_pollination", "This is older than the pollination.")
    if section.closed_on:
        flags.append(Contradiction("section_was_closed", closed_before(section, without)))
    return flags if pods is None else flags + _more_pods_than_flowers(section, pods, f"{pods} pods")


def harvest_contradictions(
    section: Section, *, day: Day, pods: int | None, without: Act | None = None
) -> list[Contradiction]:
    """As for a look, with all that was cut of the section so far."""
    section = apart(section, without)
    flags = section_contradictions(section, day=day)
    if pods is not None:
        before = pods_cut(section.pk, without)
        said = f"{before + pods} pods cut in all" if before else f"{pods} pods"
        flags += _more_pods_than_flowers(section, before + pods, said)
    if section.take == "none":
        flags.append(
            Contradiction("harvest_without_take", "Nothing was swelling at the last look. Another section's tag?")
        )
    return flags


def pods_cut(section: int, without: Act | None = None) -> int:
    """How many pods its harvests counted that were not undone."""
    return sum(row["pods"] for row in _COUNTED_CUTS.rows([section]) if without is None or row["act_id"] != without.pk)


def _more_pods_than_flowers(section: Section, pods: int, said: str) -> list[Contradiction]:
    if section.flowers is not None:
        most, flowers = section.flowers, f"{section.flowers} flowers were counted"
    elif section.size:
        size = SizeClass(section.size)
        most, flowers = size.most, f"{size.label.removesuffix(' flowers')} flowers were told"
    else:
        return []
    if most is None or pods <= most:
        return []
    return [Contradiction("more_pods_than_flowers", f"{said}, but {flowers} at pollination.")]


def packet_contradictions(lot: PollenLot, day: Day, *, without: Act | None = None) -> list[Contradiction]:
    """For what goes away of a packet: older than its collecting, or after it was finished."""
    return _lot_contradictions(apart(lot, without), day)


def pollen_sent_contradictions(lot: PollenLot, day: Day, *, without: Act | None = None) -> list[Contradiction]:
    """Pollen of a plant that is kept apart carries to others what the plant is kept apart for."""
    kept = quarantine_contradictions(plants_of_pollen(lot, None), day)
    return [*kept, *packet_contradictions(lot, day, without=without)]


def seed_sent_contradictions(
    lot: SeedLot, *, seeds: int | None, day: Day, without: Act | None = None
) -> list[Contradiction]:
    """As for pollen, by the plant that the seed was cut from."""
    kept = quarantine_contradictions([lot.section.spike.plant] if lot.section else [], day)
    return [*kept, *gone_contradictions(lot, seeds=seeds, day=day, without=without)]


def gone_contradictions(
    lot: SeedLot, *, seeds: int | None, day: Day, without: Act | None = None
) -> list[Contradiction]:
    """For what goes away of a seed lot: as for sowing it."""
    lot = apart(lot, without)
    flags = _before(day, lot.ripe_first, "sown_before_harvest", "This is older than the harvest.")
    return flags + _more_than_there_is(lot, seeds or 0)


def planning_contradictions(planned_for: date | None, *, day: Day, today: date) -> list[Contradiction]:
    """For a sowing that is planned on ``day``."""
    if planned_for is None or day.last is None or planned_for >= day.last:
        return []
    sentence = f"It is planned for {Day.on(planned_for).words(today)}, a day that was over. A slip?"
    return [Contradiction("planned_for_past", sentence)]


def putting_off_contradictions(
    session: SowingSession, planned_for: date, *, on: Day, today: date, without: Act | None = None
) -> list[Contradiction]:
    """As for planning it; the day that it is planned for already may be over by now."""
    if planned_for == apart(session, without).planned_for:
        return []
    return planning_contradictions(planned_for, day=on, today=today)


def sowing_contradictions(
    lot: SeedLot, *, pots: int, seeds: int | None, day: Day, pods: int | None = None, without: Act | None = None
) -> list[Contradiction]:
    """``seeds`` and ``pods`` are those in each pot."""
    lot = apart(lot, without)
    flags = _before(day, lot.ripe_first, "sown_before_harvest", "This is older than the harvest.")
    return flags + _more_than_there_is(lot, pots * (seeds or 0)) + _more_pods_than_cut(lot, pots * (pods or 0), without)


def _more_pods_than_cut(
    lot: SeedLot, pods: int, without: Act | None, into: SeedPot | None = None
) -> list[Contradiction]:
    """Only of a lot that was cut here, and whole: of its parts nobody counts the pods."""
    harvest = getattr(lot.thing.born_by, "harvested", None) if pods else None
    if harvest is None or harvest.pods is None:
        return []
    total = _pods_sown(lot.pk, without, into) + pods
    if total <= harvest.pods:
        return []
    told = f"{total} pods sown in all" if total > pods else f"{total} pods sown"
    return [Contradiction("more_pods_than_cut", f"{told}, but {harvest.pods} cut for this lot.")]


def _pods_sown(lot: int, without: Act | None, into: SeedPot | None) -> int:
    """How many pods its sowings counted; what two people tell of one prepared pot is one, so what is told of it again
    is left out.
    """
    own, counted = without and without.pk, {"act__voided_by__isnull": True, "pods__isnull": False}
    sown = Sown.objects.filter(act__thing=lot, **counted).exclude(pk=own).values_list("pots", "pods")
    prepared = PotSown.objects.filter(pot__lot=lot, **counted).exclude(pk=own).values_list("pot", "pods")
    by_pot = {pot: pods for pot, pods in prepared if into is None or pot != into.pk}
    return sum(pots * pods for pots, pods in sown) + sum(by_pot.values())


def pot_sowing_contradictions(
    pot: SeedPot, *, seeds: int | None, day: Day, pods: int | None = None, without: Act | None = None
) -> list[Contradiction]:
    """For seed that goes into a prepared pot: sown before, cleared before, or more seed than there is."""
    before = apart(pot, without)
    flags = []
    if not before.unsown:
        flags.append(Contradiction("pot_sown_before", _sown_before(pot, without)))
    if before.closed_why == "cleared":
        flags.append(Contradiction("pot_was_cleared", "This pot was cleared before, as never sown."))
    of_lot = sowing_contradictions(pot.lot, pots=1, seeds=seeds, day=day, without=without)
    of_lot += _more_pods_than_cut(pot.lot, pods or 0, without, into=pot)
    return flags + [replace(one, thing=pot.lot_id) for one in of_lot]


def _sown_before(pot: SeedPot, without: Act | None) -> str:
    """Says who told it, so that two people on two phones know of each other."""
    told = Act.objects.filter(thing=pot.pk, kind="pot_sown", voided_by__isnull=True).select_related("by")
    first = told.exclude(pk=without.pk if without else None).order_by("recorded_at").first()
    who = f", as {first.by.name} has told" if first else ""
    return f"This pot was sown before{who}. Once again, or another pot's tag?"


def clearing_contradictions(pot: SeedPot, *, without: Act | None = None) -> list[Contradiction]:
    if apart(pot, without).unsown:
        return []
    return [Contradiction("cleared_though_sown", "This pot was sown, so it is not cleared as one that never was.")]


def _more_than_there_is(lot: SeedLot, seeds: int) -> list[Contradiction]:
    if lot.closed_on:
        return [Contradiction("lot_was_finished", "This lot was finished before, so its estimate was low.")]
    used = lot.seeds_sown + lot.seeds_gone + seeds
    if not seeds or lot.estimate is None or used <= lot.estimate:
        return []
    done = "sown" if not lot.seeds_gone else "sown or sent"
    sentence = f"{used} seeds {done}, but {lot.estimate} were estimated. Was that too low, or is a number wrong?"
    return [Contradiction("sown_more_than_estimated", sentence)]


def pot_contradictions(
    pot: SeedPot, *, seen: str, counted: int | None, day: Day, without: Act | None = None
) -> list[Contradiction]:
    pot = apart(pot, without)
    flags = _before(day, pot.sown_first, "before_sowing", "This look is older than the sowing.")
    if pot.unsown:
        flags.append(Contradiction("not_sown_yet", "Nobody has told that this pot was sown. Record that, too."))
    flags += _before_it_was_split_off(pot, day)
    if pot.closed_why == "split" and seen in UP:
        flags.append(_was_emptied())
    if seen == "nothing" and pot.closed_why != "split" and _were_up(pot, day):
        flags.append(
            Contradiction("seedlings_gone", "Seedlings were seen here before. All lost, or another pot's tag?")
        )
    if counted is not None and pot.seeds is not None and counted > pot.seeds:
        flags.append(Contradiction("more_seedlings_than_seeds", f"{counted} seedlings from {pot.seeds} seeds."))
    return flags


def pot_leaving_contradictions(pot: SeedPot, *, why: str, day: Day, without: Act | None = None) -> list[Contradiction]:
    """For a pot that leaves with all that is in it: it had left before, or was never sown, or something was up."""
    pot = apart(pot, without)
    flags = _before(day, pot.sown_first, "before_sowing", "This is older than the sowing.")
    if pot.unsown:
        flags.append(Contradiction("not_sown_yet", "Nobody has told that this pot was sown. Record that, too."))
    if pot.closed_why == "split":
        flags.append(_was_emptied())
    elif pot.closed_why in PotGone.Why:
        flags.append(Contradiction("gone_twice", "This pot was already gone. Was the tag on another pot?"))
    if why == PotGone.Why.NOTHING_UP and pot.stage == "up":
        flags.append(
            Contradiction("seedlings_gone", "Seedlings were seen here before. All lost, or another pot's tag?")
        )
    return flags


def split_contradictions(
    pot: SeedPot, *, pots: int, seedlings: int | None, extent: str, day: Day, without: Act | None = None
) -> list[Contradiction]:
    """For seedlings that go into new pots: ``seedlings`` into each of ``pots``, perhaps all that there are."""
    pot = apart(pot, without)
    flags = _before(day, pot.sown_first, "before_sowing", "This is older than the sowing.")
    flags += _before_it_was_split_off(pot, day)
    if pot.unsown:
        flags.append(Contradiction("not_sown_yet", "Nobody has told that this pot was sown. Record that, too."))
    if pot.closed_why == "split":
        flags.append(_was_emptied())
    return flags if seedlings is None else flags + _does_not_add_up(pot, pots * seedlings, extent)


def _does_not_add_up(pot: SeedPot, moved: int, extent: str) -> list[Contradiction]:
    if pot.counted is None:
        if pot.seeds is None or moved <= pot.seeds:
            return []
        return [Contradiction("more_seedlings_than_seeds", f"{moved} seedlings from {pot.seeds} seeds.")]
    if moved > pot.counted:
        sentence = f"{moved} seedlings moved, but {pot.counted} were counted in it. Did more come up since?"
        return [Contradiction("more_moved_than_counted", sentence)]
    if extent == "all" and moved + pot.lost < pot.counted:
        missing = pot.counted - pot.lost - moved
        sentence = f"{pot.counted} seedlings were counted in it and {moved} moved: were {missing} lost?"
        return [Contradiction("fewer_moved_than_counted", sentence)]
    return []


def _was_emptied() -> Contradiction:
    return Contradiction("pot_was_emptied", "All its seedlings went into other pots before. Another pot's tag?")


def _before_it_was_split_off(pot: SeedPot, day: Day) -> list[Contradiction]:
    start = pot.thing.born_by.day_first if pot.split_from_id else None
    return _before(day, start, "before_split", "This is older than the day on which it was split off.")


def _were_up(pot: SeedPot, day: Day) -> bool:
    """Whether seedlings were in it by that day, as far as the books know."""
    up_by = pot.thing.born_by.day_last if pot.split_from_id else pot.first_by
    return up_by is not None and day.last is not None and day.last >= up_by


def _before(day: Day, start: date | None, code: str, sentence: str) -> list[Contradiction]:
    """Cause after effect, where even the latest possible day is too early; with that day, whose year is always told."""
    if start is None or day.last is None or day.last >= start:
        return []
    when = Day.on(start).words(EARLIEST)
    return [Contradiction(code, f"{sentence.removesuffix('.')}: not before {when}.")]
