"""Wherever a pot may appear: one that waits to be sown breaks nothing, and counts as sown nowhere."""

import pytest
from django.test import Client

from breeding.models import SeedPot
from breeding.pipeline import gather as pipeline
from breeding.records import sowing
from breeding.standing import standing_in
from labels.contents import tagged
from nursery.site.export.moving import tables
from tests.making import Nursery, tag_of, today

pytestmark = pytest.mark.django_db


def _label(pot: SeedPot) -> tuple[str, ...]:
    [told] = tagged([tag_of(pot).number])
    return told.lines


def _moving_out() -> list[list]:
    [sheet] = [one for one in tables() if one.path == "moving-in/pots.csv"]
    return [list(row) for row in sheet.rows()]


def test_it_counts_as_sown_only_once_it_is(nursery: Nursery, as_grower: Client) -> None:
    lot = nursery.seed(estimate=90, days_ago=9)
    bench = nursery.bench()
    plant = lot.section.spike.plant
    session = nursery.sowing(sowing.Line(lot, 2, "7.5 cm (three-inch)", seeds=30), place=bench, days_ago=2)
    waits, sown = SeedPot.objects.filter(session=session).order_by("pk")
    pages = (f"/plants/{plant.pk}/trace/", f"/crosses/{lot.cross_id}/", f"/seed/{lot.pk}/", "/crosses/pipeline/")
    pages += (f"/places/{bench.pk}/", f"/places/{bench.pk}/several/", f"/places/{bench.pk}/stocktake/", "/pots/")
    pages += (
        f"/acts/{session.thing.born_by_id}/several/",
        "/office/journal/",
        "/labels/",
        f"/search/?q={tag_of(waits).number}",
    )

    assert all(as_grower.get(page, follow=True).status_code == 200 for page in pages)
    assert (standing_in(bench), _moving_out()) == ([], [])
    assert pipeline.gather().pots == []
    assert _label(waits)[1] == "30 seeds"
    assert _label(waits)[0].startswith("sowing ")

    nursery.record(sowing.pot_sown, pot=sown, seeds=25, days_ago=1)
    assert all(as_grower.get(page, follow=True).status_code == 200 for page in pages)
    assert [thing.pk for thing in standing_in(bench)] == [sown.pk]
    [row] = _moving_out()
    assert {"25", "7.5 cm (three-inch)"} <= {str(cell) for cell in row}
    assert _label(SeedPot.objects.get(pk=sown.pk))[1] == "25 seeds"
    assert "0 of 1 pot up" in as_grower.get(f"/crosses/{lot.cross_id}/").text
    trace = as_grower.get(f"/plants/{plant.pk}/trace/").text
    assert (f"/pots/{sown.pk}/" in trace, f"/pots/{waits.pk}/" in trace) == (True, False)
    assert today() >= SeedPot.objects.get(pk=sown.pk).sown_last


@pytest.mark.parametrize("many", [4, 40])
def test_the_page_of_its_seed_says_what_is_planned_however_many_pots_it_lists(
    nursery: Nursery, as_viewer: Client, many: int
) -> None:
    lot = nursery.seed(estimate=900, days_ago=9)
    session = nursery.sowing(sowing.Line(lot, many, "7.5 cm (three-inch)", seeds=20), days_ago=2)
    [cleared, sown, *waiting] = SeedPot.objects.filter(session=session).order_by("pk")
    nursery.record(sowing.pot_cleared, pot=cleared, why="no_time")
    nursery.record(sowing.pot_sown, pot=sown, seeds=20)
    told = {one.label: one.value for one in as_viewer.get(f"/seed/{lot.pk}/").context["details"]}
    assert told["Planned"] == f"{many - 2} pots prepared, {20 * (many - 2)} seeds, nothing taken yet"
