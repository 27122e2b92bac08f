from typing import Any

from django import forms

from breeding.models import PotCleared, SeedPot
from breeding.models.seed import MOST_SEEDS
from breeding.models.sowing import MOST_PODS
from breeding.models.sowing_sessions import Sterilised
from breeding.records.contradictions.sowing import (
    clearing_contradictions,
    planning_contradictions,
    pot_sowing_contradictions,
    putting_off_contradictions,
)
from breeding.records.sowing import lines_of, pot_cleared, pot_sown, sowing_changed, sowing_planned
from nursery.forms.base import ActForm, drop_fields, whole_number, words
from nursery.forms.choices import place_field
from nursery.models import Act
from nursery.records.core import Contradiction, NewAct

AS_PLANNED = "planned"


def planned_for_field() -> forms.DateField:
    return forms.DateField(
        label="Planned for",
        widget=forms.DateInput(attrs={"type": "date"}, format="%Y-%m-%d"),
        error_messages={"required": "Say for which day it is planned."},
    )


def sterilised_field() -> forms.ChoiceField:
    return forms.ChoiceField(label="How it was sterilised", choices=Sterilised, required=False, initial="unknown")


class PotSownForm(ActForm):
    """Seed that goes into a prepared pot; the quick answer sends ``quick=planned``: the amount is the planned one."""

    seeds = whole_number("Seeds", MOST_SEEDS)
    pods = whole_number("Pods", MOST_PODS, help_text="Seeds or pods: whichever you count.")
    all_of_it = forms.BooleanField(label="Nothing of this seed is left", required=False)

    def __init__(self, data: Any = None, *args: Any, thing: SeedPot | None = None, **kwargs: Any):
        kwargs["initial"] = _planned(thing) | (kwargs.get("initial") or {})
        super().__init__(_with_planned(data, thing), *args, thing=thing, **kwargs)

    def contradictions(self) -> list[Contradiction]:
        told = {name: self.cleaned_data[name] for name in ("seeds", "pods")}
        return pot_sowing_contradictions(self.thing, **told, day=self.day_meant, without=self.corrects)

    def record(self, act: NewAct) -> Act:
        return pot_sown(act=act, pot=self.thing, **self.facts())


def _planned(pot: SeedPot | None) -> dict[str, Any]:
    return {"seeds": pot.planned_seeds, "pods": pot.planned_pods} if pot else {}


def _with_planned(data: Any, pot: SeedPot | None) -> Any:
    if not data or data.get("quick") != AS_PLANNED:
        return data
    told = data.copy()
    told.update({name: "" if value is None else str(value) for name, value in _planned(pot).items()})
    return told


class PotClearedForm(ActForm):
    why = forms.ChoiceField(
        label="Why it was not sown",
        choices=PotCleared.Why,
        widget=forms.RadioSelect,
        error_messages={"required": "Say why."},
    )
    why_words = words("In words, if it is something else", 120)

    def contradictions(self) -> list[Contradiction]:
        return clearing_contradictions(self.thing, without=self.corrects)

    def record(self, act: NewAct) -> Act:
        return pot_cleared(act=act, pot=self.thing, **self.facts())


class SowingPlannedForm(ActForm):
    """Puts right what a plan says of the evening. Its pots stay, and so does the density that filled them."""

    planned_for = planned_for_field()
    place = place_field(label="They will stand")
    medium = words("Medium", 120)
    sterilised = sterilised_field()
    sterilised_words = words("In words, if it was some other way", 120)

    def __init__(self, *args: Any, **kwargs: Any):
        super().__init__(*args, **kwargs)
        self.plan = self.corrects.sowingplanned
        self.fields["place"] = place_field(label=self.fields["place"].label, also=self.plan.place_id)
        drop_fields(self, {"day_said", "day_on"})

    def contradictions(self) -> list[Contradiction]:
        return planning_contradictions(self.cleaned_data["planned_for"], day=self.day_meant, today=self.today)

    def record(self, act: NewAct) -> Act:
        facts = self.facts()
        facts["sterilised"] = facts["sterilised"] or "unknown"
        return sowing_planned(act=act, lines=lines_of(self.corrects), density=self.plan.density, **facts)


class SowingChangeForm(ActForm):
    planned_for = planned_for_field()
    medium = words("Medium", 120)
    sterilised = sterilised_field()
    sterilised_words = words("In words, if it was some other way", 120)

    def __init__(self, *args: Any, **kwargs: Any):
        thing = kwargs.get("thing")
        names = ("planned_for", "medium", "sterilised", "sterilised_words")
        now = {name: getattr(thing, name) for name in names} if thing else {}
        kwargs["initial"] = now | (kwargs.get("initial") or {})
        super().__init__(*args, **kwargs)
        drop_fields(self, {"day_said", "day_on"})

    def contradictions(self) -> list[Contradiction]:
        told = {"on": self.day_meant, "today": self.today, "without": self.corrects}
        return putting_off_contradictions(self.thing, self.cleaned_data["planned_for"], **told)

    def record(self, act: NewAct) -> Act:
        facts = self.facts()
        facts["sterilised"] = facts["sterilised"] or "unknown"
        return sowing_changed(act=act, session=self.thing, **facts)
