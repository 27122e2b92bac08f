"""Acts that a phone kept and sends later: each is recorded once, by the rules of its form, and none is lost."""

import uuid
from datetime import timedelta
from typing import Any

import pytest
from django.test import Client
from django.utils import timezone

from breeding.models import PollenLot
from breeding.records.pollen import pollen_finished
from breeding.records.spikes import spike_looked
from nursery.models import Act, NeedsALook, Person
from nursery.records.house import epoch_renew, house
from nursery.records.undo import undone
from tests.conftest import signed_in
from tests.making import Nursery, birth_of, tag_of, today
from tests.site.acts.every_page import CASES, Case
from tests.site.outbox.phone import post, send, tap

pytestmark = pytest.mark.django_db


def test_it_is_recorded_on_the_day_of_the_tap_by_whoever_is_signed_in(
    nursery: Nursery, as_grower: Client, grower: Person
) -> None:
    section = nursery.section(days_ago=100)
    sent = tap("pods", section, days_ago=4, values={"seen": "turning", "note": "soft"})
    [answer] = send(as_grower, sent)
    act = Act.objects.get(pk=sent["id"])
    assert (act.kind, act.by, act.phone_of, act.note) == ("pod_look", grower, None, "soft")
    assert act.day_first == act.day_last == today() - timedelta(days=4)
    assert act.at.isoformat() == sent["tapped_at"][11:19]
    assert timezone.localdate(act.recorded_at) == today(), "late, but recorded now"
    assert answer == {
        "id": sent["id"],
        "is": "recorded",
        "again": False,
        "words": answer["words"],
        "url": f"/sections/{section.pk}/",
        "flags": [],
    }
    assert "firm, turning" in answer["words"]


def test_the_thing_may_be_named_by_its_tag(nursery: Nursery, as_grower: Client) -> None:
    section = nursery.section(days_ago=100)
    sent = tap("pods", tag=tag_of(section).number, values={"seen": "green"})
    assert send(as_grower, sent)[0]["is"] == "recorded"
    assert Act.objects.get(pk=sent["id"]).thing_id == section.pk


def test_sent_again_it_is_the_same_act(nursery: Nursery, as_grower: Client) -> None:
    sent = tap("pods", nursery.section(days_ago=100), days_ago=2, values={"seen": "green"})
    first = send(as_grower, sent)
    count = Act.objects.count()
    assert send(as_grower, sent) == [first[0] | {"again": True}]
    assert Act.objects.count() == count


def test_twice_in_one_list_it_is_one_act(nursery: Nursery, as_grower: Client) -> None:
    sent = tap("pods", nursery.section(days_ago=100), values={"seen": "green"})
    assert [one["again"] for one in send(as_grower, sent, sent)] == [False, True]
    assert Act.objects.filter(kind="pod_look").count() == 1


def test_sent_again_days_later_even_what_counts_from_today_is_the_same(
    nursery: Nursery, as_grower: Client, grower: Person, time_machine: Any
) -> None:
    """ "Later, in three days" counts from the day of the tap, whenever it arrives."""
    spike = nursery.spike(days_ago=9)
    sent = tap("later", spike, values={"days": "3"})
    wanted = today() + timedelta(days=3)
    send(as_grower, sent)
    time_machine.move_to(timezone.now() + timedelta(days=5))
    assert send(signed_in(grower), sent)[0] | {"words": ""} == {
        "id": sent["id"],
        "is": "recorded",
        "again": True,
        "words": "",
        "url": f"/spikes/{spike.pk}/",
        "flags": [],
    }
    spike.refresh_from_db()
    assert spike.later_until == wanted


def test_later_than_later_is_taken_too(nursery: Nursery, as_grower: Client) -> None:
    spike = nursery.spike(days_ago=9)
    sent = tap("later", spike, days_ago=5, values={"days": "3"})
    assert send(as_grower, sent)[0]["is"] == "recorded"


def test_a_form_that_got_through_and_is_sent_again_from_the_outbox_is_the_same(
    nursery: Nursery, as_grower: Client
) -> None:
    """The answer to a form got lost on the way back, so the phone keeps it and sends it here."""
    section = nursery.section(days_ago=100)
    sent = tap("pods", section, values={"seen": "green"})
    as_grower.post(f"/sections/{section.pk}/pods/", {"act_id": sent["id"], "seen": "green"})
    [answer] = send(as_grower, sent)
    assert (answer["is"], answer["again"]) == ("recorded", True)
    assert send(as_grower, sent | {"values": {"seen": "split"}})[0]["is"] == "other_values"


def test_sent_again_with_other_values_both_are_shown_and_the_second_is_held(
    nursery: Nursery, as_grower: Client
) -> None:
    sent = tap("pods", nursery.section(days_ago=100), values={"seen": "green"})
    send(as_grower, sent)
    other = sent | {"values": {"seen": "split", "pods_left": 4}}
    [answer] = send(as_grower, other)
    assert answer["is"] == "other_values"
    shown = {row["label"]: (row["kept"], row["sent"], row["differs"]) for row in answer["rows"]}
    assert shown["The pods"] == ("firm, green", "split or fallen", True)
    assert shown["Pods left, if some split or fell"] == ("", "4", True)
    assert NeedsALook.objects.get().why == "other_values"
    assert Act.objects.filter(kind="pod_look").count() == 1
    assert send(as_grower, other)[0]["is"] == "other_values", "also when it is sent once more"
    assert NeedsALook.objects.count() == 1


def test_a_contradiction_is_taken_and_flagged_never_asked_about(nursery: Nursery, as_grower: Client) -> None:
    spike = nursery.spike(sex="male", days_ago=9)
    sent = tap("pollinate", spike, values={"pollen": "unknown"})
    [answer] = send(as_grower, sent)
    assert answer["is"] == "flagged"
    assert answer["flags"] == [flag.sentence for flag in Act.objects.get(pk=sent["id"]).flags.all()] != []
    assert send(as_grower, sent) == [answer | {"again": True}]


def test_what_was_undone_since_is_taken_and_flagged(nursery: Nursery, as_grower: Client) -> None:
    spike = nursery.spike(days_ago=9)
    undone(act=nursery.act(), target=birth_of(spike))
    [answer] = send(as_grower, tap("look", spike, days_ago=3, values={"seen": "buds"}))
    assert (answer["is"], answer["flags"]) == ("flagged", ["The spike was taken out of the books before."])


def test_an_act_that_was_undone_meanwhile_stays_undone(nursery: Nursery, as_grower: Client) -> None:
    sent = tap("pods", nursery.section(days_ago=100), values={"seen": "green"})
    send(as_grower, sent)
    act = Act.objects.get(pk=sent["id"])
    undone(act=nursery.act(), target=act)
    assert send(as_grower, sent)[0]["again"] is True
    act.refresh_from_db()
    assert hasattr(act, "voided_by")


def test_pollen_that_was_used_up_since_is_no_reason_to_refuse(nursery: Nursery, as_grower: Client) -> None:
    lot, female = nursery.pollen(days_ago=5), nursery.female(days_ago=5)
    nursery.record(pollen_finished, lot=lot)
    [answer] = send(as_grower, tap("pollinate", female, days_ago=2, values={"pollen": f"lot:{lot.pk}"}))
    assert answer["is"] in {"recorded", "flagged"}
    assert PollenLot.objects.get(pk=lot.pk).closed_on is not None


def test_a_walk_is_taken_once_whatever_was_closed_since(nursery: Nursery, as_grower: Client) -> None:
    bench = nursery.bench()
    spikes = [nursery.spike(nursery.plant(place=bench), days_ago=9) for _ in range(2)]
    sent = tap("walk", bench, days_ago=1, values={"things": [spike.pk for spike in spikes]})
    assert send(as_grower, sent)[0]["is"] == "recorded"
    nursery.record(spike_looked, spike=spikes[0], seen="aborted")
    assert send(as_grower, sent)[0]["again"] is True
    act = Act.objects.get(pk=sent["id"])
    assert set(act.links.values_list("thing_id", flat=True)) == {spike.pk for spike in spikes}
    assert act.day_last == today() - timedelta(days=1)


def test_what_was_closed_after_the_walk_was_looked_at_all_the_same(nursery: Nursery, as_grower: Client) -> None:
    bench = nursery.bench()
    spikes = [nursery.spike(nursery.plant(place=bench), days_ago=9) for _ in range(3)]
    nursery.record(spike_looked, spike=spikes[0], seen="aborted", days_ago=5)
    nursery.record(spike_looked, spike=spikes[1], seen="aborted", days_ago=1)
    sent = tap("walk", bench, days_ago=3, values={"things": [spike.pk for spike in spikes]})
    assert send(as_grower, sent)[0]["is"] == "recorded"
    links = Act.objects.get(pk=sent["id"]).links.values_list("thing_id", flat=True)
    assert set(links) == {spikes[1].pk, spikes[2].pk}, "the first was closed before anybody walked"


def test_what_was_told_of_an_earlier_day_was_not_at_the_hour_of_the_tap(nursery: Nursery, as_grower: Client) -> None:
    sent = tap("pods", nursery.section(days_ago=100), values={"seen": "green", "day_said": "yesterday"})
    send(as_grower, sent)
    assert Act.objects.get(pk=sent["id"]).at is None


def test_an_undo_is_taken_after_what_it_undoes(nursery: Nursery, as_grower: Client) -> None:
    look = tap("pods", nursery.section(days_ago=100), values={"seen": "green"})
    undo = tap("undo", values={"target": look["id"]})
    assert [one["is"] for one in send(as_grower, look, undo, undo)] == ["recorded"] * 3
    assert Act.objects.get(pk=look["id"]).voided_by.act_id == uuid.UUID(undo["id"])


@pytest.mark.parametrize("case", CASES, ids=str)
def test_every_form_takes_from_the_outbox_what_it_takes_from_a_browser(
    case: Case, nursery: Nursery, as_owner: Client
) -> None:
    thing = case.make(nursery) if case.kind else None
    sent = tap(case.page.slug, thing, values=case.values(nursery))
    answers = [send(as_owner, sent)[0] for _ in range(2)]
    assert {one["is"] for one in answers} <= {"recorded", "flagged"}, answers
    assert [one["again"] for one in answers] == [False, True]
    assert Act.objects.get(pk=sent["id"]).kind == case.page.act_kind


def test_the_epoch_changes_with_a_restore(as_grower: Client) -> None:
    before = post(as_grower).json()["epoch"]
    assert before == str(house().epoch) == as_grower.get("/acts/").json()["epoch"]
    epoch_renew()
    assert post(as_grower).json()["epoch"] == str(house().epoch) != before


def test_vague_days_count_from_the_tap(nursery: Nursery, as_grower: Client) -> None:
    section = nursery.section(days_ago=100)
    sent = tap("pods", section, days_ago=6, values={"seen": "green", "day_said": "yesterday"})
    send(as_grower, sent)
    assert Act.objects.get(pk=sent["id"]).day_last == today() - timedelta(days=7)


def test_a_moment_without_an_offset_is_the_nurserys_own(nursery: Nursery, as_grower: Client) -> None:
    sent = tap("pods", nursery.section(days_ago=100), values={"seen": "green"}, tapped_at=f"{today()}T00:05")
    send(as_grower, sent)
    act = Act.objects.get(pk=sent["id"])
    assert (act.day_last, act.at.isoformat()) == (today(), "00:05:00")
