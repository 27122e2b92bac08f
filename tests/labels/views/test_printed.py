import uuid
from datetime import timedelta

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext
from django.utils import timezone

from labels.models import Printing, Stock
from labels.records import printed
from nursery.models import Tag
from nursery.records.errors import Refused
from tests.making import tag_of, today

pytestmark = pytest.mark.django_db

RIGHT = "/labels/sheet/right/"


def print_of(by, *numbers: int, stock: Stock | None = None) -> None:
    printed(id=uuid.uuid4(), by=by, numbers=numbers, stock=stock, address="https://tags.example", printer=None)


def test_a_print_says_when_on_what_how_many_and_by_whom(as_grower, grower, nursery, stocks):
    number = tag_of(nursery.plant()).number
    choice = {"numbers": number, "stock": stocks["roll"].pk, "copies": 2}
    sheet = as_grower.post("/labels/sheet/", choice)
    as_grower.post(RIGHT, choice | {"printing": sheet.context["printing_id"]})
    kept = Printing.objects.get()
    assert kept.pk == sheet.context["printing_id"]
    assert (kept.by, kept.stock, kept.copies, kept.address) == (grower, stocks["roll"], 2, "https://tags.example")
    page = as_grower.get(f"/labels/print/{number}/").content.decode()
    assert "Printed before" in page
    assert "on “Roll, 54 × 25 mm”, by Tom Reed, 2 of each" in page
    assert f"/labels/printed/{kept.pk}/" in as_grower.get("/labels/printed/").content.decode()
    assert f'value="{number}"' in as_grower.get(f"/labels/printed/{kept.pk}/").content.decode()


def test_saying_it_twice_is_one_print(as_grower, nursery, stocks):
    number = tag_of(nursery.plant()).number
    sent = {"numbers": number, "stock": stocks["roll"].pk, "printing": str(uuid.uuid4())}
    for _ in range(2):
        page = as_grower.post(RIGHT, sent, follow=True).content.decode()
        assert "1 tag is marked as printed." in page
    assert Printing.objects.count() == 1


def test_printed_again_shows_both_times(as_grower, grower, owner, nursery, stocks):
    number = tag_of(nursery.plant()).number
    for by in (grower, owner):
        print_of(by, number, stock=stocks["roll"])
    page = as_grower.get(f"/labels/print/{number}/").content.decode()
    assert page.index("by Ida Fern") < page.index("by Tom Reed")


def test_what_the_page_has_lost_does_not_lose_the_print(as_grower, nursery, stocks):
    number = tag_of(nursery.plant()).number
    nonsense = ({"stock": "999999"}, {"printing": "no"}, {"copies": "-1"}, {"stock": "<b>", "copies": "🌱"}, {})
    for lost in nonsense:
        Tag.objects.update(printed_at=None)
        as_grower.post(RIGHT, {"numbers": number} | lost)
        assert Tag.objects.get(pk=number).printed_at is not None, lost
    assert [one.tags.get().tag_id for one in Printing.objects.all()] == [number] * len(nonsense)


def test_how_long_the_print_lasts_follows_from_what_it_is_printed_on(grower, nursery, stocks):
    number = tag_of(nursery.plant()).number
    print_of(grower, number, stock=stocks["roll"])  # heat, straight onto the label: nine months
    lasts = Tag.objects.get(pk=number).lasts_until
    assert 270 <= (lasts - timezone.localdate()).days <= 276
    print_of(grower, number)  # on nobody knows what
    assert Tag.objects.get(pk=number).lasts_until is None


def test_fading_tags_are_offered_for_another_label_until_they_have_it(as_grower, grower, nursery, stocks):
    plant, gone = nursery.plant(), nursery.plant()
    number = tag_of(plant).number
    print_of(grower, number, tag_of(gone).number, stock=stocks["roll"])
    assert "Fading labels" not in as_grower.get("/labels/").content.decode()
    Tag.objects.update(lasts_until=today() + timedelta(days=20))
    type(gone).objects.filter(pk=gone.pk).update(closed_on=today())
    page = as_grower.get("/labels/fading/").content.decode()
    assert f'value="{number}"' in page
    assert f'value="{tag_of(gone).number}"' not in page
    Tag.objects.exclude(pk=number).update(lasts_until=None)
    assert "Fading labels (1)" in as_grower.get("/labels/").content.decode()
    print_of(grower, number, stock=stocks["sheet"])
    assert "No tag in use is near the end of its print" in as_grower.get("/labels/fading/").content.decode()


def test_fading_tags_say_what_they_are_printed_on_and_stand_by_that_and_by_age(as_grower, grower, nursery, stocks):
    old, new, other = (tag_of(nursery.plant()).number for _ in range(3))
    for number, stock, left in ((new, "roll", 20), (other, "sheet", 10), (old, "roll", 5)):
        print_of(grower, number, stock=stocks[stock])
        Tag.objects.filter(pk=number).update(lasts_until=today() + timedelta(days=left))
    walked = as_grower.get("/labels/fading/")
    assert [tick.tag.number for group in walked.context["standing"] for tick in group.ticks] == [old, other, new]
    fades = today() + timedelta(days=5)
    assert f"Printed {today():%-d %b %Y} on “Roll, 54 × 25 mm”, readable until about {fades:%b %Y}" in walked.text
    by_age = as_grower.get(f"/labels/fading/{walked.context['other_turn'].url}")
    told = [(group.title, [tick.tag.number for tick in group.ticks]) for group in by_age.context["standing"]]
    assert told == [
        ("On “Roll, 54 × 25 mm”, heat, straight onto the label", [old, new]),
        ("On “A4 sheet of 24, 63.5 × 33.9 mm”, an office printer, on paper", [other]),
    ]
    back = as_grower.get(f"/labels/fading/{by_age.context['other_turn'].url}")
    assert back.context["standing"] == walked.context["standing"]
    Printing.objects.all().delete()
    assert "On what is not known" in as_grower.get("/labels/fading/?turn=age").text


def test_fading_tags_ask_no_more_for_many_than_for_two(as_grower, grower, nursery, stocks):
    counts = []
    for _ in range(2):
        print_of(grower, *(tag_of(nursery.plant()).number for _ in range(2)), stock=stocks["roll"])
        Tag.objects.update(lasts_until=today())
        with CaptureQueriesContext(connection) as asked:
            as_grower.get("/labels/fading/")
        counts.append(len(asked))
    assert counts[0] == counts[1]


def test_who_may_and_what_is_not_there(as_viewer, as_grower, stranger, viewer, nursery, stocks):
    number = tag_of(nursery.plant()).number
    with pytest.raises(Refused):
        print_of(viewer, number)
    assert not Printing.objects.exists()
    assert as_viewer.get("/labels/printed/").status_code == 200
    assert as_viewer.get("/labels/fading/").status_code == 403
    assert as_viewer.get(f"/labels/printed/{uuid.uuid4()}/").status_code == 403
    assert as_grower.get(f"/labels/printed/{uuid.uuid4()}/").status_code == 404
    assert stranger.get("/labels/printed/").status_code == 302


def test_the_list_of_stocks_says_how_long_print_lasts(as_owner, stocks):
    page = as_owner.get("/labels/stocks/").content.decode()
    assert "heat, straight onto the label · readable for about 9 months" in page
    assert "readable for about 1 year" in page
