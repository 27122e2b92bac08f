import uuid
from collections.abc import Iterable, Sequence
from typing import Any

from django import forms
from django.core.exceptions import NON_FIELD_ERRORS, ValidationError

from labels import contents
from labels.buried import IN_POTS
from labels.left import left_words, sheets_left
from labels.models import KindStock, Printer, SheetLeft, Stock
from labels.sheets import MOST
from nursery.damm import read_number
from nursery.forms.worded import Form

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


class ChosenForm(Form):
    """Which tags, and nothing else."""

    numbers = NumbersField(label="Labels")


class RightForm(ChosenForm):
    """Which tags came out right, and of which print. What the page has lost is left open rather than refused."""

    printing = forms.UUIDField(required=False)
    stock = forms.ModelChoiceField(queryset=Stock.objects.all(), required=False)
    copies = forms.IntegerField(min_value=1, max_value=COPIES, required=False)
    buried = forms.BooleanField(required=False)

    def prints(self) -> list[dict[str, Any]]:
        """One for each stock that was printed on: its id, the stock, the printer, its tags, how many of each.

        Tags of which the page does not say on what they were count as printed on ``stock``; of nonsense, nothing.
        """
        told = self.cleaned_data
        whole, copies = told.get("printing") or uuid.uuid4(), told.get("copies") or 1
        groups = self._by_stock(told["numbers"])
        printers = Printer.objects.in_bulk()
        alone = len(groups) == 1
        return [
            {
                "id": whole if alone else uuid.uuid5(whole, str(stock and stock.pk)),
                "stock": stock,
                "numbers": numbers,
                "copies": copies,
                "buried": bool(told.get("buried")),
                "printer": stock and self._printer(stock, printers),
            }
            for stock, numbers in groups.items()
        ]

    def _printer(self, stock: Stock, printers: dict[int, Printer]) -> Printer | None:
        """The page sends what a stock was printed with as ``printer_<id>``; where it does not, the last one counts."""
        told = self.data.get(f"printer_{stock.pk}", "")
        if told == NO_PRINTER:
            return None
        asked = int(told) if told.isascii() and told.isdigit() and len(told) < 10 else None
        return printers.get(asked, stock.printer)

    def _by_stock(self, numbers: list[int]) -> dict[Stock | None, list[int]]:
        """The page sends the numbers that are on a stock as ``of_<id>``."""
        groups: dict[Stock | None, list[int]] = {}
        sent = {stock: set(self.data.get(f"of_{stock.pk}", "").split()) for stock in Stock.objects.all()}
        for number in numbers:
            on = (stock for stock, listed in sent.items() if str(number) in listed)
            groups.setdefault(next(on, self.cleaned_data.get("stock")), []).append(number)
        return groups


NO_PRINTER = "none"
LAST_PRINTER = "the one it was printed with last"
OTHER_PRINTER = "one that is not entered here"
EACH = "each kind on what it is used to"
STOCK_ERRORS = {
    "required": "Choose what to print on.",
    "invalid_choice": "This stock is not there any more. Choose another.",
}


class PrintForm(ChosenForm):
    """Which tags, on which stock, from which label on, how many of each.

    Without a ``stock`` for all, each kind goes on its own (``on_<kind>``), or on what is remembered for it. The printer
    is ``printer_<stock>``, or ``printer`` where all go on one stock, or else the one that the stock was printed with
    last. The first free label of a sheet is ``first_<stock>``. Where that is left as it was offered, it follows what
    is chosen: the sheet left over by the printer; with ``fresh``, a new one.

    Attributes:
        shown: codes of the kinds on the page, for which it asks.
    """

    fresh = forms.BooleanField(label="On a fresh sheet", required=False)
    copies = _number("Copies of each", 1, COPIES, initial=1, help_text="All alike.")
    buried = forms.BooleanField(
        label="One more to bury in each pot",
        required=False,
        help_text="Number, code and name alone, larger; it comes right behind the first. It outlives a lost tag.",
    )

    def __init__(self, *args: Any, **kwargs: Any):
        super().__init__(*args, **kwargs)
        self.stocks = {stock.pk: stock for stock in Stock.objects.all()}
        self.usual = usual_stocks(self.stocks.values())
        self.printers = {str(printer.pk): printer for printer in Printer.objects.all()}
        self.shown: list[str] = []
        self.fields["stock"] = self._stock_field("Print on", EACH)
        for kind in contents.kinds():
            self.fields[f"on_{kind}"] = self._stock_field(f"{contents.kind_words(kind)} on", "")
        self.left = sheets_left()
        for stock in self._sheets():
            self._add_first(stock)
        self.fields["printer"] = self._printer_field("Printer")
        for stock in self.stocks.values():
            self.fields[f"printer_{stock.pk}"] = self._printer_field(f"Printer for “{stock}”")

    def _add_first(self, stock: Stock) -> None:
        """Its first free label, as the sheet offers it that lies by the printer used last."""
        left = self.left.get((stock.pk, stock.printer_id))
        field = _number(f"First free label on “{stock}”", 1, stock.measures.per_page, initial=left.first if left else 1)
        field.required, field.either = False, True
        field.help_text = left_words(left) if left else "On a sheet already begun: count along the rows."
        self.fields[f"first_{stock.pk}"] = field
        offered = forms.CharField(required=False, initial=field.initial, widget=forms.HiddenInput)
        self.fields[f"offered_{stock.pk}"] = offered

    def _printer_field(self, label: str) -> forms.ChoiceField:
        named = [(value, str(printer)) for value, printer in self.printers.items()]
        field = forms.ChoiceField(
            label=label,
            choices=[("", LAST_PRINTER), *named, (NO_PRINTER, OTHER_PRINTER)],
            required=False,
            error_messages={"invalid_choice": "This printer is not there any more. Choose another."},
        )
        field.either = True
        return field

    def _stock_field(self, label: str, empty: str) -> forms.TypedChoiceField:
        choices = [(str(pk), str(stock)) for pk, stock in self.stocks.items()]
        field = forms.TypedChoiceField(
            label=label,
            choices=[("", empty), *choices] if empty else choices,
            coerce=lambda pk: self.stocks[int(pk)],
            empty_value=None,
            required=False,
            error_messages=STOCK_ERRORS,
        )
        field.either = True
        return field

    def _sheets(self) -> list[Stock]:
        return [stock for stock in self.stocks.values() if stock.kind == Stock.Kind.SHEET]

    def show(self, kinds: Sequence[str]) -> None:
        """Ask for tags of these kinds: what all go on, first the one stock that they all go on, if there is one."""
        self.shown = list(kinds)
        used = {self.usual[kind].pk for kind in self.shown if kind in self.usual}
        if len(used) == 1:
            self.initial.setdefault("stock", used.pop())
        if not self.asks_each:
            self.fields["stock"].choices = self.fields["stock"].choices[1:]
        for kind, stock in self.usual.items():
            self.initial.setdefault(f"on_{kind}", stock.pk)
        if self.is_bound:
            self._show_all_errors()

    def _show_all_errors(self) -> None:
        """What is wrong with a field that this page does not show stands above the form."""
        fields = [
            *self.first_fields,
            *self.offered_fields,
            *self.printer_fields,
            *(self.on_fields if self.asks_each else []),
        ]
        seen = {"numbers", "stock", "copies", "buried", "fresh", NON_FIELD_ERRORS, *(field.name for field in fields)}
        for name in set(self.errors) - seen:
            self.add_error(None, [str(error) for error in self.errors[name]])

    @property
    def asks_each(self) -> bool:
        """Whether the page shows several kinds, so that each may go on a stock of its own."""
        return len(self.shown) > 1

    @property
    def on_fields(self) -> list[forms.BoundField]:
        return [self[f"on_{kind}"] for kind in self.shown]

    @property
    def first_fields(self) -> list[forms.BoundField]:
        """Of each sheet that a shown kind goes on; where all go on one stock, that one's."""
        return [self[f"first_{pk}"] for pk in self._begun()]

    @property
    def offered_fields(self) -> list[forms.BoundField]:
        """What each of ``first_fields`` held when the page was made."""
        return [self[f"offered_{pk}"] for pk in self._begun()]

    @property
    def offers_fresh(self) -> bool:
        """Whether a sheet is left over of what these go on."""
        return any(stock in self._begun() for stock, _ in self.left)

    def _begun(self) -> list[int]:
        used = {str(self["stock"].value())} if self["stock"].value() else self._used()
        return [stock.pk for stock in self._sheets() if str(stock.pk) in used]

    @property
    def printer_fields(self) -> list[forms.BoundField]:
        """As ``first_fields``, of rolls too; none where no printer was entered."""
        if not self.printers:
            return []
        if self["stock"].value():
            return [self["printer"]]
        used = self._used()
        return [self[f"printer_{pk}"] for pk in self.stocks if str(pk) in used]

    def _used(self) -> set[str]:
        return {str(self[f"on_{kind}"].value()) for kind in self.shown}

    @property
    def offers_buried(self) -> bool:
        """Whether anything on the page grows in a pot."""
        return bool(IN_POTS & set(self.shown))

    def clean(self) -> dict[str, Any]:
        cleaned = super().clean()
        if not self.stocks:
            self.add_error("stock", "There is nothing to print on yet. An owner adds a sheet or a roll.")
        if len(cleaned.get("numbers", ())) * (cleaned.get("copies", 1) + cleaned.get("buried", False)) > MOST:
            self.add_error("copies", f"That is more than {MOST} labels; print them in two goes.")
        return cleaned

    def stock_of(self, kind: str) -> Stock:
        """What the tags of a kind go on; of a valid form."""
        told = self.cleaned_data
        return told["stock"] or told.get(f"on_{kind}") or self.usual[kind]

    def first_of(self, stock: Stock) -> int:
        """The first free label of a sheet; of a roll, and of a fresh sheet, 1."""
        told = self.cleaned_data
        first, offered = told.get(f"first_{stock.pk}"), told.get(f"offered_{stock.pk}")
        if told.get("fresh"):
            return 1
        if first and str(first) != offered:
            return first
        left = self.left_on(stock)
        return left.first if left else 1

    def left_on(self, stock: Stock) -> SheetLeft | None:
        """The part-used sheet that lies by the printer of this print."""
        printer = self.printer_of(stock)
        return self.left.get((stock.pk, printer and printer.pk))

    def printer_of(self, stock: Stock) -> Printer | None:
        """What a stock is printed with; None where it is none that was entered."""
        told = self.cleaned_data
        value = told.get(f"printer_{stock.pk}") or (told.get("printer") if told["stock"] else "")
        return self.printers.get(value) if value else stock.printer


def usual_stocks(stocks: Iterable[Stock]) -> dict[str, Stock]:
    """What each kind is printed on, by its code: chosen or used last, else the first stock there is."""
    known = {stock.pk: stock for stock in stocks}
    if not known:
        return {}
    first = next(iter(known.values()))
    remembered = dict(KindStock.objects.values_list("kind", "stock_id"))
    return {kind: known.get(remembered.get(kind), first) for kind in contents.kinds()}


class KindStocksForm(Form):
    """What each kind is printed on, as an owner chooses; left open, what was used last counts."""

    def __init__(self, *args: Any, **kwargs: Any):
        super().__init__(*args, **kwargs)
        used = {one.kind: one for one in KindStock.objects.select_related("stock")}
        for kind in contents.kinds():
            now = used.get(kind)
            last = f"what was used last (“{now.stock}”)" if now and not now.chosen else "what was used last"
            self.fields[kind] = forms.ModelChoiceField(
                label=contents.kind_words(kind),
                queryset=Stock.objects.all(),
                required=False,
                empty_label=last,
                initial=now.stock_id if now and now.chosen else None,
                error_messages=STOCK_ERRORS,
            )


class BlankForm(Form):
    count = _number("How many blank tags", 1, MOST_BLANKS, initial=24)
