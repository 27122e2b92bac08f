"""The plan of a sowing: what holds for the evening, and a line for each seed lot that is sown."""

from collections.abc import Mapping
from decimal import Decimal
from typing import Any

from django import forms

from breeding.forms.sowing import planned_for_field, sterilised_field
from breeding.models.seed import MOST_SEEDS
from breeding.models.sowing import MOST_PODS
from breeding.models.sowing_sessions import DENSEST, THINNEST
from breeding.science.sowing import BY_CODE, POT_SIZES, SEEDS_A_CM2, SUGGESTED, USUAL_SIZE
from breeding.sowing.lots import MOST_POTS_A_LINE, Choice
from breeding.standing import Standing, standing_counts
from nursery.forms.base import whole_number, words
from nursery.forms.choices import PlaceField, place_field
from nursery.forms.worded import Form
from nursery.models import Place
from nursery.templatetags.tepal import plate


class RoomField(PlaceField):
    """A place with what stands there now, and how many more pots fit where somebody has told what it takes.

    What stands on the trays of a bench stands on the bench. ``standing`` is given by the form.
    """

    standing: Mapping[int, Standing] = {}

    def label_from_instance(self, place: Place) -> str:
        told, left = f"{super().label_from_instance(place)}: {self._here(place).words}", self.room_left(place)
        room = f"room for {left} more of {place.room}" if left else f"full, as it takes {place.room}"
        return told if left is None else f"{told}; {room}"

    def room_left(self, place: Place) -> int | None:
        """Seed pots that still fit, those that are prepared for it taken off; None where nobody told what it takes."""
        here = self._here(place)
        return None if place.room is None else max(place.room - here.pots - here.to_come, 0)

    def _here(self, place: Place) -> Standing:
        return self.standing.get(place.pk, Standing())


def _room_field() -> RoomField:
    plain = place_field()
    return RoomField(
        queryset=plain.queryset,
        label="They will stand",
        required=False,
        empty_label=plain.empty_label,
        error_messages=plain.error_messages,
    )


class PlanForm(Form):
    """What holds for the whole evening."""

    planned_for = planned_for_field()
    place = _room_field()
    medium = words("Medium", 120, help_text="For example: long-fibre sphagnum, milled on top")
    sterilised = sterilised_field()
    sterilised_words = words("In words, if it was some other way", 120)
    density = forms.DecimalField(
        label="Seeds to a square centimetre",
        help_text=f"{SUGGESTED.capitalize()}.",
        min_value=THINNEST,
        max_value=DENSEST,
        decimal_places=2,
        initial=SEEDS_A_CM2,
        required=False,
        widget=forms.NumberInput(attrs={"inputmode": "decimal", "step": "any"}),
    )

    def __init__(self, *args: Any, **kwargs: Any):
        super().__init__(*args, **kwargs)
        self.fields["place"].standing = standing_counts()

    def clean(self) -> dict[str, Any]:
        cleaned = super().clean()
        if cleaned.get("sterilised") == "other" and not cleaned.get("sterilised_words"):
            self.add_error("sterilised_words", "Say in words how the medium was sterilised.")
        return cleaned

    @property
    def density_chosen(self) -> Decimal:
        """The suggested one where none, or no number, was written."""
        return getattr(self, "cleaned_data", {}).get("density") or Decimal(SEEDS_A_CM2)

    def facts(self) -> dict[str, Any]:
        """What the record function takes beside the lines."""
        facts = {name: self.cleaned_data[name] for name in ("planned_for", "place", "medium", "sterilised_words")}
        facts["density"] = self.density_chosen
        return facts | {"sterilised": self.cleaned_data["sterilised"] or "unknown"}


def _counted(label: str, most: int) -> forms.IntegerField:
    """A number that is worked out where it is left empty, so that it is not called optional."""
    field = whole_number(label, most)
    field.either = True
    return field


AMOUNTS = ("pots", "seeds", "pods")


class LineForm(Form):
    """One lot: whether it is sown, into what, and how much goes into each pot.

    With ``anew``, what was worked out and left so is worked out again, so that it follows the density and size of pot.
    """

    take = forms.BooleanField(label="Sow from it", required=False)
    pots = _counted("Pots", MOST_POTS_A_LINE)
    size = forms.ChoiceField(
        label="Size of pot",
        choices=[*((size.code, size.words) for size in POT_SIZES), ("other", "another size")],
        initial=USUAL_SIZE.code,
    )
    seeds = _counted("Seeds in each", MOST_SEEDS)
    pods = _counted("or pods", MOST_PODS)
    worked_out = forms.CharField(required=False, widget=forms.HiddenInput)

    def __init__(self, data: Any, *args: Any, choice: Choice, density: float, anew: bool, **kwargs: Any):
        self.choice = choice
        super().__init__(data, *args, prefix=f"lot-{choice.lot.pk}", **kwargs)
        if data is not None and data.get(self.add_prefix("take")):
            self.data = self._filled(data, density, anew=anew)

    def _filled(self, data: Any, density: float, *, anew: bool) -> Any:
        """What was left empty of a lot that is taken, as suggested; what somebody wrote stays."""
        size = BY_CODE.get(data.get(self.add_prefix("size")) or USUAL_SIZE.code)
        share = self.choice.share(size, density) if size else None
        written = [(data.get(self.add_prefix(name)) or "").strip() for name in AMOUNTS]
        told = data.copy()
        left_so = anew and " ".join(written) == data.get(self.add_prefix("worked_out"))
        if share and (left_so or not any(written)):
            each = "" if share.each is None else str(share.each)
            amounts = [str(share.pots), *(["", each] if self.choice.in_pods else [each, ""])]
            told.update({self.add_prefix(name): amount for name, amount in zip(AMOUNTS, amounts, strict=True)})
            told[self.add_prefix("worked_out")] = " ".join(amounts)
        return told

    def clean(self) -> dict[str, Any]:
        cleaned = super().clean()
        if cleaned.get("take") and "pots" in cleaned and not cleaned["pots"]:
            self.add_error("pots", "Say into how many pots, or take the tick away.")
        return cleaned

    @property
    def name(self) -> str:
        """Which line it is, where what is wrong is told away from it."""
        return f"Lot {plate(self.choice.number)}"

    @property
    def is_taken(self) -> bool:
        return bool(self.is_bound and self.data.get(self.add_prefix("take")))
