from dataclasses import dataclass
from typing import Any

from django import forms

from breeding.records.expectations import TimingFacts
from breeding.science.shipped import SHIPPED, STRENGTHS
from breeding.words.risk import risk_words
from nursery.forms.worded import Form
from nursery.models import Taxon

RISKS = (0.001, 0.002, 0.005, 0.01, 0.02, 0.05, 0.1, 0.2)
OWN_LOG = "own"
STRENGTH_WORDS = STRENGTHS | {OWN_LOG: "our own log or judgement"}


def days(label: str, *, least: int, most: int = 3650, help_text: str = "") -> forms.IntegerField:
    return forms.IntegerField(
        label=label,
        min_value=least,
        max_value=most,
        help_text=help_text,
        widget=forms.NumberInput(attrs={"inputmode": "numeric"}),
        error_messages={"invalid": "Write a whole number of days."},
    )


class TimingForm(Form):
    """How long a step takes and how closely it is watched."""

    low = days("Four of five take at least", least=1, help_text="Days; one in ten is quicker.")
    high = days("and at most", least=2, help_text="Days; one in ten is slower. The middle follows from the two.")
    grace_plain = days("Days of grace", least=0, most=366, help_text="From when it happens to when it is lost unseen.")
    grace_bagged = days("Days of grace in a bag", least=0, most=366)
    risk = forms.TypedChoiceField(
        label="Risk you accept of coming too late",
        coerce=float,
        help_text="For each thing, from start to end, spread over the looks at it. A smaller risk means more looks.",
    )
    longest_gap = days("Longest gap between looks", least=1, most=366, help_text="Days; nothing is left alone longer.")
    source = forms.CharField(
        label="Where this comes from", max_length=300, widget=forms.Textarea(attrs={"rows": 2, "maxlength": 300})
    )
    strength = forms.ChoiceField(label="How sure that is", choices=list(STRENGTH_WORDS.items()))
    note = forms.CharField(
        label="Note", required=False, max_length=300, widget=forms.Textarea(attrs={"rows": 2, "maxlength": 300})
    )

    as_it_stands = forms.BooleanField(
        label="Use this window as it stands",
        required=False,
        help_text="Otherwise it says what to expect before anything is seen, and your own log learns on top of it.",
    )

    def __init__(self, *args: Any, **kwargs: Any):
        super().__init__(*args, **kwargs)
        now = self.initial.get("risk")
        risks = sorted({*RISKS, *([now] if now else [])})
        self.fields["risk"].choices = [(risk, risk_words(risk)) for risk in risks]

    def clean(self) -> dict[str, Any]:
        cleaned = super().clean()
        if {"low", "high"} <= cleaned.keys() and cleaned["low"] >= cleaned["high"]:
            self.add_error("high", "The window must close after it opens. Give more days here, or fewer above.")
        return cleaned

    def facts(self) -> TimingFacts:
        """What was typed, without the step and taxon."""
        return TimingFacts(**{name: self.cleaned_data[name] for name in TimingForm.base_fields})


@dataclass(frozen=True)
class Accepted:
    """What may be lost because nobody looked in time: by the steps that are watched for it."""

    code: str
    thing: str
    words: str
    steps: tuple[str, ...]


ACCEPTED = (
    Accepted("pods", "pod", "Pods that open and drop their seed", ("ripe", "turning")),
    Accepted("spikes", "spike", "Spikes whose first flowers are missed", ("spike_open",)),
    Accepted("pots", "pot", "Pots whose first seedlings are missed", ("germination", "germination_old")),
)


class RiskForm(Form):
    """The accepted risks in plain words; each choice sets the number in every timing of its steps."""

    def __init__(self, *args: Any, **kwargs: Any):
        super().__init__(*args, **kwargs)
        for one in ACCEPTED:
            self.fields[one.code] = _risk_field(one, self.initial.get(one.code))

    def told(self) -> list[tuple[Accepted, float]]:
        return [(one, self.cleaned_data[one.code]) for one in ACCEPTED]


def _risk_field(one: Accepted, now: float | None) -> forms.TypedChoiceField:
    choices = [(risk, risk_words(risk, one.thing)) for risk in sorted({*RISKS, *([now] if now else [])})]
    wrong = {"invalid_choice": "Choose one of the shares listed.", "required": "Choose how much may be lost."}
    return forms.TypedChoiceField(label=one.words, coerce=float, choices=choices, error_messages=wrong)


class NewTimingForm(TimingForm):
    """A timing for one taxon, beside the one for all."""

    step = forms.ChoiceField(label="Step", choices=[(row.step, row.words) for row in SHIPPED])
    taxon = forms.ModelChoiceField(
        queryset=Taxon.objects.all(),
        label="Taxon",
        empty_label="choose one",
        error_messages={"required": "Choose a taxon.", "invalid_choice": "This taxon is not listed. Choose another."},
    )
    field_order = ["step", "taxon"]
