"""Which labels go on which stock, one stock after the other."""

from collections.abc import Sequence
from dataclasses import dataclass
from urllib.parse import urlencode

from django.urls import reverse

from labels.buried import labels_to_bury, texts_with
from labels.contents import Tagged
from labels.forms import NO_PRINTER, PrintForm
from labels.left import SheetNote
from labels.models import Printer, Stock
from labels.printers import printer_words
from labels.sheets import Group, pages_of
from labels.stock import Measures


@dataclass(frozen=True)
class OnStock:
    """Tags that are printed on one stock, from its ``first`` free label on, ``copies`` of each.

    With ``buried``, what grows in a pot has one more, to bury. ``printer`` is None where none is named. ``note`` is
    what a last look says of the sheet that it begins on.
    """

    stock: Stock
    tags: tuple[Tagged, ...]
    first: int
    copies: int
    buried: bool = False
    printer: Printer | None = None
    note: SheetNote = SheetNote()

    @property
    def measures(self) -> Measures:
        return self.stock.measures_on(self.printer)

    @property
    def labels(self) -> int:
        each = (self.copies + labels_to_bury(tag.kind, buried=self.buried) for tag in self.tags)
        return sum(each)

    @property
    def pages(self) -> int:
        return sum(1 for _ in pages_of(self.labels, self.measures.per_page, self.first - 1))

    @property
    def is_sheet(self) -> bool:
        return self.stock.kind == Stock.Kind.SHEET

    @property
    def numbers(self) -> str:
        """Its numbers with a space between them."""
        return " ".join(str(tag.number) for tag in self.tags)

    @property
    def words(self) -> str:
        """How much goes on what: "24 labels on 1 sheet of “A4”"."""
        labels = f"{self.labels} {'label' if self.labels == 1 else 'labels'}"
        if not self.is_sheet:
            return f"{labels} on the roll “{self.stock}”"
        return f"{labels} on {self.pages} {'sheet' if self.pages == 1 else 'sheets'} of “{self.stock}”"

    @property
    def size(self) -> str:
        """Of its pages, as a printer's settings name it."""
        measures = self.measures
        return f"{measures.page_width:g} × {measures.page_height:g} mm"

    @property
    def picture(self) -> str:
        """Address of a picture of its first page."""
        free = self.measures.per_page - self.first + 1
        asked: dict[str, object] = {f"first_{self.stock.pk}": self.first, "copies": self.copies}
        asked |= {"buried": "on"} if self.buried else {}
        asked |= {
            "printer": self.printer_value,
            "numbers": [tag.number for tag in self.tags[: free // self.copies + 1]],
        }
        return f"{reverse('labels:picture', args=[self.stock.pk])}?{urlencode(asked, doseq=True)}"

    @property
    def printer_value(self) -> str:
        """What a form says for its printer."""
        return str(self.printer.pk) if self.printer else NO_PRINTER

    @property
    def printer_words(self) -> str:
        """Which printer, how fine it is, and what the drawing is corrected by."""
        return printer_words(self.printer, self.stock)

    def drawn(self, address: str) -> Group:
        each = (texts_with(tag.text(address), tag.kind, copies=self.copies, buried=self.buried) for tag in self.tags)
        return Group([text for some in each for text in some], self.measures, self.first)


def on_stocks(form: PrintForm, tags: Sequence[Tagged]) -> list[OnStock]:
    """These tags by what the valid form says for them, each stock where its first tag comes; their order stays."""
    by_stock: dict[int, list[Tagged]] = {}
    for tag in tags:
        by_stock.setdefault(form.stock_of(tag.kind).pk, []).append(tag)
    how = {"copies": form.cleaned_data["copies"], "buried": form.cleaned_data["buried"]}
    stocks = [(form.stocks[pk], some) for pk, some in by_stock.items()]
    return [
        OnStock(stock, tuple(some), form.first_of(stock), **how, printer=form.printer_of(stock))
        for stock, some in stocks
    ]
