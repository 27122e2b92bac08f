from typing import Any

from django import forms

from nursery.forms.worded import Form
from nursery.models import Taxon
from nursery.parentage import GENUS, species


class TaxonForm(Form):
    """A species or a named hybrid, its epithet as somebody types it: "N. lowii" and "× hookeriana" are understood."""

    epithet = forms.CharField(
        label="Epithet",
        max_length=60,
        help_text="One word, such as lowii; with a sign before it for a named hybrid, such as × hookeriana.",
        widget=forms.TextInput(attrs={"autocapitalize": "off", "autocomplete": "off", "spellcheck": "false"}),
    )
    genus = forms.RegexField(
        label="Genus",
        regex=r"^[A-Z][a-z]+$",
        max_length=40,
        initial=GENUS,
        error_messages={"invalid": "Write the genus as one word with a capital, such as Nepenthes."},
    )
    rank = forms.ChoiceField(label="It is a", choices=Taxon.Rank.choices, widget=forms.RadioSelect, initial="species")
    cites = forms.ChoiceField(
        label="CITES appendix",
        choices=Taxon.Appendix.choices,
        widget=forms.RadioSelect,
        help_text="N. rajah and N. khasiana stand in Appendix I, the rest of the genus in Appendix II. Look it up in "
        "the current appendices; Tepal concludes nothing from it.",
    )
    note = forms.CharField(
        label="Note", required=False, max_length=500, widget=forms.Textarea(attrs={"rows": 2, "maxlength": 500})
    )

    def clean(self) -> dict[str, Any]:
        """The epithet without what was typed round it; a sign before it says that it is a hybrid."""
        cleaned = super().clean()
        if not {"epithet", "genus"} <= cleaned.keys():
            return cleaned
        try:
            named = species(cleaned["epithet"], genus=cleaned["genus"])
        except ValueError as error:
            self.add_error("epithet", str(error))
            return cleaned
        rank = Taxon.Rank.HYBRID if named.hybrid else cleaned.get("rank")
        return cleaned | {"epithet": named.epithet, "genus": named.genus, "rank": rank}
