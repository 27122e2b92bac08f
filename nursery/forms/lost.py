from django import forms

from nursery.forms.base import words
from nursery.forms.choices import place_field
from nursery.forms.worded import Form
from nursery.models import Place
from nursery.records import registry


class LostForm(Form):
    """What is known of a thing whose tag is gone: what it is, where it stands, words of its name or parents."""

    kind = forms.ChoiceField(label="What is it?", required=False, error_messages={"invalid_choice": "Choose a kind."})
    place = place_field(label="Where does it stand?")
    q = words("Words of its name or parents", 100)

    def __init__(self, *args, **kwargs):
        super().__init__(*args, **kwargs)
        kinds = [kind for kind in registry.thing_kinds().values() if kind.tagged and kind.model is not Place]
        self.fields["kind"].choices = [("", "not said"), *((kind.code, kind.words) for kind in kinds)]

    def codes(self) -> list[str]:
        """The kinds that it may be."""
        chosen = self.cleaned_data["kind"]
        return [chosen] if chosen else [code for code, _ in self.fields["kind"].choices if code]
