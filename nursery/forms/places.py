from django import forms

from nursery.forms.base import ActForm, drop_fields, whole_number, words
from nursery.forms.choices import place_field
from nursery.models import Act, Place
from nursery.records.core import NewAct
from nursery.records.places import place_made, place_renamed, room_told


class PlaceForm(ActForm):
    name = words("Name", 60, required=True)
    size = forms.ChoiceField(label="What it is", choices=Place.Size, widget=forms.RadioSelect)
    inside = place_field(label="Inside")
    order = whole_number("Its turn when you walk", 9999, help_text="Small numbers first.")

    def __init__(self, *args, **kwargs):
        super().__init__(*args, **kwargs)
        drop_fields(self, {"day_said", "day_on", "note"})

    def record(self, act: NewAct) -> Act:
        return place_made(act=act, **(self.facts() | {"order": self.cleaned_data["order"] or 0}))


class PlaceRenameForm(ActForm):
    name = words("Name", 60, required=True)
    order = whole_number("Its turn when you walk", 9999, help_text="Small numbers first.")

    def __init__(self, *args, thing=None, **kwargs):
        now = {"name": thing.name, "order": thing.order} if thing else {}
        super().__init__(*args, thing=thing, **(kwargs | {"initial": now | (kwargs.get("initial") or {})}))
        drop_fields(self, {"day_said", "day_on", "note"})

    def record(self, act: NewAct) -> Act:
        data = self.cleaned_data
        return place_renamed(act=act, place=self.thing, name=data["name"], order=data["order"] or 0)


class RoomForm(ActForm):
    pots = whole_number("Seed pots that it takes when it is full", 30_000, help_text="Left empty, it is not known.")

    def __init__(self, *args, thing=None, **kwargs):
        now = {"pots": thing.room} if thing else {}
        super().__init__(*args, thing=thing, **(kwargs | {"initial": now | (kwargs.get("initial") or {})}))
        drop_fields(self, {"day_said", "day_on"})

    def record(self, act: NewAct) -> Act:
        return room_told(act=act, place=self.thing, **self.facts())
