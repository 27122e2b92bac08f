from django import forms

from breeding.models import PotLoss, PotTrouble
from breeding.models.pots import PotSeen
from breeding.records.contradictions import pot_contradictions
from breeding.records.pots import pot_looked_at, seedlings_lost, trouble_seen
from nursery.forms.base import ActForm, whole_number
from nursery.models import Act
from nursery.records.core import Contradiction, NewAct


class PotLookForm(ActForm):
    seen = forms.ChoiceField(
        label="Seedlings",
        choices=PotSeen,
        widget=forms.RadioSelect,
        error_messages={"required": "Say what you see, or “can't tell”."},
    )
    counted = whole_number("Seedlings, if you counted them", 10_000)

    def contradictions(self) -> list[Contradiction]:
        return pot_contradictions(self.thing, day=self.day_meant, **self.facts(), without=self.corrects)

    def record(self, act: NewAct) -> Act:
        return pot_looked_at(act=act, pot=self.thing, **self.facts())


class PotLossForm(ActForm):
    lost = forms.IntegerField(
        label="Seedlings lost since the last count",
        min_value=1,
        max_value=10_000,
        widget=forms.NumberInput(attrs={"inputmode": "numeric", "data-keypad": True}),
        error_messages={"required": "Say how many.", "invalid": "Write a whole number."},
    )
    why = forms.ChoiceField(label="Why", choices=PotLoss.Why, widget=forms.RadioSelect, initial="unknown")

    def record(self, act: NewAct) -> Act:
        return seedlings_lost(act=act, pot=self.thing, **self.facts())


class PotTroubleForm(ActForm):
    what = forms.ChoiceField(
        label="What you see",
        choices=PotTrouble.What,
        widget=forms.RadioSelect,
        error_messages={"required": "Choose what you see."},
    )

    def record(self, act: NewAct) -> Act:
        return trouble_seen(act=act, pot=self.thing, what=self.cleaned_data["what"])
