"""A page for each step, the times left out, and what a change would do before it is saved."""

from collections.abc import Iterator
from datetime import timedelta
from pathlib import Path
from typing import Any

import pytest
from django.test import Client
from django.utils import timezone

from breeding.learning import fits
from breeding.models import Expectation, LeftOut
from breeding.records.expectations import facts_of, shipped_facts
from breeding.records.pods import pods_looked_at, take_read
from breeding.rounds.tasks import tasks_for
from nursery.models import Act, Plant, Thing
from nursery.records.house_log import house_event
from tests.making import Nursery, today

STEP = "/office/timings/step/ripe/"


@pytest.fixture
def learned(nursery: Nursery, settings: Any, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Iterator[Nursery]:
    """Two mothers with seven sections each, seen to open at about 110 and 130 days, and one with a slip in the year of
    its pollination; all of it recorded yesterday."""
    settings.LEARNED = tmp_path
    monkeypatch.setattr(fits, "PATIENCE", 60)
    lot = nursery.pollen(days_ago=600)
    for middle, word in ((110, "ladle"), (130, "kettle")):
        plant = nursery.plant(nursery.clone("lowii", word), days_ago=900)
        for turn in range(7):
            start = 560 - 60 * turn
            spike = nursery.spike(plant, sex="female", days_ago=start + 1)
            section = nursery.section(spike, lot=lot, days_ago=start)
            for age, seen in ((middle - 3, "green"), (middle + 3, "opening")):
                nursery.record(pods_looked_at, section=section, seen=seen, days_ago=start - age)
    slip = nursery.section(nursery.spike(plant, sex="female", days_ago=901), lot=lot, days_ago=600)
    for age, seen in ((470, "green"), (475, "opening")):
        nursery.record(pods_looked_at, section=slip, seen=seen, days_ago=600 - age)
    Act.objects.update(recorded_at=timezone.now() - timedelta(days=1))
    Thing.objects.update(made_at=timezone.now() - timedelta(days=1))
    fits.forget()
    yield nursery
    fits.forget()


def test_a_step_shows_what_was_learned_whose_days_differ_and_whether_it_came_true(
    learned: Nursery, as_viewer: Client, django_assert_num_queries: Any
) -> None:
    page = as_viewer.get(STEP)
    [log] = page.context["logs"]
    assert log["learned"] == "from 14 sections: 14 were seen to come"
    names = ["".join(part.text for part in group["name"]) for group in log["groups"]]
    assert names == ["this nursery", "lowii", "lowii ladle", "lowii kettle"]
    sooner, later = (group["shift"] for group in log["groups"][-2:])
    assert "sooner" in sooner.split(" (")[0] and "later" in later.split(" (")[0]
    assert len(log["chart"].bars) == 1 + len(log["groups"]) and log["chart"].bars[0].given
    assert log["seen"]["words"].startswith("8 sections that began after ")
    assert [row["predicted"] for row in log["seen"]["rows"]] == ["10%", "25%", "50%", "75%", "90%"]
    grace = page.context["grace"]["tables"][0]
    assert grace["learned"] == (
        "Learned from 15 sections found open, of which none had split or fallen: they keep about as long as "
        "was expected."
    )
    assert [line["who"] for line in grace["lines"]][1:] == ["bare, as found here", "bare, in a hot spell", "in a bag"]
    assert grace["lines"][0]["days"][0] == 6 and grace["lines"][3]["days"] == [21, 24, 28]  # as shipped, from memory
    assert all(hot < bare for hot, bare in zip(*(grace["lines"][at]["days"] for at in (2, 1)), strict=True))
    [now] = [row for row in page.context["risks"] if row["now"]]
    assert now["risk"] == "about one in two hundred" and len(page.context["risks"]) == 8
    looks = [float(row["looks"]) for row in page.context["risks"]]
    assert looks == sorted(looks, reverse=True) and looks[0] > looks[-1]  # the more may be lost, the fewer looks
    for words in ("shipped, from memory", 'fill="url(#hatch-1)"', "Odd times", "No time is left out"):
        assert words in page.text
    [left] = log["outside"]
    assert left["words"] == "475 days: far outside what the others here took"
    assert left["url"] == f"/t/{left['number']}/" and left["url"] in page.text
    with django_assert_num_queries(9):
        as_viewer.get(STEP)


def test_a_reason_carries_what_was_learned(learned: Nursery) -> None:
    section = learned.section(learned.spike(_plant_of("kettle"), sex="female", days_ago=105), days_ago=104)
    learned.record(take_read, section=section, swelling="most", days_ago=60)
    learned.record(pods_looked_at, section=section, seen="green", days_ago=6)
    reason = tasks_for(section, today()).tasks[0].reason
    assert reason.startswith("Day 104 since it was pollinated; usual is day 1")
    assert ", middle 1" in reason
    assert reason.endswith(
        " (from 7 sections of this mother, 14 in all) until the first pod opens; last look 6 days ago: firm, green."
    )


def _plant_of(word: str) -> Plant:
    return Plant.objects.get(clone__designation=word)


@pytest.mark.parametrize("step", ["take", "crowded", "spike_open"])
def test_why_a_window_is_used_as_it_is(as_viewer: Client, step: str) -> None:
    page = as_viewer.get(f"/office/timings/step/{step}/")
    why = {"take": "A reading of take", "crowded": "No act tells", "spike_open": "Nothing is learned yet"}[step]
    assert page.context["plain"].startswith(why) and page.context["logs"] == [] and page.context["grace"] is None


def test_there_is_no_page_of_another_step(as_viewer: Client) -> None:
    assert as_viewer.get("/office/timings/step/moon/").status_code == 404


# --- what a change would do ---


def _payload(step: str, **changes: object) -> dict[str, object]:
    facts = facts_of(Expectation.objects.get(step=step, taxon=None))
    return {name: value for name, value in vars(facts).items() if name != "as_it_stands"} | changes


def test_a_change_is_shown_before_it_is_saved(learned: Nursery, as_owner: Client) -> None:
    row = Expectation.objects.get(step="ripe", taxon=None)
    section = learned.section(days_ago=104)
    learned.record(take_read, section=section, swelling="most", days_ago=60)
    learned.record(pods_looked_at, section=section, seen="green", days_ago=3)
    sent = _payload("ripe", low=200, high=300, as_it_stands="on")
    page = as_owner.post(f"/office/timings/{row.pk}/", sent | {"preview": "yes"})
    window, asked, moved, looks = page.context["effect"]
    assert window.startswith("Expected is day 200 to 300, middle 245 (set here); now it is day ")
    assert window.endswith("(from 14 sections here).")
    assert "0 would be asked sooner and 1 later" in moved and asked.startswith("Today the round would ask for ")
    assert looks.startswith("Each would be looked at ") and looks.count(" times") == 2 and looks.count("%") == 2
    assert page.status_code == 200 and "Nothing is saved yet." in page.text
    assert facts_of(Expectation.objects.get(pk=row.pk)) == shipped_facts("ripe")
    assert as_owner.post(f"/office/timings/{row.pk}/", sent | {"preview": "yes", "low": ""}).status_code == 422
    as_owner.post(f"/office/timings/{row.pk}/", sent)
    assert as_owner.get(STEP).context["plain"].startswith("An owner wants this window used as it stands")


# --- times left out ---


def test_an_owner_leaves_a_time_out_and_lets_it_count_again(
    learned: Nursery, as_owner: Client, as_viewer: Client
) -> None:
    house = _plant_of("kettle").place.inside
    event = learned.record(house_event, place=house, what="heat", words="fan stood still", over=True, days_ago=300)
    before = as_owner.get(STEP).context["logs"][0]["learned"]
    assert "Leave this time out" in as_owner.get("/office/timings/left-out/").text
    as_owner.post(f"/office/timings/left-out/{event.pk}/", {"out": "yes"})
    page = as_viewer.get(STEP)
    assert "One time is left out of what is learned: heat, fan stood still" in page.text
    assert page.context["logs"][0]["learned"] != before
    shown = as_viewer.get("/office/timings/left-out/").text
    assert "<b>left out</b>" in shown and "Let it count again" not in shown
    as_owner.post(f"/office/timings/left-out/{event.pk}/", {"out": ""})
    assert as_owner.get(STEP).context["logs"][0]["learned"] == before
    assert LeftOut.objects.get().left_out is False
