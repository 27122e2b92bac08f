from django import forms

from nursery.models import House


class HouseForm(forms.Form):
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
