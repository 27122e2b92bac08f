"""Pictures of labels show what the PDF holds; they are read with another library than drew the codes."""

import cv2
import numpy as np
import pytest

from labels.examples import EXAMPLES
from labels.models import Stock
from labels.shipped import SHIPPED
from nursery.models import House
from tests.labels.reading import decoded
from tests.making import tag_of

pytestmark = pytest.mark.django_db


def picture(answer) -> np.ndarray:
    assert (answer.status_code, answer["Content-Type"]) == (200, "image/png")
    return cv2.imdecode(np.frombuffer(answer.content, np.uint8), cv2.IMREAD_GRAYSCALE)


def test_the_last_look_shows_the_first_page_as_a_picture(as_grower, nursery, stocks):
    numbers = [tag_of(nursery.house()).number for _ in range(3)]
    sent = {"numbers": numbers, "stock": stocks["sheet"].pk, f"first_{stocks['sheet'].pk}": "23", "copies": "1"}
    answer = as_grower.post("/labels/sheet/", sent)
    [group] = answer.context["groups"]
    address = group.picture.replace("&", "&amp;")
    assert f'<a href="{address}" target="_blank"><img class="shown__page" src="{address}"' in answer.text
    drawn = picture(as_grower.get(group.picture))
    high, wide = drawn.shape
    assert (high, wide) == (1600, round(210 * 1600 / 297))
    codes = decoded(cv2.resize(drawn[high * 3 // 4 :], None, fx=3, fy=3, interpolation=cv2.INTER_CUBIC))
    assert codes == {f"HTTPS://TAGS.EXAMPLE/T/{number}" for number in numbers[:2]}
    roll = as_grower.post("/labels/sheet/", sent | {"stock": stocks["roll"].pk}).context["groups"][0]
    assert decoded(picture(as_grower.get(roll.picture))) == {f"HTTPS://TAGS.EXAMPLE/T/{numbers[0]}"}


@pytest.mark.parametrize(("how", "shown"), [({}, [0, 1]), ({"buried": "on"}, [0, 0])], ids=["alone", "one to bury"])
def test_the_picture_shows_a_label_to_bury_only_where_it_is_printed(as_grower, nursery, stocks, how, shown):
    numbers = [tag_of(pot).number for pot in nursery.pots(2, seeds=40)]
    sent = {"numbers": numbers, "stock": stocks["sheet"].pk, f"first_{stocks['sheet'].pk}": "22", "copies": "1"} | how
    [group] = as_grower.post("/labels/sheet/", sent).context["groups"]
    drawn = picture(as_grower.get(group.picture))
    high, wide = drawn.shape
    row, step = drawn[round(high * 7 / 8 - high * 0.025) :], wide / 3
    columns = [row[:, round(step * column) : round(step * (column + 1))] for column in range(2)]
    read = [decoded(cv2.resize(one, None, fx=3, fy=3, interpolation=cv2.INTER_CUBIC)) for one in columns]
    assert read == [{f"HTTPS://TAGS.EXAMPLE/T/{numbers[which]}"} for which in shown]


@pytest.mark.parametrize("asked", ["", "{}=1", "{}=25&numbers=18", "{}=x&numbers=18", "{}=1&numbers=99"])
def test_what_cannot_be_printed_has_no_picture(as_grower, stocks, asked):
    sheet = stocks["sheet"].pk
    assert as_grower.get(f"/labels/stocks/{sheet}/page/?{asked.format(f'first_{sheet}')}").status_code == 404


def test_a_stock_shows_a_label_of_each_kind_and_says_how_well_it_carries_codes(as_owner, nursery, stocks):
    said = {}
    for columns in SHIPPED:
        stock = Stock.objects.get(name=columns["name"])
        page = as_owner.get(f"/labels/stocks/{stock.pk}/")
        [(_, said[stock.name])] = page.context["carried"]
        for kind in EXAMPLES:
            assert f'src="/labels/stocks/{stock.pk}/shown/{kind}/"' in page.content.decode()
        drawn = picture(as_owner.get(f"/labels/stocks/{stock.pk}/shown/seedpot/"))
        assert drawn.shape == (round(stock.label_height * 8), round(stock.label_width * 8))
        assert (drawn < 128).sum() > 500
    assert said["Roll, 54 × 25 mm"].startswith("A code of 18.5 mm, 4 dots (0.50 mm) a module, with the strongest error")
    assert "read through every blur" in said["A4 sheet of 24, 63.5 × 33.9 mm"]
    assert "lost when it was soft" in said["Tape 24 mm wide, 70 mm long"]
    assert said["Roll of stakes, 13 × 100 mm"].startswith("No code fits")


def test_an_address_that_no_code_can_carry_is_told_in_place_of_it(as_owner, nursery, stocks):
    House.objects.update(public_address="tags.example")
    page = as_owner.get(f"/labels/stocks/{stocks['roll'].pk}/")
    [(_, words)] = page.context["carried"]
    assert words.startswith("The public address must begin with https://")
    assert as_owner.get(f"/labels/stocks/{stocks['roll'].pk}/shown/plant/").status_code == 404


def test_pictures_are_for_those_who_print(as_viewer, as_grower, stranger, stocks):
    where = f"/labels/stocks/{stocks['roll'].pk}/shown/plant/"
    assert (as_viewer.get(where).status_code, stranger.get(where).status_code) == (403, 302)
    assert as_grower.get(where.replace("plant", "kettle")).status_code == 404
