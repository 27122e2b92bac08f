"""Fields that choose among things, labelled the way a grower names them."""

from django import forms
from django.db.models import Q
from django.forms.models import ModelChoiceIterator

from nursery.models import Clone, Place, Taxon
from nursery.where import UP_TO_THE_HOUSE, place_words, turn


class _AsWalked(ModelChoiceIterator):
    """The places in the order of the walk, which no database can sort by."""

    def __iter__(self):
        if self.field.empty_label is not None:
            yield ("", self.field.empty_label)
        yield from (self.choice(place) for place in sorted(self.queryset.all(), key=turn))


class PlaceField(forms.ModelChoiceField):
    iterator = _AsWalked

    def label_from_instance(self, place: Place) -> str:
        return place_words(place)


def place_field(*, required: bool = False, label: str = "Place", also: int | None = None) -> PlaceField:
    """The places there are, and ``also`` the one of this id, which may be gone by now."""
    places = Place.objects.filter(Q(cancelled=False, closed_on__isnull=True) | Q(pk=also))
    return PlaceField(
        queryset=places.select_related(UP_TO_THE_HOUSE),
        label=label,
        required=required,
        empty_label="not said",
        error_messages={"required": "Choose a place.", "invalid_choice": "This place is not here any more."},
    )


class CloneField(forms.ModelChoiceField):
    def __init__(self, *, label: str, required: bool = False, help_text: str = ""):
        super().__init__(
            queryset=Clone.objects.filter(cancelled=False),
            label=label,
            required=required,
            empty_label="not said",
            help_text=help_text,
            error_messages={"required": "Choose a clone.", "invalid_choice": "This clone is not here any more."},
        )


def taxon_field(*, label: str = "Species or named hybrid") -> forms.ModelChoiceField:
    return forms.ModelChoiceField(
        queryset=Taxon.objects.all(), label=label, required=False, empty_label="not said, or not in the list"
    )
