"""A father that may be one of several is named in one order, whatever order the database gives."""

import pytest
from django.db.models import Prefetch

from breeding.models import PollenLot
from breeding.words.descent import pollen_tree
from nursery.models import Clone
from tests.making import Nursery


@pytest.mark.parametrize("order", ["pk", "-pk"])
def test_candidates_stand_in_the_order_in_which_they_were_entered(nursery: Nursery, order: str) -> None:
    males = [nursery.male(nursery.clone(epithet), days_ago=9) for epithet in ("lowii", "hamata", "bicalcarata")]
    lot = nursery.pollen(males)
    asked = Prefetch("candidates", Clone.objects.order_by(order))
    found = pollen_tree(PollenLot.objects.prefetch_related(asked).get(pk=lot.pk))
    assert [tree.epithet for tree in found.choices] == ["lowii", "hamata", "bicalcarata"]
