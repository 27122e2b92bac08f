from typing import Any

from django import forms
from django.utils import timezone

from breeding.models.pollen import PollenStorage
from breeding.models.posted import HowMuch
from breeding.models.seed import MOST_SEEDS, SeedStorage
from breeding.records.contradictions.packets import packet_contradictions, pollen_sent_contradictions
from breeding.records.contradictions.seed import gone_contradictions, seed_sent_contradictions
from breeding.records.posted import SENT, outcome_told, pollen_sent, pollen_split, seed_sent, seed_split
from nursery.days import Day
from nursery.forms.base import ActForm, blank_tag, whole_number, words
from nursery.models import Act
from nursery.records.core import Contradiction, NewAct


def _storage(choices: type[PollenStorage] | type[SeedStorage]) -> forms.ChoiceField:
    return forms.ChoiceField(label="The new part is kept", choices=choices, widget=forms.RadioSelect, initial="unknown")


class SentForm(ActForm):
    """Something went to somebody, in words."""

    to_whom = words("To whom", 120, required=True, help_text="In words, such as: the friend who writes")
    extent = forms.ChoiceField(label="How much", choices=HowMuch, widget=forms.RadioSelect, initial="part")
    document = words("Document or number that went with it", 120)

    def __init__(self, *args: Any, **kwargs: Any):
        super().__init__(*args, **kwargs)
        self.fields["to_whom"].error_messages["required"] = "Say to whom it went, in words."


class PollenSentForm(SentForm):
    def contradictions(self) -> list[Contradiction]:
        return pollen_sent_contradictions(self.thing, self.day_meant, without=self.corrects)

    def record(self, act: NewAct) -> Act:
        return pollen_sent(act=act, lot=self.thing, **self.facts())


class SeedSentForm(SentForm):
    seeds = whole_number("About how many seeds", MOST_SEEDS)

    def contradictions(self) -> list[Contradiction]:
        seeds = self.cleaned_data["seeds"]
        return seed_sent_contradictions(self.thing, seeds=seeds, day=self.day_meant, without=self.corrects)

    def record(self, act: NewAct) -> Act:
        return seed_sent(act=act, lot=self.thing, **self.facts())


class PollenSplitForm(ActForm):
    storage = _storage(PollenStorage)
    tag = blank_tag()

    def contradictions(self) -> list[Contradiction]:
        return packet_contradictions(self.thing, self.day_meant, without=self.corrects)

    def record(self, act: NewAct) -> Act:
        return pollen_split(act=act, lot=self.thing, **self.facts())


class SeedSplitForm(ActForm):
    storage = _storage(SeedStorage)
    seeds = whole_number("About how many seeds go into the new part", MOST_SEEDS)
    tag = blank_tag()

    def contradictions(self) -> list[Contradiction]:
        seeds = self.cleaned_data["seeds"]
        return gone_contradictions(self.thing, seeds=seeds, day=self.day_meant, without=self.corrects)

    def record(self, act: NewAct) -> Act:
        return seed_split(act=act, lot=self.thing, **self.facts())


class OutcomeForm(ActForm):
    """What somebody told about what we sent them."""

    told_by = words("Told by whom", 120)
    sent = forms.ModelChoiceField(
        queryset=Act.objects.none(),
        label="Of what was sent",
        empty_label=None,
        error_messages={
            "required": "Nothing of it was sent anywhere yet. Record that first.",
            "invalid_choice": "That was not sent anywhere. Choose what was sent.",
        },
    )
    words = forms.CharField(
        label="What came of it",
        max_length=1000,
        widget=forms.Textarea(attrs={"rows": 3, "maxlength": 1000}),
        error_messages={"required": "Write what came of it."},
    )

    def __init__(self, *args: Any, **kwargs: Any):
        super().__init__(*args, **kwargs)
        self.fields["day_said"].label = "Told when"
        of_this = Act.objects.filter(thing=self.thing.pk, kind__in=SENT, voided_by__isnull=True)
        field = self.fields["sent"]
        field.queryset = of_this.select_related("pollensent", "seedsent").order_by("-recorded_at")
        field.label_from_instance = sent_words
        self.order_fields(["sent", "words", "told_by", "day_said", "day_on", "note"])

    def record(self, act: NewAct) -> Act:
        return outcome_told(act=act, **self.facts())


def sent_words(act: Act) -> str:
    """One sending in words: "to the friend who writes, 3 Mar 2026"."""
    detail = act.pollensent if act.kind == "pollen_sent" else act.seedsent
    day = Day(act.day_first, act.day_last, act.said)
    return f"to {detail.to_whom}, {day.words(timezone.localdate())}"
