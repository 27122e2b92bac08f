from django import forms

from nursery.forms.worded import Form
from nursery.models import House


class HouseForm(Form):
    name = forms.CharField(label="The nursery's name", max_length=80)
    public_address = forms.CharField(
        label="Public address",
        max_length=120,
        required=False,
        help_text="What tags carry, such as https://tags.example. Choose a name that lasts as long as the tags: years.",
        widget=forms.TextInput(attrs={"inputmode": "url", "autocapitalize": "off", "spellcheck": "false"}),
    )
    shared_phones = forms.BooleanField(
        label="Phones may be shared",
        required=False,
        help_text=House._meta.get_field("shared_phones").help_text,
    )
    address_seen = forms.CharField(required=False, max_length=120, widget=forms.HiddenInput)
    """The new address for which its consequences for printed tags were on the page."""

    def show_consequences(self) -> None:
        """Let the page say that it shows what this valid form's address means for printed tags."""
        self.data = self.data.copy()
        self.data["address_seen"] = self.cleaned_data["public_address"]
