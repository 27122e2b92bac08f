"""What a spike that was found or looked at, and pollen taken from spikes, does not agree with."""

from breeding.models import Spike
from breeding.records.apart import clone_without
from breeding.records.contradictions.early import too_early
from nursery.days import Day
from nursery.models import Act, Plant
from nursery.records.core import Contradiction
from nursery.records.milestones import without as apart
from nursery.records.quarantine import quarantine_contradictions

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
    flags = too_early(
        day, spike.found_first, "spike_before_found", "This look is older than the day the spike was found."
    )
    if sex and spike.sex and sex != spike.sex:
        flags.append(_other_sex(spike, sex, sex_from))
    elif sex and clone.sex and sex != clone.sex:
        flags.append(
            Contradiction(
                "clone_other_sex",
                f"Other spikes of {clone} were {clone.sex}, this one is {sex}. {how_so(sex_from)}",
            )
        )
    if spike.closed_on and seen not in {"over", "aborted", "cant_tell"}:
        flags.append(Contradiction("spike_was_closed", "This spike was over, stopped or aborted before."))
    return flags


def pollen_contradictions(spikes: list[Spike], *, day: Day, without: Act | None = None) -> list[Contradiction]:
    spikes = [apart(spike, without) for spike in spikes]
    females = [spike for spike in spikes if spike.sex == "female"]
    flags = quarantine_contradictions([spike.plant for spike in spikes], day)
    if females:
        flags.append(
            Contradiction("pollen_from_female", f"{females[0]} was read as female. {how_so(females[0].sex_from)}")
        )
    if len({spike.plant.clone_id for spike in spikes}) > 1:
        flags.append(Contradiction("pollen_mixed", "This pollen comes from more than one clone: mixed pollen."))
    return flags


def how_so(sex_from: str) -> str:
    """Open flowers are not misread."""
    return "Buds misread, or a swapped tag?" if sex_from == "buds" else "A swapped tag?"


def _other_sex(spike: Spike, sex: str, sex_from: str) -> Contradiction:
    if spike.sex_from == "buds" and sex_from == "flowers":
        return Contradiction("buds_misread", f"Its buds were read as {spike.sex}, its flowers are {sex}.")
    return Contradiction("sex_contradicts", f"This spike was read as {spike.sex} before, now as {sex}.")
