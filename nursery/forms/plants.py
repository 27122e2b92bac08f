import uuid
from dataclasses import replace

from django import forms
from django.db import transaction

from nursery.forms.base import ActForm, blank_tag, words
from nursery.forms.choices import CloneField, place_field
from nursery.forms.clones import CloneFacts
from nursery.forms.worded import Form
from nursery.models import Act, Clone, PlantGone
from nursery.records import locks
from nursery.records.clones import clone_made
from nursery.records.core import Contradiction, NewAct
from nursery.records.plants import leaving_contradictions, plant_arrived, plant_gone
from nursery.records.quarantine import quarantine_contradictions


class PlantFacts(Form):
    place = place_field()
    pot = words("Pot", 40, help_text="For example: 13 cm")
    tag = blank_tag()

    def plant_facts(self) -> dict:
        return {name: self.cleaned_data.get(name) for name in ("place", "pot", "tag")}


class PlantOfCloneForm(PlantFacts, ActForm):
    """Another plant of a clone that is entered already."""

    def record(self, act: NewAct) -> Act:
        return plant_arrived(act=act, clone=self.thing, **self.plant_facts())


class CuttingForm(PlantFacts, ActForm):
    """A plant struck from the one of this page."""

    def contradictions(self) -> list[Contradiction]:
        return quarantine_contradictions([self.thing], self.day_meant)

    def record(self, act: NewAct) -> Act:
        return plant_arrived(act=act, clone=self.thing.clone, struck_from=self.thing, **self.plant_facts())


class PlantForm(CloneFacts, PlantFacts, ActForm):
    """A plant, of a clone chosen from those entered or entered with it."""

    clone = CloneField(label="A clone entered before")

    def __init__(self, *args, **kwargs):
        super().__init__(*args, **kwargs)
        first = ["clone", "taxon", "taxon_typed", "designation", "place", "pot", "tag"]
        self.order_fields([*first, *(name for name in self.fields if name not in first)])
        self.order_fields([name for name in self.fields if name not in {"day_said", "day_on", "note"}])

    def clean(self):
        cleaned = super().clean()
        told = ("clone", "taxon", "taxon_typed", "designation", "seed_parent", "pollen_parent")
        if not self.errors and not any(cleaned.get(name) for name in told):
            raise forms.ValidationError("Choose a clone, or give the species, a parent, or a word of your own for it.")
        return cleaned

    @transaction.atomic
    def record(self, act: NewAct) -> Act:
        """Both or neither: a plant that is refused leaves no clone and no species behind."""
        locks.lock(self.cleaned_data[name] for name in ("clone", "seed_parent", "pollen_parent", "place"))
        return plant_arrived(act=act, clone=self.cleaned_data["clone"] or self._clone(act), **self.plant_facts())

    def _clone(self, act: NewAct) -> Clone:
        """The clone comes with the plant under a UUID made from its own, so that a second sending makes no second."""
        made = clone_made(act=replace(act, id=uuid.uuid5(act.id, "clone"), note=""), **self.clone_facts())
        return Clone.objects.get(pk=made.thing_id)


class GoneForm(ActForm):
    why = forms.ChoiceField(label="What became of it", choices=PlantGone.Why, widget=forms.RadioSelect)

    def contradictions(self) -> list[Contradiction]:
        return leaving_contradictions(self.thing, why=self.cleaned_data["why"], day=self.day_meant)

    def record(self, act: NewAct) -> Act:
        return plant_gone(act=act, plant=self.thing, why=self.cleaned_data["why"])
