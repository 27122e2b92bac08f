"""What an owner types of stocks and printers."""

from typing import Any

from django import forms

from labels.models import Printer, Stock
from nursery.forms.worded import OurSentences


class MillimetreField(forms.DecimalField):
    """Millimetres, written with a point or a comma."""

    def __init__(self, **kwargs: Any):
        super().__init__(**kwargs)
        self.error_messages["invalid"] = "Write millimetres as a number, for example 63.5."
        self.error_messages["required"] = "Give millimetres, for example 63.5; 0 is a number, too."

    def to_python(self, value: Any) -> Any:
        return super().to_python(value.replace(",", ".") if isinstance(value, str) else value)


class StockForm(OurSentences, forms.ModelForm):
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
            "free",
            "free_end",
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
            "free": "White end",
            "free_end": "Which end",
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
                "free",
            ),
            MillimetreField,
        )
        widgets = {
            "kind": forms.RadioSelect,
            "process": forms.RadioSelect,
            "free_end": forms.RadioSelect,
        } | dict.fromkeys(field_classes, forms.TextInput(attrs={"inputmode": "decimal"}))

    def __init__(self, *args: Any, **kwargs: Any):
        super().__init__(*args, **kwargs)
        self.fields["kind"].choices = Stock.Kind.choices
        self.fields["free_end"].choices = Stock.FreeEnd.choices
        self.fields["process"].choices = [("", "not known"), *Stock.Process.choices]


class PrinterForm(OurSentences, forms.ModelForm):
    """How fine a printer is, and what it is off by."""

    class Meta:
        model = Printer
        fields = ("name", "dpi", "across", "down")
        labels = {"dpi": "Dots an inch", "across": "Too far right by", "down": "Too far down by"}
        field_classes = {"across": MillimetreField, "down": MillimetreField}
        widgets = dict.fromkeys(field_classes, forms.TextInput)
