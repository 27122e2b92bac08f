from typing import Any

from django import forms

from breeding.models import Cross
from breeding.models.seed import MOST_SEEDS, EstimateFrom, SeedStorage
from breeding.records.contradictions.sowing import sowing_contradictions
from breeding.records.crosses import cross_planned, wrong_sexes
from breeding.records.pots import MOST_POTS, sown
from breeding.records.seed import seed_cleaned, seed_finished, seed_received, seed_stored
from nursery.forms.base import ActForm, blank_tag, whole_number, words
from nursery.forms.choices import CloneField, place_field
from nursery.models import Act
from nursery.records.core import Contradiction, NewAct


def _storage(**kwargs) -> forms.ChoiceField:
    return forms.ChoiceField(label="Kept", choices=SeedStorage, widget=forms.RadioSelect, **kwargs)


class SeedReceivedForm(ActForm):
    seed_parent = CloneField(label="Seed parent (female), if entered")
    pollen_parent = CloneField(label="Pollen parent (male), if entered")
    words = words("What was said about it", 120, help_text="From whom, and the names on the packet")
    seeds = whole_number("About how many seeds", MOST_SEEDS)
    storage = _storage(initial="unknown")
    tag = blank_tag()

    def __init__(self, *args, **kwargs):
        super().__init__(*args, **kwargs)
        self.fields["day_said"].label = "Harvested when, as told"
        self.fields["day_said"].initial = "unknown"

    def record(self, act: NewAct) -> Act:
        return seed_received(act=act, **self.facts())

    @classmethod
    def initial_from(cls, act: Act) -> dict[str, Any]:
        return super().initial_from(act) | _parents(act.seedreceived.cross)


class SeedCleanedForm(ActForm):
    seeds = whole_number("Seeds", MOST_SEEDS)
    estimate_from = forms.ChoiceField(
        label="That number was",
        required=False,
        choices=[("", "not said"), *EstimateFrom.choices],
        widget=forms.RadioSelect,
        initial="",
    )
    filled_percent = whole_number("Filled seeds, percent", 100, help_text="Only if you looked: a bulge in the middle.")

    def record(self, act: NewAct) -> Act:
        return seed_cleaned(act=act, lot=self.thing, **self.facts())


class SeedStoredForm(ActForm):
    storage = _storage()

    def record(self, act: NewAct) -> Act:
        return seed_stored(act=act, lot=self.thing, storage=self.cleaned_data["storage"])


class SeedFinishedForm(ActForm):
    def record(self, act: NewAct) -> Act:
        return seed_finished(act=act, lot=self.thing)


class SowForm(ActForm):
    pots = forms.IntegerField(
        label="Pots",
        min_value=1,
        max_value=MOST_POTS,
        initial=1,
        widget=forms.NumberInput(attrs={"inputmode": "numeric", "data-keypad": True}),
        error_messages={"required": "Say how many pots."},
    )
    pods = whole_number("Pods into each pot", 200, help_text="Pods, seeds or both: what you know.")
    seeds = whole_number("Seeds into each pot", MOST_SEEDS)
    place = place_field()
    all_of_it = forms.BooleanField(label="Nothing of this seed is left", required=False)
    pot_size = words("Size of pot", 40)
    medium = words("Medium, and how it was sterilised", 120)
    tag = blank_tag()

    def contradictions(self) -> list[Contradiction]:
        data = self.cleaned_data
        told = {name: data[name] for name in ("pots", "pods", "seeds")} | {"day": self.day_meant}
        return sowing_contradictions(self.thing, **told, without=self.corrects)

    def record(self, act: NewAct) -> Act:
        return sown(act=act, lot=self.thing, **self.facts())


class CrossPlannedForm(ActForm):
    seed_parent = CloneField(label="Seed parent (female)", required=True)
    pollen_parent = CloneField(label="Pollen parent (male)", required=True)
    wanted = whole_number("Plants wanted", 100_000)
    aim = words("What for", 200)
    family = words("Your name for the family", 60)

    def contradictions(self) -> list[Contradiction]:
        return wrong_sexes(self.cleaned_data["seed_parent"], self.cleaned_data["pollen_parent"])

    def record(self, act: NewAct) -> Act:
        return cross_planned(act=act, **self.facts())

    @classmethod
    def initial_from(cls, act: Act) -> dict[str, Any]:
        return super().initial_from(act) | _parents(act.thing.cross)


def _parents(cross: Cross) -> dict[str, Any]:
    return {"seed_parent": cross.seed_parent, "pollen_parent": cross.pollen_parent}
