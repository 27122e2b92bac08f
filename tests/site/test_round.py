"""`manage.py round`: the round on the command line, for a person or for a machine."""

import json
from datetime import timedelta
from io import StringIO

import pytest
from django.core.management import CommandError, call_command

from nursery.records.house_log import house_event
from tests.making import Nursery, tag_of, today
from tests.site.processes import manage


def _run(*arguments: str) -> str:
    out = StringIO()
    call_command("round", *arguments, stdout=out)
    return out.getvalue()


@pytest.fixture
def spike(nursery: Nursery):
    """Found 12 days ago on Bench 2 of the Cool house."""
    bench = nursery.bench("Bench 2", inside=nursery.house("Cool house"))
    return nursery.spike(nursery.plant(nursery.clone("hamata", "lantern"), place=bench), days_ago=12)


def test_it_works(spike) -> None:
    first, _, place, task, reason = _run().splitlines()
    assert first.endswith(f"{today():%Y}, 1 min")
    assert place == "Cool house, Bench 2"
    assert task.startswith("  Look at spike (since ")
    assert task.endswith(f"): hamata lantern, spike {tag_of(spike).number}")
    assert reason == (
        "    Day 12 since it was found; usual is day 28 to 49, middle 37 (shipped, a paper) "
        "until the first flower opens; last look 12 days ago: growing."
    )


def test_an_empty_round_says_so(db: None) -> None:
    assert _run().splitlines()[1] == "Nothing is due."


def test_another_day(nursery: Nursery) -> None:
    nursery.spike(days_ago=2)
    assert "Nothing is due." in _run()
    assert "Look at spike" in _run("--date", str(today() + timedelta(days=8)))


def test_as_json(spike) -> None:
    found = json.loads(_run("--format", "json"))
    assert (found["day"], found["minutes"], found["minutes_needed"]) == (str(today()), 45, 1)
    [group] = found["groups"]
    assert (group["place_id"], group["house"], group["within"]) == (spike.plant.place_id, "Cool house", "Bench 2")
    [task] = group["tasks"]
    assert task.pop("urgency") >= 0
    assert task.pop("window").startswith("since ")
    assert task.pop("reason").startswith("Day 12 since it was found;")
    assert task == {
        "kind": "spikes",
        "title": "Look at spike",
        "number": tag_of(spike).number,
        "name": "hamata lantern",
        "sub": "spike",
        "url": f"/spikes/{spike.pk}/",
        "due": str(today() - timedelta(days=2)),
        "until": None,
        "minutes": 1,
        "pollen": [],
        "could_serve": [],
        "while_you_are_here": [],
    }
    assert found["if_there_is_time"] == []


def test_good_pollen_is_listed_in_both_formats(nursery: Nursery) -> None:
    nursery.pollen([nursery.male(nursery.clone("veitchii", "anvil"), days_ago=20)], days_ago=9, storage="refrigerator")
    nursery.female(days_ago=1)
    assert "    Good today: veitchii anvil (fresh) and veitchii anvil (refrigerator, 9 days)." in _run()
    assert "    Good that day: veitchii anvil" in _run("--date", str(today() + timedelta(days=1)))
    tasks = [task for group in json.loads(_run("--format", "json"))["groups"] for task in group["tasks"]]
    [pollen] = [task["pollen"] for task in tasks if task["kind"] == "pollinate"]
    assert pollen[1] == {"name": "veitchii anvil", "how": "refrigerator, 9 days"}


def test_what_rolls_over_is_told_too(nursery: Nursery) -> None:
    plant = nursery.plant()
    for _ in range(48):
        nursery.spike(plant, days_ago=12)
    assert "If there is time: 3 more" in _run()
    found = json.loads(_run("--format", "json"))
    assert sum(len(group["tasks"]) for group in found["if_there_is_time"]) == 3


def test_in_a_folder_without_records_nothing_is_due(tmp_path) -> None:
    done = manage(tmp_path / "new", "round")
    assert (done.returncode, done.stderr, done.stdout.splitlines()[1:]) == (0, "", ["Nothing is due."])


@pytest.mark.parametrize("day", ["9999-12-31", "2200-01-01", "1949-12-31", "0001-01-01"])
def test_a_year_that_is_a_slip_is_refused(db: None, day: str) -> None:
    with pytest.raises(CommandError, match=f"{day} is no day here; give a year from 1950 to 2199"):
        _run("--date", day)


@pytest.mark.parametrize("day", ["1950-01-01", "2199-12-31"])
def test_the_first_and_the_last_day_have_a_round(db: None, day: str) -> None:
    assert _run("--date", day).splitlines()[1] == "Nothing is due."


@pytest.mark.parametrize("day", ["2026-02-30", "tomorrow", ""])
def test_what_is_no_day_is_refused(db: None, day: str) -> None:
    with pytest.raises(CommandError, match="is no day; write it as year-month-day, for example 2026-03-09"):
        _run("--date", day)


def test_what_goes_on_in_a_house_stands_first(spike, nursery: Nursery) -> None:
    nursery.record(house_event, place=spike.plant.place.inside, what="power")
    said = "Power cut in Cool house since today, told by Ida Fern."
    assert _run().splitlines()[1] == said
    assert json.loads(_run("--format", "json"))["going_on"] == [said]
