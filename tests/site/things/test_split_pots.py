"""Wherever a pot may appear: one that was split, and those split off from it, say what they are and count once."""

import uuid

import pytest
from django.test import Client

from breeding.models import SeedPot
from breeding.pipeline import gather as pipeline
from breeding.records.pots import pot_looked_at, pot_split
from breeding.rounds.tasks import tasks_for
from breeding.standing import standing_in
from labels.contents import tagged
from nursery.links import thing_url
from nursery.models import Place
from nursery.site.export.moving import tables
from nursery.templatetags.tepal import plate
from tests.making import Nursery, ago, birth_of, tag_of, today

pytestmark = pytest.mark.django_db


@pytest.fixture
def bench(nursery: Nursery) -> Place:
    return nursery.bench("Long bench")


@pytest.fixture
def pot(nursery: Nursery) -> SeedPot:
    pot = nursery.pot(nursery.seed(days_ago=210), days_ago=200, seeds=90, medium="moss", pods=2)
    nursery.record(pot_looked_at, pot=pot, seen="plenty", counted=41, days_ago=20)
    return pot


def _parts(pot: SeedPot) -> list[SeedPot]:
    return list(SeedPot.objects.filter(split_from=pot, cancelled=False).order_by("pk"))


def test_told_on_its_form_it_leads_from_the_old_tag_to_the_new_pots_and_back(
    nursery: Nursery, bench: Place, pot: SeedPot, as_grower: Client
) -> None:
    scan = f"/t/{tag_of(pot).number}/"
    form = f"{thing_url(pot)}split/"
    assert f'href="{form}"' in as_grower.get(scan).text
    assert as_grower.get(form).context["form"]["place"].value() == pot.place_id != bench.pk
    values = {"pots": 2, "seedlings": 20, "extent": "all", "place": bench.pk, "act_id": uuid.uuid4()}
    asked = as_grower.post(form, values | {"seedlings": 19})
    assert "41 seedlings were counted in it and 38 moved: were 3 lost?" in asked.text
    nothing = as_grower.post(form, {"seedlings": 0, "act_id": uuid.uuid4()})
    empty = "Leave the number empty where you can't tell: a new pot holds a seedling."
    assert {"Say how many new pots.", empty, "Say whether seedlings stay in the old pot."} == {
        error for errors in nothing.context["form"].errors.values() for error in errors
    }
    assert as_grower.post(form, values | {"anyway": "yes", "objections_seen": "fewer_moved_than_counted"}).url == (
        thing_url(pot)
    )
    one, two = _parts(pot)

    page = as_grower.get(scan)
    assert page.context["moved_on"].words == "Its seedlings went into these pots:"
    assert [link.url for link in page.context["moved_on"].links] == [thing_url(one), thing_url(two)]
    assert f"split into other pots {ago(0).words(today())}" in page.text and "Split off from it" in page.text
    assert [fact.value for fact in page.context["facts"]][2] == "none"
    assert "Print tags of seed pots" in page.text and "Answer several pots at once" in page.text
    assert "into 2 new pots, 20 seedlings each, none stays" in page.text

    new = as_grower.get(f"/t/{tag_of(one).number}/")
    assert f'href="{thing_url(pot)}"' in new.text and f"seed pot {plate(tag_of(pot).number)}" in new.text
    assert "split off today, 20 seedlings" in new.text
    assert [(fact.value, fact.label) for fact in new.context["facts"]] == [
        ("200", "days sown"),
        ("0", "days split off"),
        ("20", "when it was split off"),
    ]


def test_the_round_goes_on_in_the_new_pots_and_in_an_old_one_that_goes_on(nursery: Nursery, pot: SeedPot) -> None:
    nursery.record(pot_split, pot=pot, pots=2, days_ago=9)
    for one in SeedPot.objects.all():
        [task] = tasks_for(one, today()).tasks
        assert task.reason == f"Day 9 since it was {'split off' if one.split_from else 'split'}; not looked at since."
    nursery.record(pot_split, pot=pot, pots=1, extent="all", days_ago=5)
    outlook = tasks_for(SeedPot.objects.get(pk=pot.pk), today())
    assert outlook.tasks == () and outlook.why_not.startswith("All of it went into other pots, since ")


def test_each_page_counts_the_pots_that_were_sown_once(
    nursery: Nursery, bench: Place, pot: SeedPot, as_grower: Client
) -> None:
    nursery.record(pot_split, pot=pot, pots=3, seedlings=12, place=bench, extent="all", days_ago=3)
    lot, plant = pot.lot, pot.lot.section.spike.plant
    cross = as_grower.get(f"/crosses/{lot.cross_id}/").text
    assert "1 of 1 pot up" in cross and "1 of 4" not in cross
    assert "36 counted in 1 of 1 pot; 40% of 90 seeds" in cross
    assert "Its pots: 1 of 1 up" in as_grower.get(thing_url(lot)).text
    assert sum(one.count for one in pipeline.gather().pots if one.row.split_from_id is None) == 1
    assert "1 of 1 pot up, 3 pots split off" in as_grower.get("/crosses/pipeline/").text
    assert {thing.pk for thing in standing_in(bench)} == {one.pk for one in _parts(pot)}
    trace = as_grower.get(f"/plants/{plant.pk}/trace/").text
    assert (trace.count("split off from a pot of that seed"), trace.count("sown from that seed")) == (
        3,
        2,
    )  # once as the title of the list
    several = as_grower.get(f"/acts/{birth_of(_parts(pot)[0]).pk}/several/")
    assert "Pots of one split" in several.text and "3 seed pots" in several.text


def test_labels_and_tables_to_move_out_tell_of_the_split(nursery: Nursery, bench: Place, pot: SeedPot) -> None:
    nursery.record(pot_split, pot=pot, pots=1, seedlings=12, pot_size="7 cm", place=bench, days_ago=3)
    nursery.record(pot_split, pot=pot, pots=1, extent="all", days_ago=2)
    first, second = _parts(pot)
    words = [line for part in (first, second) for told in tagged([tag_of(part).number]) for line in told.lines]
    split, sown = ago(3).words(today().replace(year=1)), ago(200).words(today().replace(year=1))
    assert words[0].startswith(f"split off {split} · ") and words[1] == f"sown {sown} · 12 seedlings"
    assert words[3] == f"sown {sown}"

    [sheet] = [one for one in tables() if one.path == "moving-in/pots.csv"]
    names = [column.name for column in sheet.columns]
    rows = [dict(zip(names, row, strict=True)) for row in sheet.rows()]
    told = ("Sown", "Seeds in each pot", "Pods in each pot", "Pot size", "Medium", "Seedlings", "Seedlings counted")
    assert [tuple(row[name] or "" for name in told) for row in rows] == [
        (str(ago(200).first), "", "", "7 cm", "", "", 12),
        (str(ago(200).first), "", "", "", "", "first up", ""),
    ]
    assert [row["Looked on"] for row in rows] == [str(ago(3).first), str(ago(2).first)]


def test_it_stood_where_the_split_put_it(nursery: Nursery, bench: Place, pot: SeedPot, as_grower: Client) -> None:
    beside = nursery.plant(place=bench)
    nursery.record(pot_split, pot=pot, pots=1, place=bench, days_ago=3)
    [part] = _parts(pot)
    near = as_grower.get(f"/plants/{beside.pk}/trace/").text
    assert f'href="{thing_url(part)}"' in near and f'href="{thing_url(pot)}"' not in near


def test_an_emptied_pot_stands_nowhere_any_more_until_seedlings_are_seen_in_it(
    nursery: Nursery, bench: Place, as_grower: Client
) -> None:
    pot = nursery.pot(days_ago=200, place=bench)
    nursery.record(pot_split, pot=pot, extent="all", days_ago=9)
    late = nursery.plant(place=bench, days_ago=4)
    assert f'href="{thing_url(pot)}"' not in as_grower.get(f"/plants/{late.pk}/trace/").text
    nursery.record(pot_looked_at, pot=pot, seen="first", days_ago=2)
    assert f'href="{thing_url(pot)}"' in as_grower.get(f"/plants/{late.pk}/trace/").text
