import numpy as np
import pytest

from labels.models import Printer, Printing, Stock
from tests.labels.cast import SHEET
from tests.labels.reading import Drawn
from tests.making import tag_of

pytestmark = pytest.mark.django_db


def left_and_top(pdf: bytes) -> tuple[float, float]:
    """Millimetres from the edges of the first page to its first ink, at 254 dots an inch."""
    ink = Drawn(pdf, SHEET).page(0, dpi=254) < 128
    return ink.any(axis=0).argmax() / 10, ink.any(axis=1).argmax() / 10


def test_labels_are_drawn_so_far_the_other_way_as_their_printer_is_off(as_owner, nursery, stocks):
    number = tag_of(nursery.house()).number
    sent = {"numbers": [number], "stock": stocks["sheet"].pk, "copies": "1"}
    before = left_and_top(as_owner.post("/labels/sheet/pdf/", sent).getvalue())
    as_owner.post("/labels/printers/new/", {"name": "office", "dpi": "600", "across": "1,5", "down": "-2"})
    after = left_and_top(as_owner.post("/labels/sheet/pdf/", sent | {"printer": Printer.objects.get().pk}).getvalue())
    assert np.subtract(after, before) == pytest.approx((-1.5, 2), abs=0.11)
    assert "+1.5 mm across, -2 mm down" in as_owner.get("/labels/printers/").content.decode()


def test_the_printer_of_the_last_print_is_taken_until_another_is_chosen(as_owner, nursery, stocks):
    bench, office = (Printer.objects.create(name=name, dpi=dpi) for name, dpi in (("bench", 203), ("office", 600)))
    roll = stocks["roll"]
    number = tag_of(nursery.house()).number
    sent = {"numbers": number, "stock": roll.pk, "copies": "1"}

    def laid(**printer: object) -> tuple[Printer | None, str]:
        answer = as_owner.post("/labels/sheet/", sent | printer)
        [(group, words)] = answer.context["carried"]
        assert words in answer.content.decode()
        right = {"numbers": number, "stock": roll.pk, "printing": answer.context["printing_id"]}
        as_owner.post("/labels/sheet/right/", right | {f"printer_{roll.pk}": group.printer_value})
        return group.printer, words

    assert laid()[0] is None
    by_bench = laid(printer=bench.pk)
    assert by_bench[0] == bench and "4 dots (0.50 mm) a module" in by_bench[1]
    assert laid() == by_bench, "chosen once, it is taken again"
    assert Stock.objects.get(pk=roll.pk).printer == bench
    assert "with “bench”" in as_owner.get(f"/labels/print/{number}/").content.decode()
    by_office = laid(**{f"printer_{roll.pk}": office.pk})
    assert by_office[0] == office and by_office[1] != by_bench[1], "finer dots, other modules"
    assert laid(printer="none")[0] is None
    assert Stock.objects.get(pk=roll.pk).printer is None
    assert list(Printing.objects.order_by("at").values_list("printer", flat=True)) == [
        None,
        bench.pk,
        bench.pk,
        office.pk,
        None,
    ]


def test_a_printer_that_is_none_is_told_beside_its_field(as_owner, nursery, stocks):
    Printer.objects.create(name="bench")
    number = tag_of(nursery.house()).number
    sent = {"numbers": number, "stock": stocks["roll"].pk, "copies": "1", "printer": "999"}
    answer = as_owner.post("/labels/sheet/", sent)
    assert answer.status_code == 422
    assert "This printer is not there any more. Choose another." in answer.content.decode()


def test_a_stock_says_what_it_carries_on_each_printer(as_owner, nursery, stocks):
    for name, dpi in (("bench", 203), ("office", 600)):
        Printer.objects.create(name=name, dpi=dpi)
    carried = as_owner.get(f"/labels/stocks/{stocks['roll'].pk}/").context["carried"]
    assert [printer for printer, _ in carried] == ["“bench”, 203 dots an inch", "“office”, 600 dots an inch"]
    assert carried[0][1] != carried[1][1]
    Printer.objects.create(name="hall", dpi=203)
    alike = as_owner.get(f"/labels/stocks/{stocks['roll'].pk}/").context["carried"]
    assert [printer for printer, _ in alike] == [
        "“bench”, 203 dots an inch; “hall”, 203 dots an inch",
        "“office”, 600 dots an inch",
    ]


def test_rulers_begin_at_the_edges_and_follow_the_correction(as_owner, stocks):
    where = f"/labels/stocks/{stocks['sheet'].pk}/rulers/"
    plain = Drawn(as_owner.get(where).content, SHEET)
    assert {"0", "5", "100", "210"} <= set(plain.words().split())
    row = round(297 * 2 / 3 * 10) - 10  # a millimetre above the foot of the ruler that lies across
    ticks = _ticks(plain.page(0, dpi=254)[row])
    assert {100, 200, 1000} <= ticks
    office = Printer.objects.create(name="office", across=3, down=0)
    moved = _ticks(Drawn(as_owner.get(f"{where}?printer={office.pk}").content, SHEET).page(0, dpi=254)[row])
    assert {70, 170, 970} <= moved
    assert f"rulers/?printer={office.pk}" in as_owner.get(f"/labels/printers/{office.pk}/").content.decode()
    assert as_owner.get(f"{where}?printer=999").status_code == 404


def _ticks(row: np.ndarray) -> set[int]:
    """Where dark dots are, give or take one, in tenths of a millimetre."""
    return {int(dot) + step for dot in (row < 160).nonzero()[0] for step in (-1, 0, 1)}


@pytest.mark.parametrize(
    ("changes", "field", "sentence"),
    [
        ({"across": "21"}, "across", "A printer is off by 20 mm at most. Check the size of its paper."),
        ({"across": "far"}, "across", "Write millimetres as a number, for example 63.5."),
        ({"dpi": "72"}, "dpi", "A printer has 150 to 2,400 dots an inch."),
        ({"dpi": "many"}, "dpi", "Write a whole number."),
        ({"name": "bench"}, "name", "Another printer has this name already."),
    ],
)
def test_an_offset_that_cannot_be_is_refused_beside_its_field(as_owner, changes, field, sentence):
    Printer.objects.create(name="bench")
    answer = as_owner.post(
        "/labels/printers/new/", {"name": "office", "dpi": "300", "across": "0", "down": "0"} | changes
    )
    assert answer.status_code == 422
    assert sentence in answer.context["form"].errors[field]
    assert Printer.objects.count() == 1


def test_printers_are_kept_by_owners_and_measured_as_told(as_owner, as_grower, as_viewer, stranger):
    printer = Printer.objects.create(name="bench")
    for where in ("/labels/printers/", "/labels/printers/new/", f"/labels/printers/{printer.pk}/"):
        assert (as_grower.get(where).status_code, as_viewer.get(where).status_code) == (403, 403)
        assert stranger.get(where).status_code == 302
    assert "measure from the left edge of the paper" in as_owner.get(f"/labels/printers/{printer.pk}/").content.decode()
