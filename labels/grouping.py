"""Which labels go on which stock, one stock after the other."""

from collections.abc import Sequence
from dataclasses import dataclass
from urllib.parse import urlencode

from django.urls import reverse

from labels.contents import Tagged
from labels.forms import PrintForm
from labels.models import Stock
from labels.sheets import Group, pages_of


@dataclass(frozen=True)
class OnStock:
    """Tags that are printed on one stock, from its ``first`` free label on, ``copies`` of each."""

    stock: Stock
    tags: tuple[Tagged, ...]
    first: int
    copies: int

    @property
    def labels(self) -> int:
        return len(self.tags) * self.copies

    @property
    def pages(self) -> int:
        return sum(1 for _ in pages_of(self.labels, self.stock.measures.per_page, self.first - 1))

    @property
    def next_first(self) -> int:
        """The label at which the last sheet goes on; 1 where it is full, and on a roll."""
        return (self.first - 1 + self.labels) % self.stock.measures.per_page + 1

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
        measures = self.stock.measures
        return f"{measures.page_width:g} × {measures.page_height:g} mm"

    @property
    def picture(self) -> str:
        """Address of a picture of its first page."""
        free = self.stock.measures.per_page - self.first + 1
        each = [tag.number for tag in self.tags[:free] for _ in range(self.copies)]
        asked = urlencode({"first": self.first, "numbers": each[:free]}, doseq=True)
        return f"{reverse('labels:picture', args=[self.stock.pk])}?{asked}"

    def drawn(self, address: str) -> Group:
        texts = [tag.text(address) for tag in self.tags for _ in range(self.copies)]
        return Group(texts, self.stock.measures, self.first)


def on_stocks(form: PrintForm, tags: Sequence[Tagged]) -> list[OnStock]:
    """These tags by what the valid form says for them, each stock where its first tag comes; their order stays."""
    by_stock: dict[int, list[Tagged]] = {}
    for tag in tags:
        by_stock.setdefault(form.stock_of(tag.kind).pk, []).append(tag)
    copies = form.cleaned_data["copies"]
    stocks = [(form.stocks[pk], some) for pk, some in by_stock.items()]
    return [OnStock(stock, tuple(some), form.first_of(stock), copies) for stock, some in stocks]
