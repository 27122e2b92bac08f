"""Fields that choose among things, labelled the way a grower names them."""

from django import forms
from django.db.models import Q

from nursery.models import Clone, Place, Taxon


class PlaceField(forms.ModelChoiceField):
    def label_from_instance(self, place: Place) -> str:
        return f"{place.inside.name}, {place.name}" if place.inside else place.name


def place_field(*, required: bool = False, label: str = "Place", also: int | None = None) -> PlaceField:
    """The places there are, and ``also`` the one of this id, which may be gone by now."""
    places = Place.objects.filter(Q(cancelled=False, closed_on__isnull=True) | Q(pk=also)).select_related("inside")
    return PlaceField(
        queryset=places.order_by("inside__order", "inside__name", "order", "name"),
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
