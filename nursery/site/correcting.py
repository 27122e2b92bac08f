"""What a correction may say beside the facts: that the act was on another thing than the one it was told of."""

from functools import cache
from typing import Any

from django import forms
from django.db.models import Q

from breeding.words.names import name_parts
from nursery.forms.base import ActForm, TagNumberField
from nursery.forms.worded import Form
from nursery.models import LivingThing, Tag
from nursery.records import registry
from nursery.records.prepared import Prepared
from nursery.site import fetch
from nursery.templatetags.tepal import plate

KINDS = frozenset({"clone", "plant", "spike", "section", "pollenlot", "seedlot", "seedpot"})
MOST_CHOICES = 60
FIELDS = ("other", "other_number")


class OtherThing(Form):
    """Which other thing of the same kind it was, if it was: one of those entered last, or any by its number."""

    other = forms.ChoiceField(required=False)
    other_number = TagNumberField()

    def __init__(self, data: Any = None, *, thing: LivingThing):
        super().__init__(data)
        self.thing = thing
        kind = registry.thing_kind(thing.kind)
        choose, number = self.fields["other"], self.fields["other_number"]
        choose.label = f"It was another {kind.words}"
        choose.choices = [("", "no, it is the right one"), *_choices(thing)]
        number.label = "or the number on its tag"
        number.which = Q(thing__kind=thing.kind)
        if kind.tagged:
            choose.help_text = f"Only the {MOST_CHOICES} entered last are listed. Of any other, type the number."
        else:
            del self.fields["other_number"]

    def clean_other_number(self) -> LivingThing | None:
        number = self.cleaned_data["other_number"]
        if number is None:
            return None
        tag = Tag.objects.filter(number=number, thing__kind=self.thing.kind).select_related("thing").first()
        if tag is None:
            words = registry.thing_kind(self.thing.kind).words
            raise forms.ValidationError(f"This is the number of no {words}. Look at it again.")
        return registry.instance_of(tag.thing)

    def clean(self) -> dict[str, Any]:
        cleaned = super().clean()
        if cleaned.get("other") and cleaned.get("other_number"):
            self.add_error("other", "Choose one, or type one number.")
        return cleaned

    @property
    def right_one(self) -> LivingThing:
        """The thing that the act was on."""
        if not self.is_bound or not self.is_valid():
            return self.thing
        chosen = self.cleaned_data["other"]
        if chosen:
            return registry.thing_kind(self.thing.kind).model.objects.get(pk=chosen)
        return self.cleaned_data.get("other_number") or self.thing

    def put_into(self, form: ActForm) -> None:
        """Show its fields at the end of this form, before the day, with what is wrong with them."""
        form.fields |= self.fields
        form.order_fields([name for name in form.fields if name not in {"day_said", "day_on", "note"}])

    def tell_errors(self, form: ActForm) -> None:
        for name, sentences in self.errors.items():
            form.errors[name] = sentences


def other_thing(thing: LivingThing | None, data: Any = None) -> OtherThing | None:
    """None where nothing of its kind could have been meant instead."""
    return OtherThing(data, thing=thing) if thing is not None and thing.kind in KINDS else None


def _choices(thing: LivingThing) -> list[tuple[str, str]]:
    rows = fetch.with_fathers(_others(thing.kind).objects([thing.pk]))
    return [(str(row.pk), _words(row)) for row in rows]


@cache
def _others(code: str) -> Prepared:
    """The things of a kind but for one, what was entered last first; of a kind without tags, all there are."""
    most = MOST_CHOICES if registry.thing_kind(code).tagged else None
    rows = fetch.things(code).prefetch_related(None).filter(cancelled=False).order_by("-thing__made_at", "-pk")
    return Prepared(lambda ids: rows.exclude(pk__in=ids)[:most])


def _words(row: Any) -> str:
    name = "".join(part.text for part in name_parts(row))
    return f"{name} ({plate(row.number)})" if row.number else name
