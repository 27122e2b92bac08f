"""The stocktake of a bench: what should stand there with ticks, and tags of what stands there beside."""

import re
from typing import Any

from django import forms
from django.db.models import Q

from breeding import standing
from nursery.damm import number_is_valid, read_number
from nursery.forms.base import ActForm
from nursery.models import Act, LivingThing, Tag
from nursery.records import registry
from nursery.records.core import Contradiction, NewAct
from nursery.records.stocktakes import stocktake_contradictions, stocktake_taken
from nursery.templatetags.tepal import plate
from nursery.typed_tags import near_misses

MOST_TYPED = 200


class StocktakeForm(ActForm):
    """Only what is ticked or typed was seen; only what was listed on this very page can be missed."""

    listed = forms.CharField(required=False, widget=forms.HiddenInput)
    things = forms.TypedMultipleChoiceField(
        label="Tick what you see",
        required=False,
        coerce=int,
        widget=forms.CheckboxSelectMultiple,
        error_messages={"invalid_choice": "One of these was not on this list. Open the page again."},
    )
    others = forms.CharField(
        label="Tags of what stands here and is not in the list",
        required=False,
        max_length=4000,
        widget=forms.Textarea(attrs={"rows": 3, "inputmode": "numeric"}),
        help_text="Scan or type them, one number a line.",
    )

    def __init__(self, *args: Any, thing=None, **kwargs: Any):
        super().__init__(*args, thing=thing, **kwargs)
        listed = standing.of_ids(self._listed()) if self._listed() is not None else standing.standing_in(thing)
        self.on_list = {one.pk: one for one in listed}
        self.fields["things"].choices = standing.labelled(listed)
        self.fields["things"].help_text = "" if listed else "Nothing should stand here, as the books have it."
        self.fields["listed"].initial = ",".join(str(pk) for pk in self.on_list)

    def _listed(self) -> set[int] | None:
        """The ids that the page listed when it was opened; None before it is sent."""
        told = self.data.get("listed", "") if self.is_bound else self.initial.get("listed")
        return None if told is None else {int(text) for text in re.findall(r"\b\d{1,18}\b", told, re.ASCII)}

    def clean_others(self) -> list[LivingThing]:
        typed = [one.strip() for one in re.split(r"[\n,;]+", self.cleaned_data["others"]) if one.strip()]
        if len(typed) > MOST_TYPED:
            raise forms.ValidationError(f"Send at most {MOST_TYPED} numbers at a time.")
        numbers = [_number(one) for one in typed]
        on = dict(Tag.objects.filter(number__in=numbers).values_list("number", "thing_id"))
        there = {one.pk: one for one in standing.of_ids({pk for pk in on.values() if pk})}
        wrong = [number for number in numbers if on.get(number) not in there]
        if wrong:
            raise forms.ValidationError(
                f"{plate(wrong[0])} is on no plant and no seed pot. Type the number of the plant or pot itself."
            )
        return [there[pk] for pk in dict.fromkeys(on[number] for number in numbers)]

    @property
    def seen(self) -> list[LivingThing]:
        ticked = [self.on_list[pk] for pk in self.cleaned_data["things"]]
        return list({one.pk: one for one in (*ticked, *self.cleaned_data["others"])}.values())

    def contradictions(self) -> list[Contradiction]:
        return stocktake_contradictions(self.seen)

    def record(self, act: NewAct) -> Act:
        seen = {one.pk for one in self.seen}
        missed = [one for pk, one in self.on_list.items() if pk not in seen]
        return stocktake_taken(act=act, place=self.thing, seen=self.seen, missed=missed)

    @classmethod
    def initial_from(cls, act: Act) -> dict[str, Any]:
        """The same list with the same ticks; what had been typed stands in the list too."""
        seen = list(act.links.values_list("thing_id", flat=True))
        missed = list(act.stocktake.missed.values_list("pk", flat=True))
        return super().initial_from(act) | {"things": seen, "listed": ",".join(map(str, [*seen, *missed]))}


def _meant(typed: str) -> str:
    """The tags of plants and pots that may have been meant, as a question with a space behind it; else empty."""
    tags = near_misses(typed, Q(thing__kind__in=("plant", "seedpot")))
    each = [f"{plate(tag.number)} ({registry.thing_kind(tag.thing.kind).words})" for tag in tags]
    return f"Did you mean {' or '.join(each)}? " if each else ""


def _number(typed: str) -> int:
    number = read_number(typed)
    if number is None or not number_is_valid(number):
        again = "Look at the tag again; one number a line."
        raise forms.ValidationError(f"“{typed[:20]}” is no tag number. {_meant(typed)}{again}")
    return number
