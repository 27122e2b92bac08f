from django import forms

from breeding.models.spikes import SexFrom, SpikeSeen, SpikeSex
from breeding.records.contradictions.spikes import found_contradictions, spike_look_contradictions
from breeding.records.spikes import spike_found, spike_looked
from nursery.forms.base import ActForm, blank_tag, words
from nursery.forms.worded import Form
from nursery.models import Act
from nursery.records.core import Contradiction, NewAct

NOT_JUDGED = ("", "not judged")


class SpikeSight(Form):
    """What a spike shows. A quick answer sends it all as one value: seen-sex-from, for example ``buds-female-buds``."""

    seen = forms.ChoiceField(
        label="What you see",
        choices=SpikeSeen,
        widget=forms.RadioSelect,
        error_messages={"required": "Say what you see, or “can't tell”."},
    )
    sex = forms.ChoiceField(
        label="Sex",
        required=False,
        choices=[NOT_JUDGED, *SpikeSex.choices],
        widget=forms.RadioSelect,
        initial="",
        help_text="Male buds are round, as wide as tall; female buds are longer than wide. Open flowers are certain.",
    )
    sex_from = forms.ChoiceField(
        label="Read from", required=False, choices=[NOT_JUDGED, *SexFrom.choices], widget=forms.RadioSelect, initial=""
    )

    def __init__(self, data=None, *args, **kwargs):
        super().__init__(_with_quick_answer(data), *args, **kwargs)

    def clean(self):
        cleaned = super().clean()
        if cleaned.get("sex") and not cleaned.get("sex_from"):
            cleaned["sex_from"] = "flowers" if cleaned.get("seen") in {"open", "showing", "over"} else "buds"
        if not cleaned.get("sex"):
            cleaned["sex_from"] = ""
        return cleaned

    def look(self) -> dict[str, str]:
        return {name: self.cleaned_data[name] for name in ("seen", "sex", "sex_from")}


def _with_quick_answer(data):
    if not data or "quick" not in data:
        return data
    seen, sex, sex_from = (data["quick"].split("-") + ["", "", ""])[:3]
    told = data.copy()
    told.update({"seen": seen, "sex": sex, "sex_from": sex_from})
    return told


class SpikeFoundForm(SpikeSight, ActForm):
    position = words("Where on the plant", 60, help_text="For example: the second growth point")
    tag = blank_tag()

    def contradictions(self) -> list[Contradiction]:
        return found_contradictions(self.thing, sex=self.cleaned_data["sex"], without=self.corrects)

    def record(self, act: NewAct) -> Act:
        facts = {"position": self.cleaned_data["position"], "tag": self.cleaned_data.get("tag")}
        return spike_found(act=act, plant=self.thing, **facts, **self.look())


class SpikeLookForm(SpikeSight, ActForm):
    def contradictions(self) -> list[Contradiction]:
        return spike_look_contradictions(self.thing, day=self.day_meant, **self.look(), without=self.corrects)

    def record(self, act: NewAct) -> Act:
        return spike_looked(act=act, spike=self.thing, **self.look())
