from typing import Any

from django import forms
from django.utils import timezone

from nursery.days import EARLIEST, LATEST
from nursery.forms.base import ActForm
from nursery.forms.base import words as in_words
from nursery.models import Act, HouseEvent, HouseEventEnded
from nursery.records.core import Contradiction, NewAct
from nursery.records.house_log import closing_contradictions, end_contradictions, house_event, house_event_ended
from nursery.where import place_words
from nursery.words import happened


class HouseEventForm(ActForm):
    """What befell a house, bench or tray as a whole."""

    what = forms.ChoiceField(
        label="What happened",
        choices=HouseEvent.What,
        widget=forms.RadioSelect,
        error_messages={"required": "Say what happened."},
    )
    words = in_words("In words", 300, help_text="For example: fan stood still, 38 °C at the door.")
    product = in_words("Product", 120, help_text="Only for a treatment: as its label names it.")
    closed_until = forms.DateTimeField(
        label="Closed until",
        required=False,
        widget=forms.DateTimeInput(attrs={"type": "datetime-local"}, format="%Y-%m-%dT%H:%M"),
        help_text="Only for a treatment: day and time as the product's label has it. Tepal works out none.",
        error_messages={"invalid": "Write day and time as on the label, for example 2026-03-09 14:00."},
    )
    done_by = in_words("Who did it", 60, help_text="If it was not you.")
    over = forms.BooleanField(label="It is over already", required=False)

    def clean_closed_until(self):
        until = self.cleaned_data["closed_until"]
        if until is not None and not EARLIEST <= until.date() <= LATEST:
            raise forms.ValidationError(f"Give a year from {EARLIEST.year} to {LATEST.year}.")
        return until

    def clean(self) -> dict[str, Any]:
        cleaned = super().clean()
        if cleaned.get("what") and cleaned["what"] != HouseEvent.What.TREATMENT:
            for name in ("product", "closed_until"):
                if cleaned.get(name):
                    self.add_error(name, "Only a treatment has this. Leave it empty, or choose “treatment”.")
        if cleaned.get("what") == HouseEvent.What.OTHER and not cleaned.get("words") and "words" not in self.errors:
            self.add_error("words", "Say in words what happened.")
        return cleaned

    def contradictions(self) -> list[Contradiction]:
        data = self.cleaned_data
        return closing_contradictions(
            closed_until=data["closed_until"], over=data["over"], day=self.day_meant, now=timezone.now()
        )

    def record(self, act: NewAct) -> Act:
        return house_event(act=act, place=self.thing, **self.facts())


class EventField(forms.ModelChoiceField):
    def label_from_instance(self, event: HouseEvent) -> str:
        return f"{happened(event.act)}, {place_words(event.act.thing.place)}"


class HouseEventEndedForm(ActForm):
    """Which of the things told of a place is over."""

    event = EventField(
        label="What is over",
        queryset=HouseEvent.objects.none(),
        widget=forms.RadioSelect,
        empty_label=None,
        error_messages={
            "required": "Choose what is over. If nothing stands here, nothing is going on at this place.",
            "invalid_choice": "That is not in the log of this place any more.",
        },
    )

    def __init__(self, *args: Any, thing=None, **kwargs: Any):
        super().__init__(*args, thing=thing, **kwargs)
        events = HouseEvent.objects.filter(act__voided_by__isnull=True, act__thing=thing.pk, over=False)
        events = events.select_related("act__by", "act__thing__place__inside__inside").order_by("-act__recorded_at")
        self.fields["event"].queryset = events
        ended = HouseEventEnded.objects.filter(act__voided_by__isnull=True).values("event")
        self.fields["event"].initial = events.exclude(pk__in=ended).first()

    def contradictions(self) -> list[Contradiction]:
        return end_contradictions(self.cleaned_data["event"], day=self.day_meant, now=timezone.now())

    def record(self, act: NewAct) -> Act:
        return house_event_ended(act=act, event=self.cleaned_data["event"])
