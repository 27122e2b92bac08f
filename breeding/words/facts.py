"""The three facts on the card of each kind of thing. Pure: from its columns, and from counts that the card hands in."""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date
from types import MappingProxyType
from typing import Any

from breeding.answers import amount_words
from breeding.models.pods import Swelling
from breeding.models.pots import PotSeen
from breeding.models.sections import SizeClass
from breeding.models.spikes import SpikeSeen
from breeding.words.ages import age, between, day_words, joined, on_day

NOT_KNOWN = "not known"
NOTHING: Mapping[str, date | None] = MappingProxyType({})


@dataclass(frozen=True)
class Fact:
    """A value with what it is: "54", "days sown"."""

    value: str
    label: str


def spike(row: Any, today: date, *, dabbed_on: date | None = None) -> list[Fact]:
    """``dabbed_on`` is the last day on which one of its sections was pollinated."""
    sex = {"": "not read", "unclear": "both?"}.get(row.sex, row.sex)
    seen = SpikeSeen(row.last_seen).label if row.last_seen else "not looked at"
    if row.last_seen == "showing":
        seen = {"female": "fluid showing", "male": "pollen showing"}.get(row.sex, seen)
    read = {"buds": "sex, by its buds", "flowers": "sex, by its flowers"}.get(row.sex_from, "sex")
    return [
        Fact(age(row.found_first, row.found_last, today) or NOT_KNOWN, "days since found"),
        Fact(sex, read),
        Fact(seen, _seen(row, today, {"pollinated": dabbed_on, "pollen taken": row.pollen_taken_on})),
    ]


def section(row: Any, today: date) -> list[Fact]:
    size = str(row.flowers) if row.flowers is not None else SizeClass(row.size).label if row.size else NOT_KNOWN
    first, last = (row.closed_first, row.closed_on) if row.stage == "harvested" else (today, today)
    took = Swelling(row.take).label.removesuffix(" swelling") if row.take else "not read"
    return [
        Fact(
            (first and between(row.day0_first, row.day0_last, first, last)) or NOT_KNOWN,
            "days to harvest" if row.stage == "harvested" else "days since pollination",
        ),
        Fact(took, "swelling" if row.take else "take"),
        Fact(size.removesuffix(" flowers"), "flowers"),
    ]


def pollen(row: Any, today: date) -> list[Fact]:
    keeps = day_words(row.best_before, today) if row.best_before else NOT_KNOWN
    return [
        Fact(age(row.collected_first, row.collected_last, today) or NOT_KNOWN, "days since taken"),
        Fact(row.get_storage_display(), "storage"),
        Fact(keeps, "good until about"),
    ]


def seed(row: Any, today: date) -> list[Fact]:
    estimate = "not known" if row.estimate is None else f"{row.estimate:,}"
    return [
        Fact(age(row.ripe_first, row.ripe_last, today) or NOT_KNOWN, "days since harvest"),
        Fact(estimate, f"seeds, {row.estimate_from}" if row.estimate_from else "seeds"),
        Fact(f"{row.pots_sown:,}", "pot sown" if row.pots_sown == 1 else "pots sown"),
    ]


def pot(row: Any, today: date) -> list[Fact]:
    not_before_sowing = row.first_after if row.first_after != row.sown_first else None
    first = between(row.sown_first, row.sown_last, not_before_sowing, row.first_by)
    amount = PotSeen(row.amount).label if row.amount else ""
    if row.counted is not None and row.amount != "nothing":
        amount = joined(str(row.counted), amount)
    second = Fact(first or ("not seen" if row.stage == "up" else "none yet"), "day of first seedling")
    if row.split_from_id:
        second = Fact(age(row.split_first, row.split_last, today) or NOT_KNOWN, "days split off")
    third = Fact(amount or ("not counted" if row.split_last else "not looked at"), _pot_seen(row, today))
    if row.closed_why == "split":
        third = Fact("none", "stays in it")
    return [Fact(age(row.sown_first, row.sown_last, today) or NOT_KNOWN, "days sown"), second, third]


def prepared_pot(row: Any) -> list[Fact]:
    """Of a pot that was prepared and not sown: what is meant to go into it."""
    return [
        Fact("no" if row.closed_why != "cleared" else "never", "sown"),
        Fact(amount_words(row.planned_seeds, row.planned_pods) or NOT_KNOWN, "planned"),
        Fact(row.pot_size.partition(" (")[0] or NOT_KNOWN, "pot"),
    ]


def sowing(row: Any) -> list[Fact]:
    all_told = row.pots_cleared and not row.pots_waiting
    return [
        Fact(f"{row.pots_planned:,}", "pot prepared" if row.pots_planned == 1 else "pots prepared"),
        Fact(f"{row.pots_sown:,}", "sown"),
        Fact(f"{row.pots_cleared:,}", "cleared") if all_told else Fact(f"{row.pots_waiting:,}", "not sown yet"),
    ]


def cross(row: Any) -> list[Fact]:
    return [
        Fact(f"{row.sections:,}", "section" if row.sections == 1 else "sections"),
        Fact(f"{row.pots:,}", "pot" if row.pots == 1 else "pots"),
        Fact(f"{row.pots_up} of {row.pots}" if row.pots else "none yet", "pots up"),
    ]


def _pot_seen(row: Any, today: date) -> str:
    """What was told with a split is of its day, which may be vague, and of no look since."""
    if row.split_last and row.last_look in {None, row.split_last}:
        return "when it was split off" if row.split_from_id else "when it was split"
    return _seen(row, today)


def _seen(row: Any, today: date, done: Mapping[str, date | None] = NOTHING) -> str:
    """When it was seen last; of a day on which something was done to it, which counts as a look, that this was done."""
    if row.last_look is None:
        return "last seen"
    how = next((one for one, day in done.items() if day == row.last_look), "seen")
    return f"{how} {on_day(row.last_look, today)}"
