"""Choosing pollen: the packets in store, males in flower, a number typed from a packet, or nobody knows."""

import re
from dataclasses import dataclass
from datetime import date

from django import forms
from django.db.models import Q
from django.utils import timezone

from breeding.milestones.spikes import OPEN
from breeding.models import PollenLot, Spike
from breeding.words.names import name_parts
from nursery.forms.base import TagNumberField
from nursery.forms.worded import Form
from nursery.models import Tag
from nursery.records.numbers import current_numbers
from nursery.templatetags.tepal import plate


@dataclass(frozen=True)
class Pollen:
    """What went on: a packet, a spike, or neither (father unknown)."""

    lot: PollenLot | None = None
    from_spike: Spike | None = None


class PollenChoice(Form):
    pollen = forms.ChoiceField(
        label="Pollen",
        required=False,
        widget=forms.RadioSelect,
        help_text="Choose one, or type its number below: a typed number counts.",
    )
    pollen_number = TagNumberField(
        label="or the number on another packet or male spike", which=Q(thing__kind__in=("pollenlot", "spike"))
    )

    def __init__(self, *args, **kwargs):
        super().__init__(*args, **kwargs)
        good, past = _in_store()
        choices = [*_in_flower(), *good, *past, ("unknown", "nobody knows whose")]
        told = self.data.get(self.add_prefix("pollen"), "") if self.is_bound else ""
        self.fields["pollen"].choices = [*choices, *_gone_since(told, choices)]
        self.fields["pollen"].either = self.fields["pollen_number"].either = True  # neither may be left out with both

    def clean(self):
        cleaned = super().clean()
        if self.errors.keys() & {"pollen", "pollen_number"}:
            return cleaned
        chosen, number = cleaned.get("pollen"), cleaned.get("pollen_number")
        if not chosen and not number:
            self.add_error("pollen", "Choose the pollen that went on.")
            return cleaned
        # One choice may have stood ready and cannot be taken off again, so what was typed counts.
        self.chosen = self._typed(number) if number else _chosen(chosen)
        return cleaned

    def _typed(self, number: int) -> Pollen:
        tag = Tag.objects.filter(number=number, thing__isnull=False).select_related("thing").first()
        kind = tag.thing.kind if tag else ""
        if kind == "pollenlot":
            return Pollen(lot=PollenLot.objects.get(pk=tag.thing_id))
        if kind == "spike":
            return Pollen(from_spike=Spike.objects.get(pk=tag.thing_id))
        self.add_error("pollen_number", "This is the number of no pollen packet and no spike. Look at it again.")
        return Pollen()


def initial_pollen(dab) -> str:
    """The choice that gives this dab again."""
    if dab.lot_id:
        return f"lot:{dab.lot_id}"
    return f"spike:{dab.from_spike_id}" if dab.from_spike_id else "unknown"


def _chosen(value: str) -> Pollen:
    kind, _, pk = value.partition(":")
    if kind == "lot":
        return Pollen(lot=PollenLot.objects.get(pk=pk))
    if kind == "spike":
        return Pollen(from_spike=Spike.objects.get(pk=pk))
    return Pollen()


def _in_store() -> tuple[list[tuple[str, str]], list[tuple[str, str]]]:
    """The packets that should be good, what keeps shortest first; and those past their day."""
    today = timezone.localdate()
    lots = PollenLot.objects.filter(cancelled=False, closed_on__isnull=True).select_related("clone")
    numbers = current_numbers(lots)
    choices: tuple[list[tuple[str, str]], list[tuple[str, str]]] = ([], [])
    for lot in sorted(lots, key=lambda lot: lot.best_before or date.max):
        choices[_past(lot, today)].append((f"lot:{lot.pk}", _lot_words(lot, numbers.get(lot.pk), today)))
    return choices


def _gone_since(told: str, choices: list[tuple[str, str]]) -> list[tuple[str, str]]:
    """The packet or spike that was chosen and has ended meanwhile: it was good when the page was opened."""
    kind, _, pk = told.partition(":")
    model = {"lot": PollenLot, "spike": Spike}.get(kind)
    if model is None or told in dict(choices) or not re.fullmatch(r"\d{1,18}", pk, re.ASCII):
        return []
    return [(told, "used up or over by now") for _ in model.objects.filter(pk=pk)]


def _past(lot: PollenLot, today: date) -> bool:
    return lot.best_before is not None and lot.best_before < today


def _lot_words(lot: PollenLot, number: int | None, today: date) -> str:
    name = _numbered("".join(part.text for part in name_parts(lot)), number)
    age = f", {(today - lot.collected_last).days} days old" if lot.collected_last else ", age not known"
    past = ", past its best" if _past(lot, today) else ""
    return f"{name} ({lot.get_storage_display()}{age}{past})"


def _in_flower() -> list[tuple[str, str]]:
    open_males = Spike.objects.filter(cancelled=False, closed_on__isnull=True, sex="male", stage__in=OPEN)
    spikes = open_males.filter(plant__closed_on__isnull=True)
    spikes = spikes.select_related("plant__clone")
    numbers = current_numbers(spikes)
    return [
        (
            f"spike:{spike.pk}",
            f"{_numbered(str(spike.plant.clone), numbers.get(spike.pk))} (fresh, from its spike in flower)",
        )
        for spike in spikes
    ]


def _numbered(name: str, number: int | None) -> str:
    """With what is read on the packet in one's hand: of one clone there may be several."""
    return name if number is None else f"{plate(number)} · {name}"
