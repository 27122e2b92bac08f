from django import forms

from nursery.forms.base import ActForm, words
from nursery.forms.choices import CloneField, taxon_field
from nursery.models import Act, Clone, Taxon
from nursery.names import species
from nursery.records.clones import clone_made
from nursery.records.core import NewAct


class CloneFacts(forms.Form):
    """Which genotype it is: a taxon from the list or written out, or two parents, and a word of your own."""

    taxon = taxon_field()
    taxon_typed = words("or another species, written out", 60, help_text="For example: ampullaria")
    designation = words("Your own word or letter for it", 40)
    seed_parent = CloneField(label="Seed parent (female)")
    pollen_parent = CloneField(label="Pollen parent (male)")
    origin = forms.ChoiceField(label="Where it came from", choices=Clone.Origin, initial="unknown")
    source = words("From whom", 120)
    document = words("Document or number that came with it", 120)

    def clean_taxon_typed(self) -> str:
        typed = self.cleaned_data["taxon_typed"].strip()
        if typed:
            try:
                species(typed)
            except ValueError as error:
                raise forms.ValidationError(str(error)) from error
        return typed

    def clone_facts(self) -> dict:
        data = self.cleaned_data
        names = ("designation", "seed_parent", "pollen_parent", "origin", "source", "document")
        return {name: data[name] for name in names} | {"taxon": data["taxon"] or self._typed_taxon()}

    def _typed_taxon(self) -> Taxon | None:
        typed = self.cleaned_data["taxon_typed"]
        if not typed:
            return None
        read = species(typed)
        rank = Taxon.Rank.HYBRID if read.hybrid else Taxon.Rank.SPECIES
        return Taxon.objects.get_or_create(genus=read.genus, epithet=read.epithet, defaults={"rank": rank})[0]


class CloneForm(CloneFacts, ActForm):
    def record(self, act: NewAct) -> Act:
        return clone_made(act=act, **self.clone_facts())
