"""An answer on the round changes the other rows of the same thing, and its undo brings them all back."""

import re
import uuid
from datetime import timedelta
from typing import Any

import pytest
import time_machine
from django.test import Client
from django.utils import timezone

from breeding.models import PollenLot, Section, SeedLot, Spike
from breeding.records import pods
from breeding.rounds.tasks import Task, round_for, tasks_for
from breeding.views.round import MOST_REST
from nursery.models import Act
from nursery.records.house import house
from nursery.records.remarks import remarked
from nursery.records.undo import undone
from nursery.templatetags.tepal import plate
from tests.making import Nursery, tag_of, today

ROW = re.compile(r'<(details|div) [^>]*id="row-([^"]*)"[^>]*>')


@pytest.fixture(scope="module")
def turning(kept: Nursery) -> Section:
    """To be bagged, and to be looked at."""
    section = kept.section(days_ago=140)
    kept.record(pods.pods_looked_at, section=section, seen="turning", days_ago=12)
    return section


@pytest.fixture(scope="module")
def female(kept: Nursery) -> Spike:
    """In flower for long: to be pollinated, and to be looked at."""
    kept.pollen(days_ago=3, storage="freezer")
    return kept.female(days_ago=20)


def _shown(client: Client) -> dict[str, Task]:
    """The rows of the page by their names."""
    page = client.get("/")
    benches = [*page.context["groups"], *(page.context["later"].groups if page.context["later"] else [])]
    return {one.row: one for bench in benches for task in bench.tasks for one in (task, *task.beside)}


def _answer(client: Client, task: Task, label: str) -> tuple[str, str]:
    """What comes in reply to an answer, and the id of its act."""
    [answer] = [answer for answer in task.answers if answer.label == label]
    act_id = str(uuid.uuid4())
    sent = {"act_id": act_id, answer.name: answer.value, "rows": [task.row, *task.others], "next": "/"}
    sent |= {"things": task.things} if task.things else {}
    reply = client.post(answer.url, sent, headers={"HX-Request": "true"})
    assert reply.status_code == 200
    return reply.content.decode(), act_id


def _undo(client: Client, html: str) -> str:
    """By the form in the answered row."""
    address = re.search(r'hx-post="(/[^"]*undo[^"]*)"', html)[1]
    form = html[html.index(address) :]
    rows = re.findall(r'name="rows" value="([^"]*)"', form[: form.index("</form>")])
    reply = client.post(address, {"act_id": uuid.uuid4(), "rows": rows}, headers={"HX-Request": "true"})
    assert reply.status_code == 200
    return reply.content.decode()


def _refreshed(html: str) -> dict[str, str]:
    """By name, the rows of the page that are replaced wherever they stand: open tasks as details, else nothing."""
    return {found[2]: found[1] for found in ROW.finditer(html) if 'hx-swap-oob="true"' in found[0]}


def test_rows_of_one_thing_know_of_each_other(as_grower: Client, turning: Section) -> None:
    shown = _shown(as_grower)
    bag, look = f"sections-{turning.pk}-bag", f"sections-{turning.pk}-pods"
    assert (shown[bag].others, shown[look].others) == ((look,), (bag,))
    html = as_grower.get("/").content.decode()
    assert html.count(f'id="row-{look}"') == 1
    assert html.count(f'name="rows" value="{look}"') == 2


def test_a_row_that_is_asked_no_more_goes_with_the_answer(as_grower: Client, turning: Section) -> None:
    bag, look = f"sections-{turning.pk}-bag", f"sections-{turning.pk}-pods"
    html, _ = _answer(as_grower, _shown(as_grower)[look], "Firm, green")
    assert bag not in _shown(as_grower)
    assert _refreshed(html) == {bag: "div"}


def test_what_is_asked_only_since_then_stands_below_the_answered_row_and_goes_with_its_undo(
    as_grower: Client, nursery: Nursery
) -> None:
    section = nursery.section(days_ago=140)
    nursery.record(pods.pods_looked_at, section=section, seen="green", days_ago=20)
    look, bag = f"sections-{section.pk}-pods", f"sections-{section.pk}-bag"
    shown = _shown(as_grower)
    assert bag not in shown
    html, _ = _answer(as_grower, shown[look], "Firm, turning")
    assert (html.index('class="done"') < html.index(f'id="row-{bag}"')) and _refreshed(html) == {}
    assert bag in _shown(as_grower)
    back = _undo(as_grower, html)
    assert f'id="row-{look}"' in back
    assert _refreshed(back) == {bag: "div"}


def test_a_row_that_is_still_asked_says_what_is_true_now(as_grower: Client, female: Spike) -> None:
    pollinate, look = f"spikes-{female.pk}-pollinate", f"spikes-{female.pk}-spikes"
    html, _ = _answer(as_grower, _shown(as_grower)[look], "Fluid showing")
    assert _refreshed(html) == {pollinate: "details"}
    row = html[html.index(f'id="row-{pollinate}"') :]
    assert "Pollinate" in row and 'class="answer' in row
    assert f'value="{look}"' not in row, "an answered row is left as it is"


def test_undo_brings_the_row_back_open_with_its_answers(as_grower: Client, turning: Section) -> None:
    bag, look = f"sections-{turning.pk}-bag", f"sections-{turning.pk}-pods"
    asked = _shown(as_grower)[look]
    html, act_id = _answer(as_grower, asked, "Firm, green")
    back = _undo(as_grower, html)
    assert Act.objects.get(pk=act_id).voided_by
    assert _refreshed(back) == {bag: "details"}
    [own] = [found[0] for found in ROW.finditer(back) if found[2] == look]
    assert " open" in own
    assert back.count('class="answer') >= len(asked.answers)
    assert "Undone: " in back and "lowii" in back
    assert 'class="done"' not in back


def test_an_answered_row_says_which_of_two_twins_it_is_and_so_does_its_undo(
    as_grower: Client, nursery: Nursery
) -> None:
    stem, lot = nursery.female(days_ago=150), nursery.pollen(days_ago=141, storage="freezer")
    twins = [nursery.section(stem, lot=lot, days_ago=140, tie=tie) for tie in ("red", "blue")]
    for section in twins:
        nursery.record(pods.pods_looked_at, section=section, seen="green", days_ago=12)
    which = [(f"section {one.order}, {one.tie} tie", plate(tag_of(one).number)) for one in twins]
    html, act_id = _answer(as_grower, _shown(as_grower)[f"sections-{twins[1].pk}-pods"], "Can’t tell")
    undone = as_grower.post(f"/acts/{act_id}/undo/", {"act_id": uuid.uuid4()}, headers={"HX-Request": "true"}).text
    for line in (html, undone):
        assert all(words in line for words in which[1])
        assert not any(words in line for words in which[0])


def test_the_strip_after_a_form_says_the_number(as_grower: Client, nursery: Nursery) -> None:
    pot = nursery.pot(days_ago=40)
    as_grower.post(f"/pots/{pot.pk}/look/", {"act_id": uuid.uuid4(), "seen": "nothing", "next": "/"})
    assert as_grower.get("/").context["undo"]["about"] == f"{pot}, {plate(tag_of(pot).number)}"


def test_what_is_not_asked_again_says_what_was_undone_and_of_which_plant(as_grower: Client, turning: Section) -> None:
    html, act_id = _answer(as_grower, _shown(as_grower)[f"sections-{turning.pk}-pods"], "Can’t tell")
    reply = as_grower.post(f"/acts/{act_id}/undo/", {"act_id": uuid.uuid4()}, headers={"HX-Request": "true"})
    assert "Undone: " in reply.content.decode() and 'class="name__' in reply.content.decode()


def test_undo_of_one_answer_for_several_brings_their_row_back(as_grower: Client, nursery: Nursery) -> None:
    pots = nursery.pots(3, days_ago=200)
    [task] = [task for task in _shown(as_grower).values() if task.things]
    html, _ = _answer(as_grower, task, "Nothing yet")
    back = _undo(as_grower, html)
    assert "3 pots" in back
    assert {int(pk) for pk in re.findall(r'name="things" value="(\d+)"', back)} == {pot.pk for pot in pots}


@pytest.mark.parametrize(
    "rows", [["nonsense"], ["sections-0-pods", "sections-0-bag"], ["x-1-pods", "x-1-bag"], ["<b>-1-pods", "a"]]
)
def test_names_of_rows_that_nobody_shows_are_no_harm(as_grower: Client, turning: Section, rows: list[str]) -> None:
    sent: dict[str, Any] = {"act_id": str(uuid.uuid4()), "seen": "green", "rows": rows}
    reply = as_grower.post(f"/sections/{turning.pk}/pods/", sent, headers={"HX-Request": "true"})
    assert reply.status_code == 200 and 'class="done"' in reply.content.decode()
    assert "<b>" not in reply.content.decode()


def test_each_row_has_a_name_of_its_own(turning: Section, female: Spike) -> None:
    found = round_for(today(), most_rest=MOST_REST)
    names = [task.row for task in (*found.today, *found.rest)]
    assert len(names) == len(set(names)) >= 4


def test_what_was_made_shows_its_number_and_where_its_tag_is_printed(as_grower: Client, nursery: Nursery) -> None:
    male = nursery.male(days_ago=8, seen="showing")
    section = nursery.section(days_ago=140)
    nursery.record(pods.pods_looked_at, section=section, seen="opening", days_ago=1)
    shown = _shown(as_grower)
    for row, label, made in (
        (f"spikes-{male.pk}-pollen", "Refrigerator", PollenLot),
        (f"sections-{section.pk}-harvest", "Whole section cut", SeedLot),
    ):
        html, act_id = _answer(as_grower, shown[row], label)
        number = tag_of(made.objects.get(thing__born_by=act_id)).number
        assert f">{plate(number)}<" in html
        assert f'href="/labels/print/{number}/"' in html and "Print its tag" in html


def test_what_made_nothing_shows_no_number(as_grower: Client, turning: Section) -> None:
    html, _ = _answer(as_grower, _shown(as_grower)[f"sections-{turning.pk}-pods"], "Firm, green")
    assert "Its number" not in html and "/labels/print/" not in html


def test_a_female_that_is_not_ready_is_asked_again_in_two_days(as_grower: Client, female: Spike) -> None:
    pollinate = f"spikes-{female.pk}-pollinate"
    _answer(as_grower, _shown(as_grower)[pollinate], "Not ready")
    assert pollinate not in _shown(as_grower)
    due = {task.kind: task.due for task in tasks_for(Spike.objects.get(pk=female.pk), today()).tasks}
    assert due["pollinate"] == today() + timedelta(days=2)


def test_walking_past_a_female_says_nothing_of_whether_she_is_ready(as_grower: Client, female: Spike) -> None:
    pollinate = f"spikes-{female.pk}-pollinate"
    sent = {"act_id": uuid.uuid4(), "things": [female.pk]}
    assert as_grower.post(f"/walk/{female.plant.place_id}/", sent).status_code == 302
    shown = _shown(as_grower)
    assert pollinate in shown and f"spikes-{female.pk}-spikes" not in shown


OLD_PACKETS = "Do not waste it on the old packets."


def test_the_newest_remark_stands_in_the_opened_row_and_atop_the_form(as_grower: Client, nursery: Nursery) -> None:
    female = nursery.female(days_ago=20)
    nursery.record(remarked, thing=female, words="Leans to the left.")
    nursery.record(remarked, thing=female, words=f"{OLD_PACKETS} {'Wait for fresh pollen. ' * 9}")
    row = next(task for task in _shown(as_grower).values() if task.row == f"spikes-{female.pk}-pollinate")
    assert row.remark.words.startswith(OLD_PACKETS) and row.remark.words.endswith("…")
    assert len(row.remark.words) <= 80
    said = f'“{row.remark.words}” <span class="soft">Ida Fern, '
    html = as_grower.get("/").content.decode()
    assert html[html.index('id="row-' + row.row) :].split("</summary>")[1].lstrip().count(said) == 1
    assert "Leans to the left." not in html
    assert said in as_grower.get(f"/spikes/{female.pk}/pollinate/").content.decode()
    html, _ = _answer(as_grower, row, "Not ready")
    assert said in _undo(as_grower, html)


def test_a_remark_is_shown_for_two_weeks_and_not_once_it_is_undone(as_grower: Client, nursery: Nursery) -> None:
    female = nursery.female(days_ago=20)
    with time_machine.travel(timezone.now() - timedelta(days=15)):
        nursery.record(remarked, thing=female, words="Not yet.")
    undone(act=nursery.act(), target=nursery.record(remarked, thing=female, words="Not now."))
    assert [task.remark for task in _shown(as_grower).values()] == [None] * len(_shown(as_grower))
    assert 'class="remark"' not in as_grower.get(f"/spikes/{female.pk}/pollinate/").content.decode()


def test_a_remark_is_shown_of_all_that_it_was_made_about_and_a_pot_with_one_stands_alone(
    as_grower: Client, nursery: Nursery
) -> None:
    pots = nursery.pots(5, days_ago=200)
    nursery.record(remarked, thing=pots[0], words="Moss.", also=[pots[1]])
    rows = [task for task in _shown(as_grower).values() if task.kind == "pots"]
    assert sorted((len(task.things), task.remark.words if task.remark else "") for task in rows) == [
        (2, "Moss."),
        (3, ""),
    ]


def test_many_remarks_take_as_many_queries_as_one(
    as_grower: Client, nursery: Nursery, django_assert_max_num_queries: Any
) -> None:
    spikes = [nursery.spike(days_ago=12) for _ in range(4)]
    house()
    counts = []
    for some in (spikes[:1], spikes[1:]):
        for spike in some:
            nursery.record(remarked, thing=spike, words="Slow.")
        with django_assert_max_num_queries(40) as asked:
            as_grower.get("/")
        counts.append(len(asked))
    assert counts[0] == counts[1]
