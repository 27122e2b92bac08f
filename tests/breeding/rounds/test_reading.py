"""Rows read column by column are those that Django reads one by one."""

import pytest

from breeding.models import PollenLot, Routine, Section, SeedLot, SeedPot, SowingSession, Spike
from breeding.rounds.reading import read_rows
from breeding.rounds.rows import KINDS, columns, moment
from tests.making import Nursery

MODELS = dict(zip(KINDS, (Spike, Section, PollenLot, SeedLot, SeedPot, Routine, SowingSession), strict=True))


@pytest.fixture
def of_everything(nursery: Nursery) -> None:
    section = nursery.section(days_ago=200)
    nursery.pot(nursery.seed(section, days_ago=60), days_ago=50)
    nursery.pot(nursery.seed_by_post(words="by post"))
    nursery.pollen([nursery.male(days_ago=9)], storage="bench")
    nursery.routine(place=nursery.house("Warm"))
    nursery.sowing()


def test_rows_are_those_that_django_reads(of_everything: None) -> None:
    for kind in KINDS:
        things = MODELS[kind].objects.order_by("pk")
        left = tuple(kind._field_defaults.values())
        expected = [kind._make(row + left) for row in things.values_list(*columns(kind))]
        found = [row._replace(made_at=moment(row.made_at)) for row in read_rows(kind, things)]
        assert expected
        assert found == expected
        assert [list(map(type, row)) for row in found] == [list(map(type, row)) for row in expected]
        assert read_rows(kind, things.none()) == []
