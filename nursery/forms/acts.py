"""Forms for what can be said of any thing: remark, later, stop, resume, its tag, a move."""

from datetime import timedelta

from django import forms

from nursery.forms.base import ActForm, TagNumberField, drop_fields
from nursery.forms.choices import place_field
from nursery.models import Act
from nursery.records.core import NewAct
from nursery.records.moves import moved, place_moved
from nursery.records.remarks import remarked
from nursery.records.tags import tag_bound
from nursery.records.watching import postponed, resumed, stopped
from nursery.typed_tags import BLANK


class RemarkForm(ActForm):
    words = forms.CharField(
        label="Remark",
        max_length=4000,
        widget=forms.Textarea(attrs={"rows": 4, "maxlength": 4000}),
        error_messages={"required": "Write what you want to remember."},
    )

    def __init__(self, *args, **kwargs):
        super().__init__(*args, **kwargs)
        drop_fields(self, {"note"})

    def record(self, act: NewAct) -> Act:
        return remarked(act=act, thing=self.thing, words=self.cleaned_data["words"])


class LaterForm(ActForm):
    days = forms.TypedChoiceField(
        label="Ask again",
        required=False,
        choices=[(3, "in 3 days"), (7, "in a week"), (14, "in two weeks")],
        coerce=int,
        empty_value=None,
        widget=forms.RadioSelect,
    )
    until = forms.DateField(label="or on this day", required=False, widget=forms.DateInput(attrs={"type": "date"}))

    def __init__(self, *args, **kwargs):
        super().__init__(*args, **kwargs)
        drop_fields(self, {"day_said", "day_on"})

    def clean(self):
        cleaned = super().clean()
        if not self.errors and not cleaned.get("days") and not cleaned.get("until"):
            raise forms.ValidationError("Choose when to ask again.")
        return cleaned

    def record(self, act: NewAct) -> Act:
        days, until = self.cleaned_data["days"], self.cleaned_data["until"]
        return postponed(act=act, thing=self.thing, until=until or self.today + timedelta(days=days))


class StopForm(ActForm):
    def record(self, act: NewAct) -> Act:
        return stopped(act=act, thing=self.thing)


class ResumeForm(ActForm):
    def record(self, act: NewAct) -> Act:
        return resumed(act=act, thing=self.thing)


class TagForm(ActForm):
    refused_beside = ActForm.refused_beside | {"tag": "number"}

    number = TagNumberField(
        label="Number of the blank tag",
        help_text="The tags it has had go on opening it.",
        which=BLANK,
        required=True,
        error_messages={"required": "Type the number on the tag."},
    )

    def record(self, act: NewAct) -> Act:
        return tag_bound(act=act, thing=self.thing, number=self.cleaned_data["number"])

    @classmethod
    def initial_from(cls, act: Act):
        return super().initial_from(act) | {"number": act.tagbound.tag_id}


class MoveForm(ActForm):
    place = place_field(required=True)

    def record(self, act: NewAct) -> Act:
        return moved(act=act, thing=self.thing, place=self.cleaned_data["place"])


class PlaceMoveForm(ActForm):
    """Where a tray or bench stands from then on, with all that is on it."""

    inside = place_field(required=True, label="To which place")

    def record(self, act: NewAct) -> Act:
        return place_moved(act=act, place=self.thing, inside=self.cleaned_data["inside"])
