"""To sort out, with the likely repairs as buttons: each is an act, settles its flag, and undone opens it again."""

import uuid
from typing import Any

import pytest
from django.test import Client

from breeding.models import Section, SeedLot, Spike
from breeding.records.pods import harvested, pods_looked_at, take_read
from breeding.records.pollen import pollen_collected
from breeding.records.pots import sown
from breeding.records.sections import section_pollinated
from breeding.records.spikes import spike_found, spike_looked
from nursery.models import Act, Flag
from nursery.records.flags import open_flags
from nursery.records.plants import plant_gone
from nursery.records.quarantine import quarantined
from nursery.records.stocktakes import not_found
from nursery.site.repairs import WAYS
from tests.making import Nursery, birth_of, tag_of

PAGE = "/office/to-sort-out/"


def _offers(client: Client, code: str) -> dict[str, Any]:
    """What is offered beside the one flag of this code, by its label."""
    flag = open_flags().get(code=code)
    rows = [row for row in client.get(PAGE).context["rows"] if row.sentence == flag.sentence]
    return {offer.label: offer for row in rows for offer in row.offers}


def _tap(client: Client, offer: Any, act_id: uuid.UUID | None = None) -> Act:
    sent = {"act_id": str(act_id or offer.act_id), "next": PAGE}
    assert client.post(offer.url, sent)["Location"] == PAGE
    return Act.objects.exclude(kind="void").latest("recorded_at")  # what it voids is voided at the same moment


def _undo(client: Client, act: Act) -> None:
    client.post(f"/acts/{act.pk}/undo/", {"act_id": str(uuid.uuid4())})
    assert hasattr(Act.objects.get(pk=act.pk), "voided_by")


def _open(code: str) -> bool:
    return open_flags().filter(code=code).exists()


def _male_by_its_buds(nursery: Nursery) -> Spike:
    look = {"seen": "buds", "sex": "male", "sex_from": "buds"}
    return nursery.made(spike_found, plant=nursery.plant(), days_ago=20, **look)


# --- buds were misread ---


def test_a_male_that_was_pollinated_becomes_the_female_it_is(as_grower: Client, nursery: Nursery) -> None:
    spike = _male_by_its_buds(nursery)
    nursery.record(section_pollinated, spike=spike, lot=nursery.pollen(days_ago=9), days_ago=8)
    act = _tap(as_grower, _offers(as_grower, "male_pollinated")["Its buds were misread"])
    spike.refresh_from_db()
    assert (act.kind, spike.sex, spike.sex_from, spike.stage) == ("spike_look", "female", "flowers", "open")
    assert not open_flags().exists(), "nor does the repair itself wait to be sorted out"
    _undo(as_grower, act)
    spike.refresh_from_db()
    assert (spike.sex, _open("male_pollinated")) == ("male", True)


def test_a_female_whose_pollen_was_taken_becomes_the_male_it_is(as_grower: Client, nursery: Nursery) -> None:
    look = {"seen": "buds", "sex": "female", "sex_from": "buds"}
    spike = nursery.made(spike_found, plant=nursery.plant(), days_ago=20, **look)
    nursery.record(pollen_collected, spikes=[spike], days_ago=3)
    _tap(as_grower, _offers(as_grower, "pollen_from_female")["Its buds were misread"])
    spike.refresh_from_db()
    assert (spike.sex, open_flags().exists()) == ("male", False)


def test_a_female_that_was_the_pollen_becomes_the_male_it_is(as_grower: Client, nursery: Nursery) -> None:
    look = {"seen": "buds", "sex": "female", "sex_from": "buds"}
    spike, mother = nursery.made(spike_found, plant=nursery.plant(), days_ago=20, **look), nursery.female()
    nursery.record(section_pollinated, spike=mother, from_spike=spike)
    _tap(as_grower, _offers(as_grower, "pollen_from_female")["Its buds were misread"])
    spike.refresh_from_db(), mother.refresh_from_db()
    assert (spike.sex, mother.sex, open_flags().exists()) == ("male", "female", False)


def test_buds_that_the_flowers_contradict_are_settled_by_the_flowers(as_grower: Client, nursery: Nursery) -> None:
    spike = _male_by_its_buds(nursery)
    nursery.record(spike_looked, spike=spike, seen="open", sex="female", sex_from="flowers", days_ago=2)
    _tap(as_grower, _offers(as_grower, "buds_misread")["Its buds were misread"])
    spike.refresh_from_db()
    assert (spike.sex, open_flags().exists()) == ("female", False)


def test_buds_unlike_the_clones_other_spikes_are_read_anew(as_grower: Client, nursery: Nursery) -> None:
    plant = nursery.plant()
    nursery.spike(plant, sex="female", days_ago=300)
    look = {"seen": "buds", "sex": "male", "sex_from": "buds"}
    spike = nursery.made(spike_found, plant=plant, **look)
    _tap(as_grower, _offers(as_grower, "clone_other_sex")["Its buds were misread"])
    spike.refresh_from_db()
    assert (spike.sex, spike.sex_from, open_flags().exists()) == ("female", "buds", False)


def test_open_flowers_are_not_misread(as_grower: Client, nursery: Nursery) -> None:
    plant = nursery.plant()
    nursery.spike(plant, sex="female", days_ago=300)
    nursery.spike(plant, sex="male")
    assert list(_offers(as_grower, "clone_other_sex")) == ["Two tags were swapped", "It was another one"]


# --- double taps ---


def test_tapped_twice_it_is_one_act(as_grower: Client, nursery: Nursery) -> None:
    nursery.record(section_pollinated, spike=_male_by_its_buds(nursery), lot=nursery.pollen())
    offer = _offers(as_grower, "male_pollinated")["Its buds were misread"]
    acts = [_tap(as_grower, offer) for _ in range(2)]
    assert acts[0] == acts[1]
    assert Act.objects.filter(kind="spike_look").count() == 1


def test_tapped_by_two_people_it_is_the_first_ones_act(as_grower: Client, as_owner: Client, nursery: Nursery) -> None:
    nursery.record(section_pollinated, spike=_male_by_its_buds(nursery), lot=nursery.pollen())
    offer = _offers(as_grower, "male_pollinated")["Its buds were misread"]
    first = _tap(as_grower, offer)
    assert _tap(as_owner, offer, uuid.uuid4()) == first


def test_what_was_settled_meanwhile_is_said(as_grower: Client, nursery: Nursery) -> None:
    nursery.record(section_pollinated, spike=_male_by_its_buds(nursery), lot=nursery.pollen())
    offer, flag = _offers(as_grower, "male_pollinated")["Its buds were misread"], open_flags().get()
    as_grower.post(f"/flags/{flag.pk}/settle/", {"act_id": str(uuid.uuid4())})
    page = as_grower.post(offer.url, {"act_id": str(offer.act_id), "next": PAGE}, follow=True).content.decode()
    assert "Somebody has sorted this out already." in page
    assert not Act.objects.filter(kind="spike_look").exists()


# --- the father is unknown ---


def test_found_pods_have_an_unknown_father(as_owner: Client, nursery: Nursery) -> None:
    spike, later = nursery.female(days_ago=20), nursery.pollen(days_ago=2)
    act = nursery.record(section_pollinated, spike=spike, lot=later, tie="red", days_ago=8)
    section = Section.objects.get(pk=act.thing_id)
    cross = section.cross_id
    repair = _tap(as_owner, _offers(as_owner, "pollen_not_yet")["Found pods, father unknown"])
    section.refresh_from_db()
    assert (section.cross.pollen_parent, section.tie, repair.replaces) == (None, "red", act)
    assert not open_flags().exists()
    _undo(as_owner, repair)
    section.refresh_from_db()
    assert (section.cross_id, section.cancelled) == (cross, False)
    assert _open("pollen_not_yet"), "the pollination is told again as it was, and still does not fit"


def test_pods_older_than_their_pollination_have_an_unknown_father(as_owner: Client, nursery: Nursery) -> None:
    section = nursery.section(days_ago=40)
    nursery.record(pods_looked_at, section=section, seen="green", days_ago=60)
    repair = _tap(as_owner, _offers(as_owner, "before_pollination")["Found pods, father unknown"])
    section.refresh_from_db()
    assert (section.cross.pollen_parent, _open("before_pollination")) == (None, False)
    _undo(as_owner, repair)
    assert _open("before_pollination")


# --- numbers were low ---


@pytest.fixture
def more_pods(nursery: Nursery) -> Section:
    section = nursery.section(days_ago=60, flowers=20)
    nursery.record(take_read, section=section, swelling="all", pods=30, days_ago=10)
    return section


def test_the_flower_count_is_corrected_in_the_pollination(as_owner: Client, more_pods: Section) -> None:
    offer = _offers(as_owner, "more_pods_than_flowers")["The flower count was low"]
    form = as_owner.get(offer.url, follow=True)
    url = form.redirect_chain[-1][0]
    assert form.context["form"]["flowers"].value() == "30"
    values = {
        name: form.context["form"][name].value() or "" for name in ("pollen", "tie", "size", "day_said", "day_on")
    }
    answer = as_owner.post(url, values | {"flowers": "32", "act_id": str(uuid.uuid4()), "anyway": "yes"})
    assert answer.status_code == 302, answer.content.decode()
    more_pods.refresh_from_db()
    assert (more_pods.flowers, open_flags().exists()) == (32, False)
    _undo(as_owner, birth_of(more_pods))
    more_pods.refresh_from_db()
    assert (more_pods.flowers, more_pods.cancelled, _open("more_pods_than_flowers")) == (20, False, True)


def test_after_two_harvests_there_were_as_many_flowers_as_pods_cut_in_all(as_owner: Client, nursery: Nursery) -> None:
    section = nursery.section(days_ago=60, flowers=10)
    for days_ago in (2, 1):
        nursery.record(harvested, section=section, what="pods", pods=8, days_ago=days_ago)
    offer = _offers(as_owner, "more_pods_than_flowers")["The flower count was low"]
    assert as_owner.get(offer.url, follow=True).context["form"]["flowers"].value() == "16"


def test_a_low_estimate_is_put_right_by_a_better_one(as_grower: Client, nursery: Nursery) -> None:
    lot: SeedLot = nursery.seed(days_ago=20, estimate=100)
    nursery.record(sown, lot=lot, pots=3, seeds=50, days_ago=2)
    offer = _offers(as_grower, "sown_more_than_estimated")["The estimate was low"]
    form = as_grower.get(offer.url, follow=True)
    assert [form.context["form"][name].value() for name in ("seeds", "estimate_from")] == ["150", "guessed"]
    act_id = uuid.uuid4()
    values = {"seeds": "180", "estimate_from": "guessed", "act_id": str(act_id)}
    for _ in range(2):
        assert as_grower.post(form.redirect_chain[-1][0], values).status_code == 302
    lot.refresh_from_db()
    assert (lot.estimate, open_flags().exists()) == (180, False)
    _undo(as_grower, Act.objects.get(pk=act_id))
    lot.refresh_from_db()
    assert (lot.estimate, _open("sown_more_than_estimated")) == (100, True)


# --- it was another one ---


@pytest.fixture
def wrong_section(nursery: Nursery) -> list[Section]:
    """Harvested the one on which nothing took, where its neighbour hung full."""
    spike = nursery.female(days_ago=200)
    empty, full = [nursery.section(spike, days_ago=190) for _ in range(2)]
    nursery.record(take_read, section=empty, swelling="none", days_ago=150)
    nursery.record(take_read, section=full, swelling="all", days_ago=150)
    nursery.record(harvested, section=empty, what="section", pods=9, days_ago=1)
    return [empty, full]


def test_the_same_form_opens_on_the_thing_that_was_meant(as_owner: Client, wrong_section: list[Section]) -> None:
    empty, full = wrong_section
    offer = _offers(as_owner, "harvest_without_take")["It was another one"]
    choosing = as_owner.get(offer.url)
    [row] = [row for row in choosing.context["rows"] if row.number == tag_of(full).number]
    form = as_owner.get(row.url)
    assert form.context["form"]["pods"].value() == 9
    values = {"what": "section", "pods": "9", "day_said": "yesterday", "act_id": str(uuid.uuid4())}
    assert as_owner.post(row.url, values).status_code == 302
    for section in wrong_section:
        section.refresh_from_db()
    assert (empty.stage, full.stage, open_flags().exists()) == ("no_take", "harvested", False)
    lot = SeedLot.objects.get()
    assert lot.section == full
    _undo(as_owner, birth_of(lot))
    empty.refresh_from_db()
    assert (empty.stage, _open("harvest_without_take")) == ("harvested", True)


def test_it_can_be_chosen_by_its_number(as_owner: Client, wrong_section: list[Section]) -> None:
    offer = _offers(as_owner, "harvest_without_take")["It was another one"]
    full = wrong_section[1]
    answer = as_owner.get(offer.url, {"number": str(tag_of(full).number)})
    assert f"on={full.pk}&" in answer["Location"]


@pytest.mark.parametrize("typed", ["12", "x", "9" * 5000, "<b>", "🌱", "\x00"])
def test_a_number_of_no_such_thing_is_said(typed: str, as_owner: Client, wrong_section: list[Section]) -> None:
    offer = _offers(as_owner, "harvest_without_take")["It was another one"]
    page = as_owner.get(offer.url, {"number": typed, "q": typed})
    assert page.status_code == 200
    assert "That is the number of no other section. Look at the tag again." in page.content.decode()
    assert "<b>" not in page.content.decode().split("<main")[1]


def test_a_thing_of_another_kind_cannot_be_meant(as_owner: Client, nursery: Nursery, wrong_section: list) -> None:
    act, flag = birth_of(SeedLot.objects.get()), open_flags().get()
    assert as_owner.get(f"/acts/{act.pk}/correct/?on={nursery.plant().pk}&flag={flag.pk}").status_code == 404
    assert as_owner.get(f"/acts/{act.pk}/correct/?flag=99999999999999999999999").status_code == 200
    assert as_owner.get(f"/acts/{act.pk}/correct/?flag=999999").status_code == 404


# --- who may, and what is there ---


def test_a_grower_is_not_offered_to_correct_what_others_said_before(as_grower: Client, more_pods: Section) -> None:
    Act.objects.update(recorded_at="2026-01-05T08:00:00Z")
    assert list(_offers(as_grower, "more_pods_than_flowers")) == ["The flower count was low"]


def test_the_page_of_the_thing_leads_to_its_repairs(as_owner: Client, more_pods: Section) -> None:
    [flag] = as_owner.get(f"/sections/{more_pods.pk}/").context["flags"]
    [link] = flag.repairs
    page, anchor = link.url.split("#")
    assert f'id="{anchor}"' in as_owner.get(page).content.decode()


def test_a_viewer_sees_no_repairs(as_viewer: Client, more_pods: Section) -> None:
    assert _offers(as_viewer, "more_pods_than_flowers") == {}
    flag = open_flags().get()
    for slug in ("flowers", "another"):
        assert as_viewer.get(f"/flags/{flag.pk}/repair/{slug}/").status_code == 403


def test_a_repair_of_another_reason_is_not_there(as_owner: Client, more_pods: Section) -> None:
    flag = open_flags().get()
    assert as_owner.post(f"/flags/{flag.pk}/repair/misread/").status_code == 404
    assert as_owner.get(f"/flags/{flag.pk}/repair/nothing-like-it/").status_code == 404
    assert as_owner.get("/flags/999999/repair/another/").status_code == 404


def test_a_get_records_nothing(as_owner: Client, nursery: Nursery) -> None:
    nursery.record(section_pollinated, spike=_male_by_its_buds(nursery), lot=nursery.pollen())
    offer, acts = _offers(as_owner, "male_pollinated")["Its buds were misread"], Act.objects.count()
    assert as_owner.get(offer.url)["Location"] == PAGE
    assert Act.objects.count() == acts


def test_a_swapped_tag_leads_to_the_exchange(as_owner: Client, nursery: Nursery) -> None:
    plant = nursery.plant()
    for _ in range(2):
        nursery.record(plant_gone, plant=plant, why="died")
        plant.refresh_from_db()
    offer = _offers(as_owner, "gone_twice")["Two tags were swapped"]
    assert as_owner.get(offer.url)["Location"] == f"/plants/{plant.pk}/swapped/?flag={Flag.objects.get().pk}"


def test_what_was_not_found_is_gone_or_elsewhere(nursery: Nursery, as_owner: Client) -> None:
    plant, bench = nursery.plant(), nursery.bench()
    nursery.record(not_found, thing=plant)
    offered = _offers(as_owner, "not_found")
    assert set(offered) == {"It is gone", "It stands elsewhere"}
    form = as_owner.get(offered["It stands elsewhere"].url)["Location"]
    assert form.startswith(f"/plants/{plant.pk}/move/?flag=")
    as_owner.post(form, {"place": bench.pk})
    plant.refresh_from_db()
    assert plant.place == bench
    assert not open_flags().exists()


def test_a_pot_that_was_not_found_is_gone_or_elsewhere_too(nursery: Nursery, as_owner: Client) -> None:
    nursery.record(not_found, thing=nursery.pot())
    assert set(_offers(as_owner, "not_found")) == {"It stands elsewhere", "It is gone"}


def test_every_reason_that_has_repairs_is_one_that_is_given() -> None:
    given = {
        "buds_misread", "sex_contradicts", "clone_other_sex", "spike_before_found", "spike_was_closed",
        "plant_was_gone", "gone_twice", "pollen_from_female", "male_pollinated", "seed_parent_male",
        "pollen_parent_female", "another_father", "own_pollen", "pollinated_before_found", "pollen_not_yet",
        "pollen_was_finished",
        "before_pollination", "section_was_closed", "more_pods_than_flowers", "harvest_without_take",
        "lot_was_finished", "sown_more_than_estimated", "sown_before_harvest", "before_sowing", "seedlings_gone",
        "more_seedlings_than_seeds", "was_undone", "not_found", "in_quarantine", "seen_though_gone",
        "pot_sown_before", "pot_was_cleared", "cleared_though_sown", "not_sown_yet", "before_split", "pot_was_emptied",
        "more_pods_than_cut", "more_moved_than_counted", "fewer_moved_than_counted",
    }  # fmt: skip
    assert set(WAYS) == given


def test_a_plant_that_left_out_of_quarantine_leads_to_its_release(as_grower: Client, nursery: Nursery) -> None:
    plant = nursery.plant()
    nursery.record(quarantined, plant=plant, reason="mosaic", days_ago=3)
    plant.refresh_from_db()
    nursery.record(plant_gone, plant=plant, why="sold")
    offers = _offers(as_grower, "in_quarantine")
    assert list(offers) == ["It is out of quarantine", "It was another one"]
