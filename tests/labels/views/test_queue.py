"""What waits to be printed, narrowed by kind, place, sowing and what made it, as the bench is walked."""

import re
import uuid

import pytest
from django.db import connection
from django.test import Client
from django.test.utils import CaptureQueriesContext

from breeding.records.sowing import Line, sowing_planned
from nursery.damm import number_with_digit
from nursery.models import Plant, Tag, Thing
from nursery.records.numbers import blank_tags_make
from nursery.records.undo import undone
from tests.making import Nursery, birth_of, tag_of

pytestmark = pytest.mark.django_db


def listed(client: Client, query: str = "") -> list[int]:
    """The numbers on the page, in its order."""
    page = client.get(f"/labels/{query}").text
    return [int(number) for number in re.findall(r'name="numbers" value="(\d+)"', page)]


def test_the_queue_is_in_walking_order_and_narrowed_by_place_with_all_inside(as_grower, stocks, nursery: Nursery):
    late, early = nursery.house("Warm house", order=2), nursery.house("Cool house", order=1)
    bench = nursery.bench("Long bench", inside=late)
    far, near = nursery.plant(place=bench), nursery.plant(place=early)
    [blank] = blank_tags_make(count=1)
    packet = nursery.seed_by_post(words="Seed of a friend")
    number = {
        name: tag_of(thing).number for name, thing in locals().items() if hasattr(thing, "thing_id") and name != "blank"
    }
    assert listed(as_grower) == [
        number["early"],
        number["near"],
        number["late"],
        number["bench"],
        number["far"],
        number["packet"],
        blank.number,
    ]
    page = as_grower.get("/labels/").text
    assert 'class="labels__place">Warm house, Long bench' in page and "In packets, or nowhere" in page
    assert listed(as_grower, f"?place={late.pk}") == [number["late"], number["bench"], number["far"]]
    assert listed(as_grower, f"?place={late.pk}&show=Plant") == [number["far"]]
    page = as_grower.get(f"/labels/?place={late.pk}").text
    assert f'href="/labels/?place={late.pk}&amp;show=Plant"' in page and "Show all that wait" in page
    assert listed(as_grower, "?place=999999") == []
    assert "None of these waits to be printed." in as_grower.get("/labels/?place=999999").text
    for nonsense in ("?place=²", "?sowing=x", "?made=no", "?place=" + "9" * 30):
        assert len(listed(as_grower, nonsense)) == 7


def test_the_queue_is_narrowed_by_sowing_and_by_what_made_it(as_grower, stocks, nursery: Nursery):
    lot, other = nursery.seed(days_ago=3), nursery.pots(2)
    act = nursery.record(sowing_planned, lines=[Line(lot, pots=3, seeds=20)])
    session = act.thing.pk
    prepared = list(Tag.objects.filter(thing__seedpot__session=session).order_by("number").values_list("pk", flat=True))
    assert len(prepared) == 3
    assert listed(as_grower, f"?sowing={session}") == prepared
    assert "Sowing of " in as_grower.get("/labels/").text
    made = birth_of(other[0])
    assert listed(as_grower, f"?made={made.pk}") == [tag_of(pot).number for pot in other]
    assert "Tags of what was just entered." in as_grower.get(f"/labels/?made={made.pk}").text
    assert listed(as_grower, f"?made={uuid.uuid4()}") == []


def test_after_the_tags_of_a_sowing_alone_the_sowing_is_next(as_grower, stocks, nursery: Nursery):
    act = nursery.record(sowing_planned, lines=[Line(nursery.seed(days_ago=3), pots=2, seeds=20)])
    pots = listed(as_grower, f"?sowing={act.thing.pk}")
    sent = {"stock": stocks["roll"].pk, "copies": 1}
    back = as_grower.post("/labels/sheet/right/", sent | {"numbers": pots}, follow=True)
    assert back.redirect_chain == [(f"/sowings/{act.thing.pk}/", 302)]
    assert "2 tags are marked as printed." in back.text
    assert "Sow at the bench" in back.text
    mixed = sent | {"numbers": [*pots, tag_of(nursery.plant()).number]}
    assert as_grower.post("/labels/sheet/right/", mixed).headers["Location"].startswith("/labels/")
    nursery.record(undone, target=act)
    assert as_grower.get(f"/labels/print/{pots[0]}/").status_code == 200
    assert as_grower.post("/labels/sheet/right/", sent | {"numbers": pots}).headers["Location"].startswith("/labels/")


def test_a_thousand_that_wait_are_one_page_that_asks_no_more_than_for_two(as_grower, stocks, nursery: Nursery, owner):
    plant = nursery.plant()
    nursery.plant()
    few = _asked(as_grower)
    _copies(plant, 1000)
    assert _asked(as_grower) == few <= 30
    numbers = listed(as_grower)
    assert len(numbers) > 1000
    sent = {"numbers": numbers, "stock": stocks["roll"].pk, "copies": 1}
    assert as_grower.post("/labels/sheet/right/", sent).status_code == 302, "a number for each is a field for each"
    assert not Tag.objects.filter(printed_at=None).exists()


def _asked(client: Client) -> int:
    with CaptureQueriesContext(connection) as asked:
        assert client.get("/labels/").status_code == 200
    return len(asked)


def _copies(plant: Plant, count: int) -> None:
    """As many more plants with tags, written past the records: a thousand acts would take a minute."""
    act = birth_of(plant)
    things = Thing.objects.bulk_create(Thing(kind="plant", made_at=act.recorded_at, born_by=act) for _ in range(count))
    Plant.objects.bulk_create(Plant(thing=one, clone=plant.clone, place=plant.place) for one in things)
    first = 70_000
    Tag.objects.bulk_create(
        Tag(number=number_with_digit(first + turn), thing=one, made_at=act.recorded_at)
        for turn, one in enumerate(things)
    )


def test_printing_is_offered_right_after_making_things(as_grower, stocks, nursery: Nursery):
    """A bag has its tag from the moment of the harvest, before anybody cleans or estimates what is in it."""
    section = nursery.section(days_ago=60)
    answer = as_grower.post(f"/sections/{section.pk}/harvest/", {"act_id": uuid.uuid4(), "what": "section"})
    page = as_grower.get(answer.url).text
    [bag] = section.seed_lots.all()
    number = tag_of(bag).number
    assert (bag.stage, bag.estimate, answer.url) == ("waiting", None, f"/seed/{bag.pk}/")
    assert f'href="/labels/print/{number}/">Print its tag</a>' in page.split("Undo")[0]
    sowing = {"act_id": uuid.uuid4(), "pots": 3, "seeds": 10, "place": nursery.bench().pk}
    answer = as_grower.post(f"/seed/{bag.pk}/sow/", sowing)
    page = as_grower.get(answer.url).text
    [offer] = re.findall(r'href="(/labels/\?made=[^"]+)">3 tags wait to be printed</a>', page)
    assert listed(as_grower, offer.removeprefix("/labels/")) == [tag_of(pot).number for pot in bag.pots.order_by("pk")]
    assert "wait to be printed</a>" not in as_grower.get(answer.url).text
