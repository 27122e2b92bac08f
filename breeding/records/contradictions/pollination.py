"""What a dab does not agree with: the sexes of both, the father before, the tie of the section beside it."""

from breeding.models import PollenLot, Section, Spike
from breeding.records.apart import clone_without
from breeding.records.contradictions.early import too_early
from breeding.records.contradictions.packets import packet_contradictions, plants_of_pollen
from breeding.records.contradictions.spikes import how_so
from breeding.records.crosses import dab_fathers, fathers_of, wrong_sexes
from nursery.days import Day
from nursery.models import Act, Clone, Thing
from nursery.records.core import Contradiction
from nursery.records.milestones import without as apart
from nursery.records.quarantine import quarantine_contradictions


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
        flags.append(Contradiction("male_pollinated", f"This spike was read as male. {how_so(spike.sex_from)}"))
        wrong.pop("seed_parent_male", None)
    if father is not None and father.pk == spike.plant.clone_id:  # then one of its sexes is wrong anyway
        sentence = f"Pollen of {father} on {father} itself: a plant is male or female. Another packet, or spike?"
        flags.append(Contradiction("own_pollen", sentence))
        wrong = {}
    elif from_spike and (giver := apart(from_spike, without)).sex == "female":
        sentence = f"{from_spike} was read as female. {how_so(giver.sex_from)}"
        flags.append(Contradiction("pollen_from_female", sentence))
        wrong.pop("pollen_parent_female", None)
    flags += wrong.values()
    if lot and lot.clone_id is None and not lot.candidates.exists():
        flags.append(Contradiction("father_unknown", "Nobody knows whose pollen this was."))
    if lot:
        flags += packet_contradictions(lot, day, without=without)
    flags += too_early(
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
