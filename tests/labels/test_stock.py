from decimal import Decimal

import pytest
from django.core.exceptions import ValidationError
from django.db import IntegrityError, transaction

from labels import shipped
from labels.models import Stock
from tests.labels.cast import ROLL, SHEET, label
from tests.labels.reading import drawn

pytestmark = pytest.mark.django_db

ACROSS = "The labels do not fit across the page; left margin, labels and gaps together are wider than it."
DOWN = "The labels do not fit down the page; top margin, labels and gaps together are higher than it."
FREE = "The white end is 0 or more, and leaves 10 mm of the label to print on."
REFUSED = [
    ({"columns": 4}, ACROSS),
    ({"left": "14.6"}, ACROSS),
    ({"gap_across": "6.2"}, ACROSS),
    ({"rows": 9}, DOWN),
    ({"top": "25.9"}, DOWN),
    ({"gap_down": "1.9"}, DOWN),
    ({"kind": "roll"}, "On a roll every row is a page of its own, so there is 1 label down."),
    ({"label_width": "9.99"}, "A label is between 10 and 300 mm wide and high."),
    ({"label_height": "301", "page_height": "900", "rows": 1}, "A label is between 10 and 300 mm wide and high."),
    ({"page_height": "1000.5"}, "A page is between 10 and 1,000 mm wide and high."),
    ({"columns": 0}, "There are 1 to 20 labels across and 1 to 60 down."),
    ({"rows": 61, "page_height": "999", "label_height": "10"}, "There are 1 to 20 labels across and 1 to 60 down."),
    ({"left": "-0.5"}, "Margins and gaps are 0 or more."),
    ({"gap_down": "-1"}, "Margins and gaps are 0 or more."),
    ({"dpi": 149}, "A printer has 150 to 2,400 dots an inch."),
    ({"lasts_months": 0}, "Print lasts between 1 and 600 months."),
    ({"lasts_months": 601}, "Print lasts between 1 and 600 months."),
    ({"dpi": 2401}, "A printer has 150 to 2,400 dots an inch."),
    ({"free": "-1"}, FREE),
    ({"free": "53.6"}, FREE),
]


def stock(**changes) -> Stock:
    """A sheet of 24 of our own, not yet stored."""
    facts = shipped.SHIPPED[0] | {"name": "Ours"} | changes
    whole = {"columns", "rows", "dpi", "kind", "name", "material", "process", "lasts_months", "free_end"}
    return Stock(**{name: value if name in whole else Decimal(value) for name, value in facts.items()})


def test_stocks_are_shipped_by_their_measures_the_common_sheet_first():
    stocks = {str(stock): stock for stock in Stock.objects.all()}
    assert list(stocks) == [
        "A4 sheet of 24, 63.5 × 33.9 mm",
        "A4 sheet of 65 packet labels, 38.1 × 21.2 mm",
        "US Letter sheet of 30, 66.7 × 25.4 mm",
        "Roll of hang tags with a hole, 25 × 76 mm",
        "Roll of packet labels, 38 × 19 mm",
        "Roll of pot labels, 60 × 40 mm",
        "Roll of stakes, 13 × 100 mm",
        "Roll of stakes, 16 × 125 mm",
        "Roll, 54 × 25 mm",
        "Tape 24 mm wide, 70 mm long",
    ]
    assert (stocks["A4 sheet of 24, 63.5 × 33.9 mm"].measures, stocks["Roll, 54 × 25 mm"].measures) == (SHEET, ROLL)
    for stock in stocks.values():
        stock.full_clean()
        assert stock.process and stock.lasts
    hang, stake = stocks["Roll of hang tags with a hole, 25 × 76 mm"], stocks["Roll of stakes, 13 × 100 mm"]
    assert (hang.measures.free, hang.measures.free_last) == (12, False)
    assert (stake.measures.free, stake.measures.free_last) == (35, True)


def test_print_lasts_as_told_or_as_usual_for_how_it_is_printed():
    # Heat straight onto the label 6 to 12 months, resin ribbon five years and more: from memory, unchecked.
    assert 6 <= stock(process="thermal").lasts <= 12
    assert stock(process="ribbon").lasts >= 60
    assert stock(process="laminated").lasts > stock(process="ribbon").lasts
    assert stock(process="thermal", lasts_months=30).lasts == 30
    assert stock(process="").lasts is None


def test_the_shipped_stocks_are_told_how_they_are_printed_and_what_stays_white_where_nobody_said():
    assert [columns["process"] for columns in shipped.FIRST] == ["paper", "thermal"]
    Stock.objects.update(process="", free=0)
    Stock.objects.filter(name__startswith="Tape").update(process="ribbon")
    shipped.say_processes(Stock.objects)
    shipped.say_free_ends(Stock.objects)
    said = {stock.name: (stock.process, stock.free) for stock in Stock.objects.all()}
    wanted = {columns["name"]: (columns["process"], columns.get("free", 0)) for columns in shipped.SHIPPED}
    assert said == wanted | {"Tape 24 mm wide, 70 mm long": ("ribbon", 0)}


def test_shipping_again_changes_nothing():
    Stock.objects.filter(name="Roll, 54 × 25 mm").update(dpi=300)
    shipped.add_missing(Stock.objects)
    assert Stock.objects.get(name="Roll, 54 × 25 mm").dpi == 300
    assert Stock.objects.count() == len(shipped.SHIPPED)


@pytest.mark.parametrize(("changes", "sentence"), REFUSED, ids=[str(changes) for changes, _ in REFUSED])
def test_measures_that_cannot_be_are_refused_in_words_and_by_the_database(changes, sentence):
    with pytest.raises(ValidationError) as refusal:
        stock(**changes).full_clean()
    assert sentence in refusal.value.messages
    with pytest.raises(IntegrityError), transaction.atomic():
        stock(**changes).save()


@pytest.mark.parametrize(
    "changes",
    [
        {"left": "14.5"},
        {"gap_across": "6.12"},
        {"page_width": "200", "label_width": "66.67", "left": "0", "gap_across": "0"},
        {"label_width": "70", "label_height": "37", "left": "0", "top": "0.5", "gap_across": "0"},
        {"page_width": "210", "label_width": "69.9", "left": "0.3", "gap_across": "0"},
    ],
    ids=str,
)
def test_labels_that_just_fit_are_taken(changes):
    ours = stock(**changes)
    ours.full_clean()
    ours.save()
    assert drawn([label()] * 24, Stock.objects.get(pk=ours.pk).measures).pages == 1


def test_two_stocks_of_one_name_are_refused():
    stock().save()
    with pytest.raises(ValidationError) as refusal:
        stock().full_clean()
    assert refusal.value.messages == ["Another stock has this name already."]
