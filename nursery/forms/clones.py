from typing import Any

from django import forms

from nursery.forms.base import ActForm, words
from nursery.forms.choices import CloneField, taxon_field
from nursery.forms.worded import Form
from nursery.models import Act, Clone, Taxon
from nursery.names import species
from nursery.records.clones import clone_made
from nursery.records.core import NewAct
from nursery.records.taxa import facts_written_out


class TaxonChoice(Form):
    """A taxon from the list, or another one written out, which is then listed."""

    taxon = taxon_field()
    taxon_typed = words("or another species, written out", 60, help_text="For example: ampullaria")

    def clean_taxon_typed(self) -> str:
        typed = self.cleaned_data["taxon_typed"].strip()
        if typed:
            try:
                species(typed)
            except ValueError as error:
                raise forms.ValidationError(str(error)) from error
        return typed

    def taxon_told(self) -> Taxon | None:
        """The taxon meant, if any; one written out is added to the list when it is not there yet."""
        typed = self.cleaned_data["taxon_typed"]
        if self.cleaned_data["taxon"] or not typed:
            return self.cleaned_data["taxon"]
        told = facts_written_out(species(typed))
        return Taxon.objects.get_or_create(genus=told.pop("genus"), epithet=told.pop("epithet"), defaults=told)[0]


class CloneFacts(TaxonChoice):
    """Which genotype it is: a taxon, or two parents, and a word of your own."""

    designation = words("Your own word or letter for it", 40)
    seed_parent = CloneField(label="Seed parent (female)")
    pollen_parent = CloneField(label="Pollen parent (male)")
    origin = forms.ChoiceField(label="Where it came from", choices=Clone.Origin, initial="unknown")
    source = words("From whom", 120)
    document = words("Document or number that came with it", 120)

    def clone_facts(self) -> dict:
        data = self.cleaned_data
        names = ("designation", "seed_parent", "pollen_parent", "origin", "source", "document")
        return {name: data[name] for name in names} | {"taxon": self.taxon_told()}


class CloneForm(CloneFacts, ActForm):
    words_only = forms.BooleanField(label="Known by words only: no plant of it here", required=False)

    def __init__(self, *args: Any, **kwargs: Any):
        super().__init__(*args, **kwargs)
        last = ["words_only", "day_said", "day_on", "note"]
        self.order_fields([*(name for name in self.fields if name not in last), *last])

    def record(self, act: NewAct) -> Act:
        return clone_made(act=act, **self.clone_facts(), words_only=self.cleaned_data["words_only"])
