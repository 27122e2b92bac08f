"""What an owner is asked: the table and what its rows are; then what each column is, and what its days mean."""

from string import ascii_uppercase
from typing import Any

from django import forms
from django.utils import timezone

from nursery.forms.worded import Form
from nursery.site.models import Import
from nursery.site.moving.kinds import KINDS
from nursery.site.moving.tables.columns import LEAVE_OUT, REMARK, day_cells
from nursery.site.moving.tables.day_order import names_seasons, order_must_be_asked, order_told
from nursery.site.moving.tables.decode import Decoded, decoded, must_not_be_too_big
from nursery.site.moving.tables.errors import TableRefused
from nursery.site.moving.tables.parse import MOST_ROWS, Table

PASTED = "a pasted table"
MOST_SAMPLES = 3
STATES = frozenset({"seen", "counted", "take", "bagged"})
"""Columns that say how things were on some day."""


class TableForm(Form):
    kind = forms.ChoiceField(
        label="What each row is",
        choices=[(kind.code, kind.title) for kind in KINDS.values()],
        widget=forms.RadioSelect,
        error_messages={"required": "Say what each row is."},
    )
    table = forms.CharField(
        label="The table",
        required=False,
        strip=False,
        help_text=f"Mark the cells in your spreadsheet, headings too, copy, and paste here. Up to {MOST_ROWS:,} rows.",
        widget=forms.Textarea(attrs={"rows": 8, "spellcheck": "false", "autocapitalize": "off"}),
    )
    file = forms.FileField(
        label="or a file",
        required=False,
        help_text="Saved from the spreadsheet as CSV. Any separator and any usual encoding will do.",
        error_messages={"empty": "This file is empty. Choose another one.", "invalid": "Choose a file."},
    )

    def clean(self) -> dict[str, Any]:
        cleaned = super().clean()
        table, file = cleaned.get("table", "").strip(), cleaned.get("file")
        if self.errors:
            return cleaned
        if bool(table) == bool(file):
            sentence = "Paste a table or choose a file, not both." if table else "Paste a table, or choose a file."
            self.add_error("table", sentence)
            return cleaned
        try:
            self.decoded = self._of_file(file) if file else self._pasted(cleaned["table"])
        except TableRefused as refusal:
            self.add_error("file" if file else "table", str(refusal))
        self.named = file.name if file else PASTED
        return cleaned

    def _of_file(self, file: Any) -> Decoded:
        must_not_be_too_big(file.size)
        return decoded(file.read())

    def _pasted(self, text: str) -> Decoded:
        must_not_be_too_big(len(text))
        return Decoded(text.replace("\x00", "\ufffd"), "pasted")


class ColumnsForm(Form):
    """A choice for each heading; and, where the table leaves it open, which number is the day and when spring is."""

    def __init__(self, data: Any = None, *, moving: Import, table: Table):
        super().__init__(data)
        self.kind, self.table = KINDS[moving.kind], table
        for at, heading in enumerate(table.headings):
            self.fields[f"column_{at}"] = self._field(at, heading, moving.columns[at])
        self.names = [self._value(data, at, moving.columns[at]) for at in range(len(table.headings))]
        cells = [cell for column in day_cells(table, self.names, self.kind) for cell in column]
        self.order = order_told(cells)
        if order_must_be_asked(cells):
            self.fields["day_order"] = _day_order(moving)
        if names_seasons(cells):
            self.fields["spring"] = _spring(moving)
        if "looked" not in self.names and STATES & set(self.names):
            self.fields["as_of"] = _as_of(moving)

    def _field(self, at: int, heading: str, guess: str) -> forms.ChoiceField:
        choices = [(column.name, column.label) for column in self.kind.columns]
        remark = (REMARK, "Keep it as a remark")
        others = [one for one in choices if one[0] != REMARK]
        return forms.ChoiceField(
            label=heading or f"Column {_letter(at)}, without a heading",
            choices=[*others, remark, (LEAVE_OUT, "Leave it out")],
            initial=guess,
            help_text=_samples(self.table.column(at)),
            error_messages=dict.fromkeys(("required", "invalid_choice"), "Choose what this column is."),
        )

    def _value(self, data: Any, at: int, guess: str) -> str:
        known = {column.name for column in self.kind.columns} | {LEAVE_OUT}
        value = data.get(f"column_{at}", guess) if data is not None else guess
        return value if value in known else guess

    def clean(self) -> dict[str, Any]:
        cleaned = super().clean()
        for column in self.kind.columns:
            taken = [at for at, name in enumerate(self.names) if name == column.name]
            for at in taken[1:] if column.name != REMARK else ():
                self.add_error(f"column_{at}", f"Two columns are taken for “{column.label}”. Choose which one it is.")
        if cleaned.get("as_of") and cleaned["as_of"] > timezone.localdate():
            self.add_error("as_of", "That day is still to come. Choose today or an earlier day.")
        if not self.errors and all(name in (LEAVE_OUT, REMARK) for name in self.names):
            raise forms.ValidationError("No column says what the rows are. Choose at least one.")
        return cleaned

    def chosen(self) -> dict[str, Any]:
        """The arguments of ``columns_chosen``."""
        return {
            "columns": self.names,
            "day_order": self.cleaned_data.get("day_order") or self.order,
            "as_of": self.cleaned_data.get("as_of"),
            "spring": self.cleaned_data.get("spring") or Import.Spring.MARCH,
        }


def _day_order(moving: Import) -> forms.ChoiceField:
    return forms.ChoiceField(
        label="In days such as 3/4/2026, the first number is",
        choices=Import.Order,
        initial=moving.day_order,
        widget=forms.RadioSelect,
        error_messages={"required": "Some days here may be two days. Say which number comes first."},
    )


def _spring(moving: Import) -> forms.ChoiceField:
    return forms.ChoiceField(
        label="Spring, as this table means it, is",
        choices=Import.Spring,
        initial=moving.spring,
        widget=forms.RadioSelect,
    )


def _as_of(moving: Import) -> forms.DateField:
    return forms.DateField(
        label="The table says how things were on",
        required=False,
        initial=moving.as_of,
        widget=forms.DateInput(attrs={"type": "date"}, format="%Y-%m-%d"),
        help_text="Leave it empty if you do not know; then nothing is dated by it.",
    )


class BringForm(Form):
    """Only to say that rows with problems stay out."""

    leave_out = forms.BooleanField(required=False)

    def __init__(self, *args: Any, problems: int, **kwargs: Any):
        super().__init__(*args, **kwargs)
        rows = "the row that has a problem" if problems == 1 else f"the {problems} rows that have problems"
        self.fields["leave_out"].label = f"Leave out {rows}; I will see to them"


def _samples(cells: list[str]) -> str:
    told = list(dict.fromkeys(cell for cell in cells if cell))[:MOST_SAMPLES]
    if not told:
        return "Nothing stands in this column."
    return "For example: " + "; ".join(cell if len(cell) <= 40 else f"{cell[:39]}…" for cell in told)


def _letter(at: int) -> str:
    """As a spreadsheet names its columns.

    >>> _letter(0), _letter(27)
    ('A', 'AB')
    """
    above = _letter(at // 26 - 1) if at >= 26 else ""
    return above + ascii_uppercase[at % 26]
