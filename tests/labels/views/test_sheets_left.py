"""The sheet that is left over part used is offered to the next print by the same printer, and to one at a time."""

import re
import uuid
from datetime import timedelta

import pytest
from django.db import IntegrityError, transaction
from django.utils import timezone

from labels.models import LaidOut, Printer, Printing, SheetLeft, Stock
from labels.records import stock_kept
from nursery.models import Tag
from tests.making import tag_of

pytestmark = pytest.mark.django_db

LOOK, PDF, RIGHT = "/labels/sheet/", "/labels/sheet/pdf/", "/labels/sheet/right/"


@pytest.fixture
def sheet(stocks) -> Stock:
    return stocks["sheet"]


@pytest.fixture
def numbers(nursery) -> list[int]:
    """Four houses."""
    return [tag_of(nursery.house()).number for _ in range(4)]


@pytest.fixture
def lay_out(sheet, numbers):
    """Lay the first three out, with more or other things that the form sends; the page that comes."""

    def laid(client, **more):
        return client.post(LOOK, {"numbers": numbers[:3], "stock": sheet.pk, "copies": 1} | more)

    return laid


def came_out(client, page, **more):
    """Say of all on a last look that they came out right."""
    stock = page.context["groups"][0].stock.pk
    printer = page.context["groups"][0].printer_value
    numbers = [tag.number for tag in page.context["tags"]]
    sent = {"numbers": numbers, "printing": page.context["printing_id"], "stock": stock, f"printer_{stock}": printer}
    return client.post(RIGHT, sent | more, follow=True)


def begun_at(page) -> int:
    [group] = page.context["groups"]
    return group.first


def left_of(stock: Stock, printer: Printer | None = None) -> int | None:
    return SheetLeft.objects.filter(stock=stock, printer=printer).values_list("first", flat=True).first()


def offered(page, stock: Stock) -> str:
    return re.search(rf'name="first_{stock.pk}" value="(\d+)"', page.text)[1]


def test_the_next_print_goes_on_where_the_last_one_ended(as_grower, as_owner, lay_out, sheet):
    assert "sheet left over" not in as_owner.get("/labels/").text
    page = lay_out(as_grower)
    assert (begun_at(page), left_of(sheet)) == (1, None), "laid out is not printed"
    as_grower.post(
        PDF, {"numbers": [tag.number for tag in page.context["tags"]], "stock": sheet.pk, "copies": 1}
    ).getvalue()
    assert left_of(sheet) is None, "and neither is a PDF"
    came_out(as_grower, page)
    assert left_of(sheet) == 4
    choosing = as_owner.get("/labels/")
    assert offered(choosing, sheet) == "4"
    day = timezone.localdate()
    assert f"3 of 24 used on the sheet left over from {day:%-d %b %Y}." in choosing.text
    assert begun_at(lay_out(as_owner)) == 4, "also where nobody says where to begin"


def test_labels_that_came_out_badly_used_the_sheet_too(as_grower, lay_out, numbers, sheet):
    came_out(as_grower, lay_out(as_grower, copies=2), numbers=numbers[:1])
    assert left_of(sheet) == 7
    as_grower.post(RIGHT, {"printing": lay_out(as_grower).context["printing_id"]})
    assert left_of(sheet) == 7, "of which nobody says that any came out right is no print"


def test_the_same_print_told_twice_moves_it_once(as_grower, lay_out, sheet):
    page = lay_out(as_grower)
    for _ in range(2):
        came_out(as_grower, page)
    assert (left_of(sheet), Printing.objects.count()) == (4, 1)


def test_a_fresh_sheet_is_one_tap_and_what_was_left_is_kept_until_it_is_printed_on(as_grower, lay_out, sheet):
    came_out(as_grower, lay_out(as_grower))
    assert 'name="fresh"' in as_grower.get("/labels/").text
    page = lay_out(as_grower, **{"fresh": "on", f"first_{sheet.pk}": "4", f"offered_{sheet.pk}": "4"})
    assert (begun_at(page), left_of(sheet)) == (1, 4)
    assert "These begin at label 1." in page.text and "From label 4 on</button>" in page.text
    page = lay_out(as_grower)
    assert 'value="1">On a fresh sheet</button>' in page.text
    both = {f"first_{sheet.pk}": ["4", "1"]}
    assert begun_at(lay_out(as_grower, **both)) == 1, "the button comes after what the page was laid out with"
    came_out(as_grower, lay_out(as_grower, fresh="on", copies=4))
    assert left_of(sheet) == 13


def test_a_full_sheet_leaves_nothing_and_fresh_ones_that_are_filled_leave_what_was_left(as_grower, lay_out, sheet):
    came_out(as_grower, lay_out(as_grower, **{f"first_{sheet.pk}": 20}))
    assert left_of(sheet) == 23
    page = lay_out(as_grower, numbers=[one.number for one in Tag.objects.all()[:4]] * 6, fresh="on", copies=4)
    came_out(as_grower, page)
    assert left_of(sheet) == 17
    came_out(as_grower, lay_out(as_grower, numbers=[page.context["tags"][0].number], copies=4))
    came_out(as_grower, lay_out(as_grower, numbers=[one.number for one in page.context["tags"][:4]]))
    assert left_of(sheet) is None
    assert "sheet left over" not in as_grower.get("/labels/").text


def test_each_printer_has_its_own(as_grower, lay_out, sheet):
    bench, office = (Printer.objects.create(name=name) for name in ("bench", "office"))
    came_out(as_grower, lay_out(as_grower, printer=bench.pk))
    came_out(as_grower, lay_out(as_grower, printer=office.pk, copies=2))
    assert [left_of(sheet, one) for one in (bench, office, None)] == [4, 7, None]
    choosing = as_grower.get("/labels/")
    assert offered(choosing, sheet) == "7" and ", printed with “office”." in choosing.text
    as_offered = {f"first_{sheet.pk}": "7", f"offered_{sheet.pk}": "7"}
    assert begun_at(lay_out(as_grower, **as_offered)) == 7
    assert begun_at(lay_out(as_grower, **as_offered, printer=bench.pk)) == 4, "left as offered, it follows the printer"
    assert begun_at(lay_out(as_grower, **as_offered, printer="none")) == 1
    typed = as_offered | {f"first_{sheet.pk}": "9"}
    assert begun_at(lay_out(as_grower, **typed, printer=bench.pk)) == 9


def test_the_last_pdf_says_which_labels_were_used(as_grower, lay_out, numbers, sheet):
    """On the last look of several stocks, another first label may be typed before one of them is opened."""
    page = lay_out(as_grower)
    again = {"look": page.context["printing_id"], f"first_{sheet.pk}": 10}
    as_grower.post(PDF, {"numbers": numbers[:3], "stock": sheet.pk, "copies": 1} | again).getvalue()
    came_out(as_grower, page)
    assert left_of(sheet) == 13


def test_two_who_print_at_once_are_not_both_given_the_same_labels_unwarned(as_grower, as_owner, lay_out, sheet):
    came_out(as_grower, lay_out(as_grower))
    first = lay_out(as_grower)
    assert "laid out label" not in first.text
    second = lay_out(as_owner)
    assert "Tom Reed laid out labels 4 to 6 of this sheet at" in second.text
    assert "From label 7 on</button>" in second.text and "On a fresh sheet</button>" in second.text
    for elsewhere in ({f"first_{sheet.pk}": 7}, {"fresh": "on"}, {"printer": Printer.objects.create(name="bench").pk}):
        assert "laid out label" not in lay_out(as_owner, **elsewhere).text
    came_out(as_grower, first)
    assert "laid out label" not in lay_out(as_owner).text, "told of, they are what is left"
    told = came_out(as_owner, second)
    assert "Tom Reed printed on sheets of “A4 sheet of 24, 63.5 × 33.9 mm” at" in told.text
    assert "printed on sheets" not in came_out(as_owner, lay_out(as_owner)).text


def test_what_somebody_laid_out_and_left_is_told_for_two_hours_and_forgotten_in_a_week(as_grower, as_owner, lay_out):
    came_out(as_grower, lay_out(as_grower))
    abandoned = lay_out(as_grower)
    for ago, told, kept in (
        (timedelta(hours=1), True, 1),
        (timedelta(hours=3), False, 1),
        (timedelta(days=8), False, 0),
    ):
        LaidOut.objects.filter(look=abandoned.context["printing_id"]).update(at=timezone.now() - ago)
        assert ("laid out label" in lay_out(as_owner).text) == told
        assert LaidOut.objects.filter(look=abandoned.context["printing_id"]).count() == kept


def test_a_print_without_its_last_look_is_kept_and_what_is_left_stays(as_grower, lay_out, numbers, sheet):
    came_out(as_grower, lay_out(as_grower))
    for nonsense in ("", "no", str(uuid.uuid4())):
        page = as_grower.post(RIGHT, {"numbers": numbers[3], "stock": sheet.pk, "printing": nonsense}, follow=True)
        assert "1 tag is marked as printed." in page.text
    assert left_of(sheet) == 4
    pdf = as_grower.post(PDF, {"numbers": numbers, "stock": sheet.pk, "copies": 1, "look": "no"})
    assert pdf.getvalue().startswith(b"%PDF")
    assert pdf.status_code == 200


def test_another_count_of_labels_forgets_the_sheet_and_other_margins_do_not(as_grower, owner, lay_out, sheet):
    came_out(as_grower, lay_out(as_grower))
    sheet.top += 1
    stock_kept(by=owner, stock=sheet)
    assert left_of(sheet) == 4
    sheet.rows -= 1
    stock_kept(by=owner, stock=sheet)
    assert left_of(sheet) is None


def test_a_refused_choice_keeps_what_was_typed_and_what_was_offered(as_grower, lay_out, sheet):
    came_out(as_grower, lay_out(as_grower))
    page = lay_out(as_grower, **{"copies": 9, f"first_{sheet.pk}": "6", f"offered_{sheet.pk}": "5", "fresh": "on"})
    assert page.status_code == 422 and offered(page, sheet) == "6"
    assert f'name="offered_{sheet.pk}" value="5"' in page.text
    assert re.search('name="fresh"[^>]*checked', page.text)


@pytest.mark.parametrize("first", [1, 0, 1201])
def test_the_database_refuses_a_sheet_that_is_not_begun(as_grower, lay_out, sheet, first):
    came_out(as_grower, lay_out(as_grower))
    with pytest.raises(IntegrityError, match="sheet_left_is_begun_and_not_full"), transaction.atomic():
        SheetLeft.objects.update(first=first)


def test_the_database_holds_one_sheet_by_each_printer_and_one_layout_by_each_look(as_grower, lay_out, sheet):
    bench = Printer.objects.create(name="bench")
    for printer in (bench.pk, "none"):
        came_out(as_grower, lay_out(as_grower, printer=printer))
        lay_out(as_grower, printer=printer)
    assert (SheetLeft.objects.count(), LaidOut.objects.count()) == (2, 2)
    for row in (*SheetLeft.objects.all(), *LaidOut.objects.all()):
        row.pk = None
        with pytest.raises(IntegrityError, match="(?i)unique"), transaction.atomic():
            row.save()
    with pytest.raises(IntegrityError, match="laid_out_from_a_label_of_a_sheet"), transaction.atomic():
        LaidOut.objects.update(labels=0)
