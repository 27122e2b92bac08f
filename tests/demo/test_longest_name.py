"""The longest formula that the demo itself has, on every stock."""

from datetime import date

import pytest

from breeding.models import Cross, SeedPot
from labels.contents import tagged
from labels.models import Stock
from labels.sheets import Group, lost_on
from labels.shipped import SHIPPED
from tests.labels.reading import drawn

pytestmark = pytest.mark.django_db

DAY = date(2025, 12, 31)


def test_the_longest_formula_fits_on_every_stock_with_its_number(books):
    tags = tagged(list(SeedPot.objects.values_list("thing__tags__number", flat=True)))
    longest = max(tags, key=lambda tag: len("".join(part.text for part in tag.name)))
    words = "".join(part.text for part in longest.name)
    assert longest.is_formula and len(words) > 30 and Cross.objects.exists()
    for columns in SHIPPED:
        stock = Stock(**columns).measures
        texts = [longest.text("https://tags.example")]
        printed = drawn(texts, stock)
        assert str(longest.number) in printed.words().replace(" ", ""), columns["name"]
        picture = printed.label(0, dpi=203)
        assert (picture[:2] < 128).sum() + (picture[-2:] < 128).sum() == 0, columns["name"]
        assert (picture[:, :2] < 128).sum() + (picture[:, -2:] < 128).sum() == 0, columns["name"]
        if not lost_on([Group(texts, stock)]).words:
            assert words.replace(" ", "") in printed.words().replace(" ", ""), columns["name"]
