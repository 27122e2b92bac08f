"""Two moves at the same moment that close a circle only together: one of them is refused."""

import uuid

import pytest

from nursery.models import Place
from nursery.records.core import NewAct
from nursery.records.errors import Refused
from nursery.records.moves import place_moved
from nursery.records.places import place_made
from tests.concurrency.together import together
from tests.making import Nursery


@pytest.mark.parametrize("_", range(3))
def test_two_moves_that_close_a_circle_together_are_not_both_taken(_: int, nursery: Nursery) -> None:
    """North goes onto the tray of South while South goes onto the tray of North: no place is in both moves."""
    north, south = nursery.bench("North"), nursery.bench("South")
    of_north, of_south = (nursery.made(place_made, name="Tray", size="tray", inside=bench) for bench in (north, south))

    def moves(bench: Place, onto: Place) -> str:
        try:
            return place_moved(act=NewAct(id=uuid.uuid4(), by=nursery.by), place=bench, inside=onto).kind
        except Refused as refused:
            return refused.code

    done = together(lambda: moves(north, of_south), lambda: moves(south, of_north))
    assert sorted(done) == ["place_in_itself", "place_moved"]
