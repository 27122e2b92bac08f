"""A printed round typed in: what is right is recorded at once, what is wrong stays with its reason, nothing is lost."""

import uuid
from datetime import timedelta
from typing import Any

import pytest
from django.test import Client

from breeding.models import SeedLot
from breeding.records.pots import pot_looked_at
from nursery.models import Act, Person
from nursery.records.numbers import blank_tags_make
from nursery.records.undo import undone
from tests.making import Nursery, ago, tag_of, today

pytestmark = pytest.mark.django_db
GRID = "/round/2026-03-09/grid/"
Line = tuple[str, str, str]


def _line(thing: Any, answer: str, day: str = "") -> Line:
    return str(tag_of(thing).number), answer, day or today().isoformat()


def _values(*lines: Line, ids: list[str] | None = None, **more: Any) -> dict[str, Any]:
    ids = ids or [str(uuid.uuid4()) for _ in lines]
    told: dict[str, Any] = {"row": ids} | more
    for id, line in zip(ids, lines, strict=True):
        told |= {f"{name}-{id}": value for name, value in zip(("number", "answer", "day"), line, strict=True)}
    return told


def _typed(client: Client, *lines: Line, **more: Any) -> Any:
    return client.post(GRID, _values(*lines, **more))


def _wrong(answer: Any) -> list[str]:
    return [row.error for row in answer.context["rows"] if row.error]


def test_every_right_row_is_one_act_on_its_day_by_whoever_typed(
    nursery: Nursery, as_grower: Client, grower: Person
) -> None:
    section, pot, spike = nursery.section(days_ago=100), nursery.pot(days_ago=90), nursery.spike(days_ago=20)
    three_ago = ago(3).first.isoformat()
    answer = _typed(
        as_grower, _line(section, "turning", three_ago), _line(pot, "few"), _line(spike, "f-buds", three_ago)
    )
    assert answer.status_code == 200
    acts = Act.objects.filter(by=grower).order_by("recorded_at")
    assert [(act.kind, act.thing_id, act.day_last.isoformat()) for act in acts] == [
        ("pod_look", section.pk, three_ago),
        ("pot_look", pot.pk, today().isoformat()),
        ("spike_look", spike.pk, three_ago),
    ]
    assert acts[2].spikelook.sex == "female"
    assert "3 recorded." in answer.content.decode()
    assert not [row for row in answer.context["rows"] if not row.is_empty]


def test_wrong_rows_stay_as_typed_and_the_right_ones_are_recorded(nursery: Nursery, as_grower: Client) -> None:
    pot = nursery.pot(days_ago=90)
    number = str(tag_of(pot).number)
    wrong_digit = number[:-1] + str((int(number[-1]) + 1) % 10)
    [blank] = blank_tags_make(count=1)
    lines = [
        (wrong_digit, "few", today().isoformat()),
        (number, "few", today().isoformat()),
        (number, "purple", today().isoformat()),
        (number, "few", "soon"),
        (number, "few", "2190-01-01"),
        (str(blank.number), "few", today().isoformat()),
        ("", "few", today().isoformat()),
        ("abc", "few", today().isoformat()),
        _line(nursery.plant(), "few"),
    ]
    answer = _typed(as_grower, *lines)
    assert answer.status_code == 422
    assert Act.objects.filter(kind="pot_look").count() == 1
    kept = [(row.number, row.answer, row.day) for row in answer.context["rows"] if not row.is_empty]
    assert kept == [line for turn, line in enumerate(lines) if turn != 1]
    sentences = _wrong(answer)
    assert "does not fit its last digit, so one digit is wrong or missing" in sentences[0]
    assert sentences[1].startswith("“purple” is no answer here. Type one of nothing")
    assert sentences[2:6] == [
        "Write the day, for example 2026-03-09, 9 Mar or yesterday.",
        "That day has not come yet.",
        "This tag is blank: it is on nothing yet.",
        "Type the number on the tag.",
    ]
    assert sentences[7] == "Of a plant nothing is asked in a round. Record it on its own page."
    html = answer.content.decode()
    assert f'value="{wrong_digit}"' in html
    assert "1 recorded. 8 to look at again." in html


def test_a_day_is_taken_as_people_type_it(nursery: Nursery, as_grower: Client) -> None:
    day = today() - timedelta(days=3)
    pot, typed = nursery.pot(days_ago=90), (f"{day:%-d %b}", f"{day:%-d.%-m.}", f"{day:%d.%m.%Y}", "yesterday")
    answer = _typed(as_grower, *(_line(pot, "few", one) for one in typed))
    assert _wrong(answer) == []
    days = Act.objects.filter(kind="pot_look").order_by("recorded_at").values_list("day_first", flat=True)
    assert list(days) == [day, day, day, today() - timedelta(days=1)]


def test_number_and_day_are_told_wrong_at_once(nursery: Nursery, as_grower: Client) -> None:
    number = str(tag_of(nursery.pot(days_ago=90)).number)
    answer = _typed(as_grower, ("moss", "few", "soon"), (number, "purple", "soon"))
    first, second = _wrong(answer)
    told = "Write the day, for example 2026-03-09, 9 Mar or yesterday."
    assert first == f"A tag number has digits only. Type the digits on the tag, the last one too. {told}"
    assert second.startswith("“purple” is no answer here.") and second.endswith(told)


def test_sent_again_a_row_counts_once_and_corrected_it_is_recorded(nursery: Nursery, as_grower: Client) -> None:
    pot, ids = nursery.pot(days_ago=90), [str(uuid.uuid4()), str(uuid.uuid4())]
    right = _line(pot, "few")
    for second in ("purple", "purple", "carpet"):
        answer = _typed(as_grower, right, (right[0], second, right[2]), ids=ids)
    assert _wrong(answer) == []
    assert [act.potlook.seen for act in Act.objects.filter(kind="pot_look").order_by("recorded_at")] == [
        "few",
        "carpet",
    ]


def test_a_row_that_was_recorded_with_other_values_is_told_so_and_can_be_recorded_as_well(
    nursery: Nursery, as_grower: Client
) -> None:
    pot, ids = nursery.pot(days_ago=90), [str(uuid.uuid4())]
    _typed(as_grower, _line(pot, "few"), ids=ids)
    answer = _typed(as_grower, _line(pot, "carpet"), ids=ids)
    [sentence] = _wrong(answer)
    assert sentence.startswith("This row is recorded already, as ")
    [row] = [row for row in answer.context["rows"] if row.error]
    assert str(row.id) != ids[0]
    _typed(as_grower, _line(pot, "carpet"), ids=[str(row.id)])
    assert Act.objects.filter(kind="pot_look").count() == 2


def test_what_contradicts_the_books_is_asked_about_in_its_row_and_then_taken(
    nursery: Nursery, as_grower: Client
) -> None:
    pot, ids = nursery.pot(days_ago=90), [str(uuid.uuid4())]
    nursery.record(pot_looked_at, pot=pot, seen="few", days_ago=1)
    answer = _typed(as_grower, _line(pot, "nothing"), ids=ids)
    [row] = [row for row in answer.context["rows"] if row.objections]
    assert "It was so: record it" in answer.content.decode()
    assert Act.objects.filter(kind="pot_look").count() == 1
    _typed(as_grower, _line(pot, "nothing"), ids=ids, **{f"anyway-{ids[0]}": row.codes})
    act = Act.objects.get(pk=ids[0])
    assert act.flags.count() == 1


def test_a_whole_section_cut_makes_its_seed_lot(nursery: Nursery, as_grower: Client) -> None:
    section = nursery.section(days_ago=160)
    _typed(as_grower, _line(section, "cut"))
    assert SeedLot.objects.get().section_id == section.pk


def test_later_is_typed_too(nursery: Nursery, as_grower: Client) -> None:
    spike = nursery.spike(days_ago=20)
    assert _wrong(_typed(as_grower, _line(spike, "later"))) == []
    spike.refresh_from_db()
    assert spike.later_until is not None


def test_what_was_recorded_is_listed_with_its_undo_until_it_is_undone(nursery: Nursery, as_grower: Client) -> None:
    pots = nursery.pots(2, days_ago=90)
    first = _typed(as_grower, _line(pots[0], "few"))
    [id] = first.context["done_ids"]
    second = _typed(as_grower, _line(pots[1], "few"), done=[id])
    assert len(second.context["done"]) == 2
    undone(act=nursery.act(), target=Act.objects.get(pk=id))
    third = _typed(as_grower, done=second.context["done_ids"])
    assert len(third.context["done"]) == 1


def test_as_soon_as_a_number_is_typed_the_page_can_say_what_it_is(nursery: Nursery, as_grower: Client) -> None:
    pot, id = nursery.pot(days_ago=90), str(uuid.uuid4())
    part = as_grower.get(f"{GRID}what/", {f"number-{id}": str(tag_of(pot).number)}).content.decode()
    assert "seed pot" in part
    assert f'<datalist id="words-{id}"><option value="nothing">nothing yet</option>' in part
    wrong = as_grower.get(f"{GRID}what/", {f"number-{id}": "12"}).content.decode()
    assert "does not fit its last digit" in wrong
    assert as_grower.get(f"{GRID}what/", {f"number-{id}": ""}).content.decode().strip() == ""
    assert as_grower.get(f"{GRID}what/").content.decode().strip() == ""


def test_the_first_empty_row_has_the_focus_and_the_day_of_the_round(as_grower: Client) -> None:
    html = as_grower.get(GRID).content.decode()
    assert html.count(" autofocus") == 1
    assert html.count('value="2026-03-09"') == 12
    tomorrow = as_grower.get("/round/2190-01-01/grid/").content.decode()
    assert f'value="{today().isoformat()}"' in tomorrow, "of a round to come, today"


def test_the_round_leads_to_it_where_somebody_may_record(as_grower: Client, as_viewer: Client) -> None:
    assert f'href="/round/{today().isoformat()}/grid/"' in as_grower.get("/").content.decode()
    assert "/grid/" not in as_viewer.get("/").content.decode()


def test_a_viewer_may_not_and_a_stranger_must_sign_in(nursery: Nursery, as_viewer: Client, stranger: Client) -> None:
    line = _line(nursery.pot(days_ago=90), "few")
    assert as_viewer.get(GRID).status_code == _typed(as_viewer, line).status_code == 403
    assert stranger.get(GRID).status_code == 302
    held = _typed(stranger, line)
    assert held.status_code == 401
    assert line[0] in held.content.decode(), "what was typed is carried through the sign-in"
    assert not Act.objects.filter(kind="pot_look").exists()


@pytest.mark.parametrize("nasty", ["<script>alert('x')</script>", "9" * 5000, "猪籠草 نبات", "🌱", "a\0b", "-4"])
def test_nasty_input_is_text_and_records_nothing(nasty: str, nursery: Nursery, as_grower: Client) -> None:
    number = str(tag_of(nursery.pot(days_ago=90)).number)
    lines = [(nasty, "few", today().isoformat()), (number, nasty, today().isoformat()), (number, "few", nasty)]
    answer = _typed(as_grower, *lines)
    assert answer.status_code == 422
    assert len(_wrong(answer)) == 3
    assert "<script>alert" not in answer.content.decode()
    assert not Act.objects.filter(kind="pot_look").exists()


def test_a_forged_row_is_left_out(as_grower: Client) -> None:
    assert as_grower.post(GRID, {"row": ["1", "<b>", "x" * 400]}).status_code == 200


def test_no_day_has_no_grid(as_grower: Client) -> None:
    assert as_grower.get("/round/moss/grid/").status_code == 404
