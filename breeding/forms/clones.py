from typing import Any

from django import forms

from breeding.records.redetermined import clone_redetermined
from nursery.forms.base import ActForm, words
from nursery.forms.choices import CloneField
from nursery.forms.clones import TaxonChoice
from nursery.models import Act
from nursery.records.core import NewAct


class RedetermineForm(TaxonChoice, ActForm):
    """What a clone is thought to be by now: a taxon, or parents, or words; since when, and why."""

    seed_parent = CloneField(label="or of this seed parent (female)")
    pollen_parent = CloneField(label="and this pollen parent (male)")
    why = words("Why", 300, required=True, help_text="For example: its flowers, or what the seller wrote later")
    words = words("or in words", 120, help_text="For example: something with truncata in it")

    def __init__(self, *args: Any, **kwargs: Any):
        super().__init__(*args, **kwargs)
        self.fields["taxon"].label = "Now thought to be"
        self.fields["why"].error_messages["required"] = "Say why, so that others can judge it later."
        self.fields["day_said"].label = "Since when"
        self.order_fields([name for name in self.fields if name not in {"why", "day_said", "day_on", "note"}])

    def clean(self) -> dict[str, Any]:
        cleaned = super().clean()
        told = [bool(cleaned.get(name)) for name in ("taxon", "taxon_typed", "seed_parent", "pollen_parent", "words")]
        if not self.errors and not any(told):
            raise forms.ValidationError("Say what it is thought to be: a taxon, a parent, or words.")
        if any(told[:2]) and any(told[2:4]):
            raise forms.ValidationError("Choose a taxon or parents, not both.")
        return cleaned

    def record(self, act: NewAct) -> Act:
        facts = {name: self.cleaned_data[name] for name in ("seed_parent", "pollen_parent", "words", "why")}
        return clone_redetermined(act=act, clone=self.thing, taxon=self.taxon_told(), **facts)
