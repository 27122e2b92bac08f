"""Which part of the journal somebody wants to see."""

from datetime import date, datetime, time, timedelta
from typing import Any

from django import forms
from django.db.models import Q, QuerySet
from django.utils import timezone

from nursery.days import EARLIEST, LATEST
from nursery.forms.base import TagNumberField
from nursery.forms.worded import Form
from nursery.models import Act, ActLink, Person, Tag
from nursery.records import registry


class JournalFilter(Form):
    by = forms.ModelChoiceField(
        queryset=Person.objects.order_by("name"),
        label="By",
        required=False,
        empty_label="anybody",
        error_messages={"invalid_choice": "Nobody here has that number. Choose a name."},
    )
    kind = forms.ChoiceField(
        label="What",
        required=False,
        error_messages={"invalid_choice": "No act is called that. Choose one from the list."},
    )
    day = forms.DateField(
        label="Recorded on",
        required=False,
        widget=forms.DateInput(attrs={"type": "date"}, format="%Y-%m-%d"),
    )

    number = TagNumberField(label="Number on its tag")
    undone = forms.ChoiceField(
        label="Undone or not",
        required=False,
        choices=[("", "both"), ("only", "undone only")],
        error_messages={"invalid_choice": "Choose one from the list."},
    )

    def __init__(self, *args: Any, **kwargs: Any):
        super().__init__(*args, **kwargs)
        kinds = [kind for kind in registry.act_kinds().values() if kind.code != "void"]
        by_words = sorted((kind.words, kind.code) for kind in kinds)
        self.fields["kind"].choices = [("", "anything"), *((code, words) for words, code in by_words)]

    def clean_day(self) -> date | None:
        day = self.cleaned_data["day"]
        if day is not None and not EARLIEST <= day <= LATEST:
            raise forms.ValidationError(f"Give a year from {EARLIEST.year} to {LATEST.year}.")
        return day

    def clean_number(self) -> int | None:
        number = self.cleaned_data["number"]
        if number is not None and not Tag.objects.filter(number=number, thing__isnull=False).exists():
            raise forms.ValidationError("Nothing carries this number. Look at the tag again.")
        return number

    def chosen(self, acts: QuerySet[Act]) -> QuerySet[Act]:
        """The acts that pass; what was not understood is said beside its field and lets all pass."""
        self.full_clean()
        told = self.cleaned_data
        if told.get("by"):
            acts = acts.filter(by=told["by"])
        if told.get("kind"):
            acts = acts.filter(kind=told["kind"])
        if told.get("day"):
            acts = acts.filter(recorded_at__range=_from_midnight_to_midnight(told["day"]))
        if told.get("number"):
            acts = acts.filter(_about(told["number"]))
        if told.get("undone"):
            acts = acts.filter(voided_by__isnull=False)
        return acts


def _about(number: int) -> Q:
    """Acts on the thing that carries this number or did, and those that touched it."""
    things = Tag.objects.filter(number=number).values("thing")
    return Q(thing__in=things) | Q(pk__in=ActLink.objects.filter(thing__in=things).values("act"))


def _from_midnight_to_midnight(day: date) -> tuple[datetime, datetime]:
    """The local day's first and last moment, also where clocks change on it."""
    start = timezone.make_aware(datetime.combine(day, time.min))
    end = timezone.make_aware(datetime.combine(day + timedelta(days=1), time.min))
    return start, end - timedelta(microseconds=1)
