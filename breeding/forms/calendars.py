from django import forms

from breeding.models import CalendarAddress
from nursery.forms.worded import Form
from nursery.models import Person


class AddressForm(Form):
    """What a new address is for."""

    words = forms.CharField(
        label="What reads it",
        max_length=60,
        help_text="For example: my phone, the wall calendar. So that you know which one to end.",
        error_messages={"required": "Say in a word or two what will read it."},
    )


class EndForm(Form):
    """Which address ends: one's own, or for an owner anybody's."""

    address = forms.ModelChoiceField(
        CalendarAddress.objects.none(), error_messages={"invalid_choice": "This address is ended already."}
    )

    def __init__(self, *args, person: Person, **kwargs):
        super().__init__(*args, **kwargs)
        self.fields["address"].queryset = addresses_of(person)


def addresses_of(person: Person):
    """The addresses that somebody may end, the newest first."""
    every = CalendarAddress.objects.select_related("person").order_by("-made_at", "pk")
    return every if person.is_owner else every.filter(person=person)
