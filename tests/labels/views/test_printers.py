import numpy as np
import pytest

from labels.models import Printer, Stock
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
    sent = {"numbers": [number], "stock": stocks["sheet"].pk, "first": "1", "copies": "1"}
    before = left_and_top(as_owner.post("/labels/sheet/pdf/", sent).content)
    as_owner.post("/labels/printers/new/", {"name": "office", "across": "1,5", "down": "-2"})
    Stock.objects.filter(pk=stocks["sheet"].pk).update(printer=Printer.objects.get())
    after = left_and_top(as_owner.post("/labels/sheet/pdf/", sent).content)
    assert np.subtract(after, before) == pytest.approx((-1.5, 2), abs=0.11)
    page = as_owner.get("/labels/printers/").content.decode()
    assert "+1.5 mm across, -2 mm down" in page and stocks["sheet"].name in page


def test_rulers_begin_at_the_edges_and_follow_the_correction(as_owner, stocks):
    where = f"/labels/stocks/{stocks['sheet'].pk}/rulers/"
    plain = Drawn(as_owner.get(where).content, SHEET)
    assert {"0", "5", "100", "210"} <= set(plain.words().split())
    row = round(297 * 2 / 3 * 10) - 10  # a millimetre above the foot of the ruler that lies across
    ticks = _ticks(plain.page(0, dpi=254)[row])
    assert {100, 200, 1000} <= ticks
    Stock.objects.filter(pk=stocks["sheet"].pk).update(printer=Printer.objects.create(name="office", across=3, down=0))
    moved = _ticks(Drawn(as_owner.get(where).content, SHEET).page(0, dpi=254)[row])
    assert {70, 170, 970} <= moved


def _ticks(row: np.ndarray) -> set[int]:
    """Where dark dots are, give or take one, in tenths of a millimetre."""
    return {int(dot) + step for dot in (row < 160).nonzero()[0] for step in (-1, 0, 1)}


@pytest.mark.parametrize(
    ("changes", "field", "sentence"),
    [
        ({"across": "21"}, "across", "A printer is off by 20 mm at most. Check the size of its paper."),
        ({"across": "far"}, "across", "Write millimetres as a number, for example 63.5."),
        ({"name": "bench"}, "name", "Another printer has this name already."),
    ],
)
def test_an_offset_that_cannot_be_is_refused_beside_its_field(as_owner, changes, field, sentence):
    Printer.objects.create(name="bench")
    answer = as_owner.post("/labels/printers/new/", {"name": "office", "across": "0", "down": "0"} | changes)
    assert answer.status_code == 422
    assert sentence in answer.context["form"].errors[field]
    assert Printer.objects.count() == 1


def test_printers_are_kept_by_owners_and_measured_as_told(as_owner, as_grower, as_viewer, stranger):
    printer = Printer.objects.create(name="bench")
    for where in ("/labels/printers/", "/labels/printers/new/", f"/labels/printers/{printer.pk}/"):
        assert (as_grower.get(where).status_code, as_viewer.get(where).status_code) == (403, 403)
        assert stranger.get(where).status_code == 302
    assert "measure from the left edge of the paper" in as_owner.get(f"/labels/printers/{printer.pk}/").content.decode()
