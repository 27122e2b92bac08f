"""A second label to bury in the pot: asked for at the print, and told of afterwards."""

import pytest

from labels.models import Printing
from tests.labels.cast import ROLL
from tests.labels.reading import Drawn, decoded, photographed
from tests.making import tag_of

pytestmark = pytest.mark.django_db


def test_what_grows_in_a_pot_gets_one_more_right_behind_the_first(as_grower, nursery, stocks):
    pot = nursery.pot(days_ago=30)
    numbers = [tag_of(pot).number, tag_of(pot.lot).number]
    sent = {"numbers": numbers, "stock": stocks["roll"].pk, "copies": "1", "buried": "on"}
    look = as_grower.post("/labels/sheet/", sent)
    [group] = look.context["groups"]
    assert group.labels == 3, "seed in a packet has no pot to bury one in"

    drawn = Drawn(as_grower.post("/labels/sheet/pdf/", sent).getvalue(), ROLL)
    of_the_pot = [page for page in range(3) if str(numbers[0]) in drawn.words(page).replace(" ", "")]
    assert len(of_the_pot) == 2 and of_the_pot[1] == of_the_pot[0] + 1
    first, buried = (drawn.words(page) for page in of_the_pot)
    assert "Seed pot" in first and "sown" in first
    assert "Seed pot" not in buried and "sown" not in buried and "lowii lantern × hamata" in buried
    code = decoded(photographed(drawn.page(of_the_pot[1], dpi=203)))
    assert code == {f"HTTPS://TAGS.EXAMPLE/T/{numbers[0]}"}

    right = {"numbers": numbers, "stock": stocks["roll"].pk, "buried": "on", "printing": look.context["printing_id"]}
    as_grower.post("/labels/sheet/right/", right)
    assert Printing.objects.get().buried
    again = as_grower.get(f"/labels/printed/{look.context['printing_id']}/").content.decode()
    assert "one more to bury in each pot" in again
    assert 'name="buried"' in again and "checked" in again[again.index('name="buried"') :][:120]


def test_it_is_offered_only_where_something_grows_in_a_pot(as_grower, nursery, stocks):
    house, plant = nursery.house(), nursery.plant()
    assert 'name="buried"' not in as_grower.get(f"/labels/print/{tag_of(house).number}/").content.decode()
    assert 'name="buried"' in as_grower.get(f"/labels/print/{tag_of(plant).number}/").content.decode()
