"""Plants kept apart, and samples sent to find out. Nothing is refused for it: it is asked once, then flagged."""

from collections.abc import Iterable
from datetime import date

from nursery.days import Day
from nursery.models import Act, Plant, Quarantined, SampleResult, SampleSent
from nursery.records.core import Contradiction, Entry, NewAct, recorded
from nursery.records.errors import Refused


@recorded
def quarantined(*, act: NewAct, plant: Plant, reason: str) -> Act:
    """Keep a plant apart: its pollen, cuttings from it and its leaving are asked about from then on."""
    entry = Entry(act, "quarantined", on=[plant], said={"reason": reason})
    return entry.sent_before() or entry.keep(plant, Quarantined(reason=reason.strip()))


@recorded
def released(*, act: NewAct, plant: Plant) -> Act:
    """A plant is out of quarantine."""
    entry = Entry(act, "released", on=[plant], said={})
    return entry.sent_before() or entry.keep(plant)


@recorded
def sample_sent(*, act: NewAct, plant: Plant, to_whom: str, what_for: str = "") -> Act:
    """A piece of a plant went to somebody who looks for something in it."""
    facts = {"to_whom": to_whom.strip(), "what_for": what_for.strip()}
    entry = Entry(act, "sample_sent", on=[plant], said=facts)
    if sent := entry.sent_before():
        return sent
    row = entry.keep(plant, SampleSent(**facts))
    if act.replaces:  # its result, told of the version before, is the result of this one
        SampleResult.objects.filter(sample=act.replaces.pk).update(sample=row.pk)
    return row


@recorded
def sample_result(*, act: NewAct, plant: Plant, found: str, sample: SampleSent | None = None, words: str = "") -> Act:
    """What they answered; it changes no quarantine by itself."""
    facts = {"found": found, "sample": sample, "words": words.strip()}
    entry = Entry(act, "sample_result", on=[plant], said=facts)
    if sent := entry.sent_before():
        return sent
    if sample is not None and sample.act.thing_id != plant.pk:
        raise Refused("other_plant", "That sample was of another plant. Choose one of this plant.", field="sample")
    return entry.keep(plant, SampleResult(**facts))


def quarantine_contradictions(plants: Iterable[Plant | None], day: Day) -> list[Contradiction]:
    """What a person should know before anything of these plants goes on; what was before the quarantine is left out."""
    kept = {plant.pk: plant for plant in plants if plant is not None and is_kept(plant, day)}
    if not kept:
        return []
    named = ", ".join(f"{plant.clone} ({plant.quarantine})" for plant in kept.values())
    return [Contradiction("in_quarantine", f"In quarantine: {named}"[:299] + ".")]


def is_kept(plant: Plant, day: Day) -> bool:
    since: date | None = plant.quarantine_on
    return bool(plant.quarantine) and not (since and day.last and day.last < since)
