from typing import Any

from django import forms
from django.utils import timezone

from nursery.days import Day
from nursery.forms.base import ActForm
from nursery.forms.base import words as in_words
from nursery.models import Act, SampleResult, SampleSent
from nursery.records.core import NewAct
from nursery.records.quarantine import quarantined, released, sample_result, sample_sent


class QuarantineForm(ActForm):
    reason = in_words("Why", 120, required=True, help_text="For example: mosaic on the new leaves.")

    def record(self, act: NewAct) -> Act:
        return quarantined(act=act, plant=self.thing, reason=self.cleaned_data["reason"])


class ReleaseForm(ActForm):
    def record(self, act: NewAct) -> Act:
        return released(act=act, plant=self.thing)


class SampleSentForm(ActForm):
    to_whom = in_words("To whom", 120, required=True, help_text="For example: the plant clinic.")
    what_for = in_words("For what", 120, help_text="For example: tobacco mosaic virus.")

    def record(self, act: NewAct) -> Act:
        return sample_sent(act=act, plant=self.thing, **self.facts())


class SampleField(forms.ModelChoiceField):
    def label_from_instance(self, sample: SampleSent) -> str:
        act = sample.act
        day = Day(act.day_first, act.day_last, act.said)
        return f"{sample.what_for or 'sample'}, to {sample.to_whom}, {day.words(timezone.localdate())}"


class SampleResultForm(ActForm):
    sample = SampleField(
        label="Of which sample",
        queryset=SampleSent.objects.none(),
        required=False,
        empty_label="not said",
        error_messages={"invalid_choice": "That is no sample of this plant. Choose one of the list."},
    )
    found = forms.ChoiceField(label="What was looked for was", choices=SampleResult.Found, widget=forms.RadioSelect)
    words = in_words("In their words", 300)

    def __init__(self, *args: Any, thing=None, **kwargs: Any):
        super().__init__(*args, thing=thing, **kwargs)
        samples = SampleSent.objects.filter(act__thing=thing.pk, act__voided_by__isnull=True)
        self.fields["sample"].queryset = samples.select_related("act").order_by("-act__recorded_at")
        self.fields["sample"].initial = samples.exclude(
            results__act__voided_by__isnull=True, results__isnull=False
        ).first()

    def record(self, act: NewAct) -> Act:
        return sample_result(act=act, plant=self.thing, **self.facts())
