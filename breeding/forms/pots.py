from typing import Any

from django import forms

from breeding.models import PotGone, PotLoss, PotTrouble
from breeding.models.posted import HowMuch
from breeding.models.pots import MOST_SEEDLINGS, PotSeen
from breeding.records.contradictions.pots import pot_contradictions, pot_leaving_contradictions, split_contradictions
from breeding.records.pots import (
    MOST_POTS,
    NO_SEEDLINGS,
    pot_gone,
    pot_looked_at,
    pot_split,
    seedlings_lost,
    trouble_seen,
)
from nursery.forms.base import ActForm, blank_tag, whole_number, words
from nursery.forms.choices import place_field
from nursery.models import Act
from nursery.records.core import Contradiction, NewAct


class PotLookForm(ActForm):
    seen = forms.ChoiceField(
        label="Seedlings",
        choices=PotSeen,
        widget=forms.RadioSelect,
        error_messages={"required": "Say what you see, or “can't tell”."},
    )
    counted = whole_number("Seedlings, if you counted them", MOST_SEEDLINGS)

    def contradictions(self) -> list[Contradiction]:
        return pot_contradictions(self.thing, day=self.day_meant, **self.facts(), without=self.corrects)

    def record(self, act: NewAct) -> Act:
        return pot_looked_at(act=act, pot=self.thing, **self.facts())


class PotLossForm(ActForm):
    lost = forms.IntegerField(
        label="Seedlings lost since the last count",
        min_value=1,
        max_value=MOST_SEEDLINGS,
        widget=forms.NumberInput(attrs={"inputmode": "numeric", "data-keypad": True}),
        error_messages={"required": "Say how many."},
    )
    why = forms.ChoiceField(label="Why", choices=PotLoss.Why, widget=forms.RadioSelect, initial="unknown")

    def record(self, act: NewAct) -> Act:
        return seedlings_lost(act=act, pot=self.thing, **self.facts())


class PotGoneForm(ActForm):
    why = forms.ChoiceField(
        label="What became of it",
        choices=PotGone.Why,
        widget=forms.RadioSelect,
        error_messages={"required": "Choose what became of it."},
    )

    def contradictions(self) -> list[Contradiction]:
        return pot_leaving_contradictions(self.thing, day=self.day_meant, **self.facts(), without=self.corrects)

    def record(self, act: NewAct) -> Act:
        return pot_gone(act=act, pot=self.thing, **self.facts())


class PotTroubleForm(ActForm):
    what = forms.ChoiceField(
        label="What you see",
        choices=PotTrouble.What,
        widget=forms.RadioSelect,
        error_messages={"required": "Choose what you see."},
    )

    def record(self, act: NewAct) -> Act:
        return trouble_seen(act=act, pot=self.thing, what=self.cleaned_data["what"])


class PotSplitForm(ActForm):
    """Seedlings that went into new pots, as many into each; others are told by a split of their own."""

    pots = forms.IntegerField(
        label="New pots",
        min_value=1,
        max_value=MOST_POTS,
        widget=forms.NumberInput(attrs={"inputmode": "numeric", "data-keypad": True}),
        error_messages={"required": "Say how many new pots."},
    )
    seedlings = whole_number(
        "Seedlings into each",
        MOST_SEEDLINGS,
        least=1,
        help_text="Empty if you can't tell. If some pots got another number, tell those as a second split.",
    )
    extent = forms.ChoiceField(
        label="And the old pot",
        choices=((HowMuch.PART, "some stay in it, it goes on"), (HowMuch.ALL, "none stays, it is done")),
        widget=forms.RadioSelect,
        error_messages={"required": "Say whether seedlings stay in the old pot."},
    )
    place = place_field(label="Where the new pots stand")
    pot_size = words("Size of the new pots", 40)
    medium = words("Medium, and how it was sterilised", 120)
    tag = blank_tag()

    def __init__(self, *args: Any, **kwargs: Any):
        super().__init__(*args, **kwargs)
        self.fields["seedlings"].error_messages["min_value"] = NO_SEEDLINGS
        if self.corrects is None:
            self.fields["place"].initial = self.thing.place_id  # they mostly stay beside the old pot

    def contradictions(self) -> list[Contradiction]:
        told = {name: self.cleaned_data[name] for name in ("pots", "seedlings", "extent")}
        return split_contradictions(self.thing, **told, day=self.day_meant, without=self.corrects)

    def record(self, act: NewAct) -> Act:
        return pot_split(act=act, pot=self.thing, **self.facts())
