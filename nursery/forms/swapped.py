from typing import Any

from django import forms
from django.db.models import Q

from nursery.forms.base import ActForm, TagNumberField
from nursery.models import Act, LivingThing, Tag
from nursery.records import registry
from nursery.records.core import NewAct
from nursery.records.swapped import recorded_through, tags_swapped
from nursery.typed_tags import ON_SOMETHING


class SwappedForm(ActForm):
    """The other tag, and since when the two hung wrong.

    ``known`` is the act when it is sent again: by now the typed number hangs on this very thing.
    """

    number = TagNumberField(label="Number on the other tag", which=ON_SOMETHING & Q(retired=False))
    other: LivingThing

    def __init__(self, *args: Any, known: Act | None = None, **kwargs: Any):
        super().__init__(*args, **kwargs)
        self.known = known
        self.fields["number"].required = True
        self.fields["number"].error_messages["required"] = "Type the number on the other tag."
        self.fields["day_said"].label = "Swapped since when"

    def clean_number(self) -> int:
        number = self.cleaned_data["number"]
        other = _other_of(self.known, self.thing) if self.known else _thing_with(number)
        if other is None:
            raise forms.ValidationError("This tag is on nothing. Type the number that hangs on the other thing.")
        if other.pk == self.thing.pk:
            raise forms.ValidationError("That is the same thing. Give the number of the other one.")
        self.other = other
        return number

    def through(self) -> list[Act]:
        """What may have come through the wrong tag since then, between things of one kind."""
        if self.thing.kind != self.other.kind:
            return []
        return recorded_through(self.thing, self.other, self.day_meant.first)

    def record_with(self, act: NewAct, moved: list[Act]) -> Act:
        """Exchange the tags, and let these records go over."""
        return tags_swapped(act=act, thing=self.thing, other=self.other, moved=moved)


def _thing_with(number: int) -> LivingThing | None:
    tag = Tag.objects.filter(number=number, thing__isnull=False, retired=False).select_related("thing").first()
    return registry.instance_of(tag.thing) if tag else None


def _other_of(act: Act, thing: LivingThing) -> LivingThing | None:
    """Whose tag this act exchanged with the thing's."""
    other = act.links.exclude(thing=thing.pk).select_related("thing").first()
    return registry.instance_of(other.thing) if other else None
