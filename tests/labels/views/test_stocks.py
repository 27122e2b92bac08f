import pypdfium2
import pytest

from labels.models import Stock
from labels.records import stock_kept
from nursery.records.errors import Refused
from tests.labels.cast import ROLL, SHEET
from tests.labels.reading import Drawn

pytestmark = pytest.mark.django_db

LONG = "x" * 5000


def form(**changes: str) -> dict[str, str]:
    """A sheet of 10 of our own."""
    return {
        "name": "Sheet of 10",
        "kind": "sheet",
        "material": "paper",
        "page_width": "210",
        "page_height": "297",
        "columns": "2",
        "rows": "5",
        "label_width": "96,5",
        "label_height": "50.8",
        "left": "8",
        "top": "21.5",
        "gap_across": "0",
        "gap_down": "0",
        "free": "0",
        "free_end": "first",
        "dpi": "600",
    } | changes


def test_owners_see_the_stocks_by_their_measures(as_owner, stocks):
    page = as_owner.get("/labels/stocks/").content.decode()
    assert "24 of 63.5 × 33.9 mm" in page
    assert "54 × 25 mm" in page
    assert "203 dots an inch" in page


def test_a_stock_is_added_with_a_comma_or_a_point(as_owner, stocks):
    answer = as_owner.post("/labels/stocks/new/", form())
    stock = Stock.objects.get(name="Sheet of 10")
    assert (answer.status_code, answer.url) == (302, f"/labels/stocks/{stock.pk}/")
    assert (stock.measures.label_width, stock.measures.label_height, stock.measures.per_page) == (96.5, 50.8, 10)
    assert "“Sheet of 10” is kept. Print its outlines before you use it." in as_owner.get(answer.url).content.decode()


def test_measures_are_changed_in_place(as_owner, stocks):
    roll = stocks["roll"]
    page = as_owner.get(f"/labels/stocks/{roll.pk}/").content.decode()
    assert 'value="54.00"' in page
    sent = form(
        name=roll.name, kind="roll", columns="1", rows="1", label_width="50", label_height="25", left="0", top="0"
    )
    as_owner.post(f"/labels/stocks/{roll.pk}/", sent | {"page_width": "50", "page_height": "25", "dpi": "300"})
    roll.refresh_from_db()
    assert (roll.measures.label_width, roll.dpi) == (50, 300)


REFUSED = [
    ({"name": ""}, "name", "Write something here."),
    ({"name": LONG}, "name", "Write at most 60 characters; these are 5000."),
    ({"name": "Roll, 54 × 25 mm"}, "name", "Another stock has this name already."),
    ({"kind": "fan"}, "kind", "What was chosen is not offered here, or not any more. Choose again."),
    ({"label_width": ""}, "label_width", "Give millimetres, for example 63.5; 0 is a number, too."),
    ({"label_width": "wide"}, "label_width", "Write millimetres as a number, for example 63.5."),
    ({"label_width": "<b>"}, "label_width", "Write millimetres as a number, for example 63.5."),
    ({"label_width": "नीला"}, "label_width", "Write millimetres as a number, for example 63.5."),
    ({"label_width": "NaN"}, "label_width", "Write millimetres as a number, for example 63.5."),
    ({"label_width": "1e99"}, "label_width", "Write at most 6 digits."),
    ({"label_width": "5"}, "label_width", "A label is between 10 and 300 mm wide and high."),
    ({"page_width": "5"}, "page_width", "A page is between 10 and 1,000 mm wide and high."),
    ({"columns": "3"}, "columns", "The labels do not fit across the page;"),
    ({"columns": "0"}, "columns", "There are 1 to 20 labels across and 1 to 60 down."),
    ({"columns": "🌱"}, "columns", "Write a whole number."),
    ({"columns": ""}, "columns", "Give a number."),
    ({"rows": "6"}, "rows", "The labels do not fit down the page;"),
    ({"rows": "9" * 50}, "rows", "This number is too large."),
    ({"kind": "roll"}, "rows", "On a roll every row is a page of its own, so there is 1 label down."),
    ({"top": "-1"}, "left", "Margins and gaps are 0 or more."),
    ({"free": "90"}, "free", "The white end is 0 or more, and leaves 10 mm of the label to print on."),
    ({"free_end": "both"}, "free_end", "What was chosen is not offered here, or not any more. Choose again."),
    ({"dpi": "72"}, "dpi", "A printer has 150 to 2,400 dots an inch."),
]


@pytest.mark.parametrize(
    ("changes", "field", "sentence"), REFUSED, ids=[str(changes)[:40] for changes, _, _ in REFUSED]
)
def test_measures_that_cannot_be_come_back_with_a_sentence_beside_the_field(as_owner, stocks, changes, field, sentence):
    answer = as_owner.post("/labels/stocks/new/", form(**changes))
    assert answer.status_code == 422
    assert any(told.startswith(sentence) for told in answer.context["form"].errors[field])
    assert sentence.replace("'", "&#x27;") in answer.content.decode()
    assert not Stock.objects.filter(name="Sheet of 10").exists()
    assert "<b>" not in answer.content.decode()


def test_the_record_function_refuses_measures_too(owner, stocks):
    stocks["sheet"].columns = 4
    with pytest.raises(Refused) as refusal:
        stock_kept(by=owner, stock=stocks["sheet"])
    assert refusal.value.sentence.startswith("The labels do not fit across the page;")


def test_the_record_function_asks_for_an_owner(grower, stocks):
    with pytest.raises(Refused) as refusal:
        stock_kept(by=grower, stock=stocks["sheet"])
    assert refusal.value.sentence == "Only an owner may do this."


@pytest.mark.parametrize("where", ["/labels/stocks/", "/labels/stocks/new/"])
def test_growers_and_viewers_are_not_let_in(as_grower, as_viewer, stocks, where):
    assert (as_grower.get(where).status_code, as_viewer.get(where).status_code) == (403, 403)
    assert as_grower.post("/labels/stocks/new/", form()).status_code == 403
    assert not Stock.objects.filter(name="Sheet of 10").exists()


def test_a_stranger_is_asked_to_sign_in(stranger, stocks):
    assert stranger.get("/labels/stocks/").status_code == 302
    assert stranger.post("/labels/stocks/new/", form()).status_code == 401


def test_a_stock_that_is_not_there_is_not_found(as_owner, stocks):
    assert as_owner.get("/labels/stocks/999999/").status_code == 404


def test_outlines_number_every_label(as_owner, stocks):
    answer = as_owner.get(f"/labels/stocks/{stocks['sheet'].pk}/outlines/")
    assert answer["Content-Disposition"] == 'attachment; filename="outlines-a4-sheet-of-24-635-339-mm.pdf"'
    assert Drawn(answer.content, SHEET).words().split() == [str(number) for number in range(1, 25)]


def test_outlines_lie_where_the_labels_do(as_owner, stocks):
    answer = as_owner.get(f"/labels/stocks/{stocks['roll'].pk}/outlines/")
    [page] = pypdfium2.PdfDocument(answer.content)
    assert [round(side / 72 * 25.4, 1) for side in page.get_size()] == [ROLL.page_width, ROLL.page_height]
