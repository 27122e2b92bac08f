import uuid
from typing import Any

from django import forms
from django.core.exceptions import ValidationError

from labels.models import Stock
from labels.sheets import MOST
from nursery.damm import read_number

MOST_BLANKS = 500
COPIES = 4


def _number(
    label: str, least: int, most: int, *, help_text: str = "", initial: int | None = None
) -> forms.IntegerField:
    """A whole number that must be given."""
    return forms.IntegerField(
        label=label,
        min_value=least,
        max_value=most,
        initial=initial,
        help_text=help_text,
        widget=forms.NumberInput(attrs={"inputmode": "numeric"}),
        error_messages={
            "required": f"Give a number from {least} to {most}.",
            "invalid": "Write a whole number.",
            "min_value": f"Give a number from {least} to {most}.",
            "max_value": f"Give a number from {least} to {most}.",
        },
    )


class NumbersField(forms.MultipleChoiceField):
    """Tag numbers as ticked; gives a list of int, each once, in the order sent."""

    def __init__(self, **kwargs: Any):
        super().__init__(error_messages={"required": "No label was chosen; tick at least one."}, **kwargs)

    def validate(self, value: list[str]) -> None:
        if not value:
            raise ValidationError(self.error_messages["required"], code="required")
        if len(value) > MOST:
            raise ValidationError(f"{len(value)} labels are too many for one print; choose at most {MOST}.")

    def clean(self, value: Any) -> list[int]:
        numbers = [read_number(text) for text in super().clean(value)]
        if None in numbers:
            raise ValidationError("One of the ticks is no tag number. Load the page again.")
        return list(dict.fromkeys(numbers))


class ChosenForm(forms.Form):
    """Which tags, and nothing else."""

    numbers = NumbersField(label="Labels")


class RightForm(ChosenForm):
    """Which tags came out right, and of which print. What the page has lost is left open rather than refused."""

    printing = forms.UUIDField(required=False)
    stock = forms.ModelChoiceField(queryset=Stock.objects.all(), required=False)
    copies = forms.IntegerField(min_value=1, max_value=COPIES, required=False)

    def of_the_print(self) -> dict[str, Any]:
        """The id of the print, what it was printed on, and how many of each; of what is nonsense, nothing."""
        told = self.cleaned_data
        return {
            "id": told.get("printing") or uuid.uuid4(),
            "stock": told.get("stock"),
            "copies": told.get("copies") or 1,
        }


class PrintForm(ChosenForm):
    """Which tags, on which stock, from which label on, how many of each."""

    stock = forms.ModelChoiceField(
        label="Print on",
        queryset=Stock.objects.all(),
        empty_label=None,
        error_messages={
            "required": "Choose what to print on.",
            "invalid_choice": "This stock is not there any more. Choose another.",
        },
    )
    first = _number("First free label", 1, 1200, initial=1, help_text="On a sheet already begun: count along the rows.")
    copies = _number("Copies of each", 1, COPIES, initial=1, help_text="A second one in the pot outlives a lost tag.")

    def clean(self) -> dict[str, Any]:
        cleaned = super().clean()
        if {"stock", "first"} <= cleaned.keys():
            self._check_first(cleaned["stock"], cleaned["first"])
        if len(cleaned.get("numbers", ())) * cleaned.get("copies", 1) > MOST:
            self.add_error("copies", f"That is more than {MOST} labels; print them in two goes.")
        return cleaned

    def _check_first(self, stock: Stock, first: int) -> None:
        places = stock.measures.per_page
        if first > places:
            only = "has one label to a page, so start at 1" if places == 1 else f"has labels 1 to {places}"
            self.add_error("first", f"This stock {only}.")


class BlankForm(forms.Form):
    count = _number("How many blank tags", 1, MOST_BLANKS, initial=24)


class MillimetreField(forms.DecimalField):
    """Millimetres, written with a point or a comma."""

    def __init__(self, **kwargs: Any):
        super().__init__(**kwargs)
        self.error_messages["invalid"] = "Write millimetres as a number, for example 63.5."
        self.error_messages["required"] = "Give millimetres, for example 63.5; 0 is a number, too."

    def to_python(self, value: Any) -> Any:
        return super().to_python(value.replace(",", ".") if isinstance(value, str) else value)


class StockForm(forms.ModelForm):
    """The measures of a stock."""

    class Meta:
        model = Stock
        fields = (
            "name",
            "kind",
            "material",
            "process",
            "lasts_months",
            "page_width",
            "page_height",
            "columns",
            "rows",
            "label_width",
            "label_height",
            "left",
            "top",
            "gap_across",
            "gap_down",
            "dpi",
        )
        labels = {
            "kind": "It is a",
            "process": "Printed by",
            "lasts_months": "Readable for, in months",
            "left": "Left margin",
            "top": "Top margin",
            "gap_across": "Gap across",
            "gap_down": "Gap down",
            "columns": "Labels across",
            "rows": "Labels down",
            "dpi": "Dots an inch",
        }
        field_classes = dict.fromkeys(
            (
                "page_width",
                "page_height",
                "label_width",
                "label_height",
                "left",
                "top",
                "gap_across",
                "gap_down",
            ),
            MillimetreField,
        )
        widgets = {"kind": forms.RadioSelect, "process": forms.RadioSelect} | dict.fromkeys(
            field_classes, forms.TextInput(attrs={"inputmode": "decimal"})
        )

    def __init__(self, *args: Any, **kwargs: Any):
        super().__init__(*args, **kwargs)
        self.fields["kind"].choices = Stock.Kind.choices
        self.fields["process"].choices = [("", "not known"), *Stock.Process.choices]
        for name in ("columns", "rows", "dpi", "lasts_months"):
            self.fields[name].error_messages |= {"invalid": "Write a whole number.", "required": "Give a number."}
