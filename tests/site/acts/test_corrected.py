"""Correcting from a page: what an act stood on, whose word it was against, and what stays as it was."""

import uuid
from typing import Any

import pytest
import time_machine
from django.test import Client

from breeding.models import Cross, PollenLot, SeedLot
from breeding.records.pods import harvested, pods_looked_at
from breeding.records.pollen import pollen_collected
from breeding.records.pots import sown
from breeding.records.seed import seed_received
from breeding.records.spikes import spike_looked
from nursery.days import Day
from nursery.models import Act, LivingThing, Place
from nursery.records.places import place_made, place_renamed
from nursery.records.plants import plant_arrived
from nursery.site import pages
from tests.conftest import signed_in
from tests.making import Nursery, ago, birth_of, tag_of
from tests.site.acts.posting import form_on

pytestmark = pytest.mark.django_db


def _opened(client: Client, act: Act) -> dict[str, Any]:
    answer = client.get(f"/acts/{act.pk}/correct/")
    assert answer.status_code == 200
    return form_on(answer.content.decode())


def _corrected(client: Client, act: Act, **changes: Any) -> Act:
    """The act with this changed on its page, and all else as it opens; nothing may be asked or flagged."""
    values = _opened(client, act) | changes
    answer = client.post(f"/acts/{act.pk}/correct/", values)
    assert answer.status_code == 302, (answer.context["form"].errors, answer.context["objections"])
    right = Act.objects.get(pk=values["act_id"][0])
    assert not right.flags.exists()
    return right


def _refused(client: Client, act: Act, values: dict[str, Any]) -> dict[str, list[str]]:
    answer = client.post(f"/acts/{act.pk}/correct/", values)
    assert answer.status_code == 422
    assert not Act.objects.filter(replaces=act).exists()
    return dict(answer.context["form"].errors)


# --- what it is held against: the thing as it would be without the act that is corrected ---


def test_the_pods_of_a_harvest_of_the_whole_section(nursery: Nursery, as_owner: Client) -> None:
    section = nursery.section(days_ago=100)
    act = nursery.record(harvested, section=section, what="section", pods=3, days_ago=1)
    assert _corrected(as_owner, act, pods="4").harvested.pods == 4


def test_the_sex_of_the_only_spike_of_its_clone(nursery: Nursery, as_owner: Client) -> None:
    spike = nursery.spike(days_ago=20)
    facts = {"seen": "open", "sex": "female", "sex_from": "flowers"}
    act = nursery.record(spike_looked, spike=spike, days_ago=2, **facts)
    _corrected(as_owner, act, sex="male")
    spike.refresh_from_db()
    spike.plant.clone.refresh_from_db()
    assert (spike.sex, spike.plant.clone.sex) == ("male", "male")


def test_the_sex_read_when_the_spike_was_found(nursery: Nursery, as_owner: Client) -> None:
    spike = nursery.female(days_ago=20)
    _corrected(as_owner, birth_of(spike), sex="male")


def test_another_spike_of_the_clone_still_contradicts(nursery: Nursery, as_owner: Client) -> None:
    clone = nursery.clone()
    nursery.female(clone)
    act = nursery.record(
        spike_looked, spike=nursery.spike(nursery.plant(clone)), seen="open", sex="female", sex_from="flowers"
    )
    values = _opened(as_owner, act) | {"sex": "male"}
    asked = as_owner.post(f"/acts/{act.pk}/correct/", values)
    assert [one.code for one in asked.context["objections"]] == ["clone_other_sex"]
    taken = values | {"anyway": "yes", "objections_seen": "clone_other_sex"}
    assert as_owner.post(f"/acts/{act.pk}/correct/", taken).status_code == 302
    [flag] = Act.objects.get(pk=values["act_id"][0]).flags.all()
    assert flag.code == "clone_other_sex"


def test_the_seeds_of_a_sowing_within_the_estimate(nursery: Nursery, as_owner: Client) -> None:
    lot = nursery.seed(estimate=120, days_ago=5)
    act = nursery.record(sown, lot=lot, pots=1, seeds=100, days_ago=1)
    _corrected(as_owner, act, seeds="90")
    lot.refresh_from_db()
    assert lot.seeds_sown == 90


# --- what a form did not ask, or asked afresh ---


def test_seed_by_post_keeps_its_parents(nursery: Nursery, as_owner: Client) -> None:
    parents = {"seed_parent": nursery.clone(), "pollen_parent": nursery.clone("hamata")}
    act = nursery.record(seed_received, **parents, words="a packet", days_ago=9)
    _corrected(as_owner, act, seeds="40")
    lot = SeedLot.objects.get()
    assert (lot.cross.seed_parent, lot.cross.pollen_parent, lot.estimate) == (*parents.values(), 40)


def test_mixed_pollen_stays_mixed_though_its_spikes_are_over(nursery: Nursery, as_owner: Client) -> None:
    spikes = [nursery.male(nursery.clone("hamata"), days_ago=30), nursery.male(nursery.clone("lowii"), days_ago=30)]
    act = nursery.record(pollen_collected, spikes=spikes, days_ago=25)
    for spike in spikes:
        nursery.record(spike_looked, spike=spike, seen="over", days_ago=3)
    values = _opened(as_owner, act)
    assert values["also"] == [str(spikes[1].pk)]
    mixed = {"storage": "freezer", "anyway": "yes", "objections_seen": "pollen_mixed"}
    assert as_owner.post(f"/acts/{act.pk}/correct/", values | mixed).status_code == 302
    lot = PollenLot.objects.get()
    assert (lot.clone, lot.storage, lot.candidates.count()) == (None, "freezer", 2)


def test_a_wish_is_corrected(nursery: Nursery, as_owner: Client) -> None:
    cross = nursery.cross(wanted=20, aim="hairy leaves")
    _corrected(as_owner, birth_of(cross), wanted="30")
    cross.refresh_from_db()
    assert (cross.wanted, cross.aim, Cross.objects.count()) == (30, "hairy leaves", 1)


def test_its_button_is_of_no_second_act(nursery: Nursery, as_owner: Client) -> None:
    page = as_owner.get(f"/acts/{birth_of(nursery.section(days_ago=3)).pk}/correct/").content.decode()
    assert ">Correct it</button>" in page
    assert "Record the pollination" not in page


def test_every_link_to_correct_leads_to_a_page(nursery: Nursery, as_owner: Client) -> None:
    cross = nursery.cross()
    page = as_owner.get(f"/crosses/{cross.pk}/?change=yes").content.decode()
    link = f"/acts/{birth_of(cross).pk}/correct/"
    assert link in page
    assert as_owner.get(link).status_code == 200
    assert pages.can_be_corrected(birth_of(cross))


def test_a_clone_known_by_words_only_stays_so(nursery: Nursery, as_owner: Client) -> None:
    clone = nursery.clone("hamata", "the big dark one", words_only=True)
    _corrected(as_owner, birth_of(clone), source="a friend in the north")
    clone.refresh_from_db()
    assert (clone.words_only, clone.source) == (True, "a friend in the north")


def test_a_cutting_still_comes_from_its_mother_plant(nursery: Nursery, as_owner: Client) -> None:
    mother = nursery.plant()
    act = nursery.record(plant_arrived, clone=mother.clone, struck_from=mother)
    assert _corrected(as_owner, act, pot="9 cm").plantarrived.struck_from == mother


# --- days ---


@pytest.mark.parametrize("centre", [0, 1, 2, 3, 30])
def test_about_a_week_stays_the_same_week(centre: int, nursery: Nursery, as_owner: Client) -> None:
    told = Day.about_week(ago(centre).first)
    act = nursery.record(pods_looked_at, section=nursery.section(days_ago=99), seen="green", day=told)
    for _ in range(3):
        right = _corrected(as_owner, act)
        act.refresh_from_db()
        assert (right.day_first, right.day_last, right.said) == (act.day_first, act.day_last, "week")
        act = right


def test_a_month_that_ran_when_it_was_told_is_no_longer_since(nursery: Nursery) -> None:
    section = nursery.section(day=Day.unknown())
    with time_machine.travel("2027-03-10 09:00Z"):
        act = nursery.record(pods_looked_at, section=section, seen="green", day=Day.month(2027, 3))
    with time_machine.travel("2027-04-20 09:00Z"):
        right = _corrected(signed_in(nursery.by), act, seen="turning")
    assert (right.day_first.isoformat(), right.day_last.isoformat()) == ("2027-03-01", "2027-03-10")


def test_another_day_is_taken(nursery: Nursery, as_owner: Client) -> None:
    act = nursery.record(pods_looked_at, section=nursery.section(days_ago=99), seen="green", days_ago=3)
    right = _corrected(as_owner, act, day_said="on", day_on=ago(5).first.isoformat())
    assert right.day_first == right.day_last == ago(5).first


# --- places ---


def _old_bench(nursery: Nursery) -> Place:
    """Entered and renamed some time ago."""
    bench = nursery.bench("Ledge", order=4, days_ago=30)
    nursery.record(place_renamed, place=bench, name="Shelf", order=2, days_ago=20)
    bench.refresh_from_db()
    return bench


def test_a_place_keeps_its_later_name_and_turn(nursery: Nursery, as_owner: Client) -> None:
    bench = _old_bench(nursery)
    nursery.bench("Ledge", inside=bench.inside)
    right = _corrected(as_owner, birth_of(bench), size="tray")
    bench.refresh_from_db()
    assert (bench.name, bench.order, bench.size) == ("Shelf", 2, "tray")
    assert (right.day_first, right.placemade.name) == (ago(30).first, "Ledge")


def test_a_place_renamed_on_the_day_it_was_entered_keeps_its_name(nursery: Nursery, as_owner: Client) -> None:
    bench = nursery.bench("Ledge")
    nursery.record(place_renamed, place=bench, name="Shelf", order=2)
    _corrected(as_owner, birth_of(bench), size="tray")
    bench.refresh_from_db()
    assert (bench.name, bench.order) == ("Shelf", 2)


def test_a_grower_renames_no_place_by_correcting_it(nursery: Nursery, grower, as_grower: Client) -> None:
    act = nursery.record(place_made, name="Ledge", size="house", order=3, by=grower)
    opened = _opened(as_grower, act)
    for change in ({"name": "Mine"}, {"order": "1"}):
        assert _refused(as_grower, act, opened | change) == {"__all__": ["Only an owner may do this."]}
    _corrected(as_grower, act)


def test_an_owner_does(nursery: Nursery, as_owner: Client) -> None:
    house = nursery.house("Ledge")
    _corrected(as_owner, birth_of(house), name="Lodge")
    house.refresh_from_db()
    assert house.name == "Lodge"


# --- what it stood on ---


def _number(thing: LivingThing) -> str:
    return str(tag_of(thing).number)


def test_a_plant_under_the_wrong_clone(nursery: Nursery, as_owner: Client) -> None:
    plant, right = nursery.plant(), nursery.clone("veitchii", "velvet")
    _corrected(as_owner, birth_of(plant), other=right.pk)
    plant.refresh_from_db()
    assert plant.clone == right


def test_a_spike_on_the_wrong_plant(nursery: Nursery, as_owner: Client) -> None:
    spike, right = nursery.spike(days_ago=5), nursery.plant()
    _corrected(as_owner, birth_of(spike), other_number=_number(right))
    spike.refresh_from_db()
    assert spike.plant == right


def test_a_section_on_the_wrong_spike(nursery: Nursery, as_owner: Client) -> None:
    section, right = nursery.section(days_ago=5), nursery.female(days_ago=9)
    nursery.section(right, days_ago=5)
    number = _number(section)
    _corrected(as_owner, birth_of(section), other_number=_number(right))
    section.refresh_from_db()
    assert (section.spike, section.cross.seed_parent) == (right, right.plant.clone)
    assert (section.order, _number(section)) == (2, number), "the next turn on that spike, and its own tag"


def test_a_harvest_of_the_wrong_section(nursery: Nursery, as_owner: Client) -> None:
    wrong, right = nursery.section(days_ago=90), nursery.section(days_ago=90)
    act = nursery.record(harvested, section=wrong, days_ago=1)
    _corrected(as_owner, act, other=right.pk)
    lot = SeedLot.objects.get()
    wrong.refresh_from_db()
    assert (lot.section, lot.cross, wrong.stage) == (right, right.cross, "pollinated")


def test_pots_sown_from_the_wrong_lot(nursery: Nursery, as_owner: Client) -> None:
    wrong, right = nursery.seed(days_ago=9), nursery.seed(days_ago=9)
    pots = nursery.pots(2, wrong, days_ago=2)
    _corrected(as_owner, birth_of(pots[0]), other_number=_number(right))
    wrong.refresh_from_db(), right.refresh_from_db()
    assert (wrong.pots_sown, right.pots_sown) == (0, 2)
    for pot in pots:
        pot.refresh_from_db()
        assert (pot.lot, pot.cancelled) == (right, False)


def test_a_look_at_the_wrong_section(nursery: Nursery, as_owner: Client) -> None:
    wrong, right = nursery.section(days_ago=90), nursery.section(days_ago=90)
    act = nursery.record(pods_looked_at, section=wrong, seen="turning", days_ago=1)
    _corrected(as_owner, act, other_number=_number(right))
    wrong.refresh_from_db(), right.refresh_from_db()
    assert (wrong.stage, right.stage) == ("pollinated", "turning")


def test_undone_it_stands_where_it_stood(nursery: Nursery, as_owner: Client) -> None:
    spike, right = nursery.spike(days_ago=5), nursery.plant()
    before = spike.plant
    act = _corrected(as_owner, birth_of(spike), other_number=_number(right))
    page = as_owner.get(f"/spikes/{spike.pk}/").content.decode()
    assert "Undo brings back what was recorded before." in page
    answer = as_owner.post(f"/acts/{act.pk}/undo/", {"act_id": uuid.uuid4()}, follow=True).content.decode()
    assert "Again on record: spike found: growing" in answer
    assert "the version before stands again." in as_owner.get(f"/spikes/{spike.pk}/?change=yes").content.decode()
    spike.refresh_from_db()
    assert spike.plant == before


def test_the_number_of_something_else_is_refused(nursery: Nursery, as_owner: Client) -> None:
    spike = nursery.spike(days_ago=5)
    found = birth_of(spike)
    errors = _refused(as_owner, found, _opened(as_owner, found) | {"other_number": _number(spike)})
    assert errors == {"other_number": ["This is the number of no plant. Look at it again."]}


def test_a_choice_and_a_number_are_one_too_many(nursery: Nursery, as_owner: Client) -> None:
    spike, one, two = nursery.spike(days_ago=5), nursery.plant(), nursery.plant()
    found, both = birth_of(spike), {"other": one.pk, "other_number": _number(two)}
    errors = _refused(as_owner, found, _opened(as_owner, found) | both)
    assert errors == {"other": ["Choose one, or type one number."]}


NASTY = ["9" * 5000, "no such thing", "-4", "<script>alert('x')</script>лови́я 猪籠草 نبات 🌱🪴", "a\x00b", "0"]


@pytest.mark.parametrize("field", ["other", "other_number"])
def test_nasty_input_is_answered_in_words(field: str, nursery: Nursery, as_owner: Client) -> None:
    act = birth_of(nursery.spike(days_ago=5))
    values = _opened(as_owner, act)
    for nasty in NASTY:
        assert list(_refused(as_owner, act, values | {field: nasty})) == [field], nasty[:80]


def test_it_is_asked_in_corrections_only(nursery: Nursery, as_owner: Client) -> None:
    plant = nursery.plant()
    assert "It was another" not in as_owner.get(f"/plants/{plant.pk}/spike/").content.decode()
    posted = {"seen": "growing", "other": nursery.plant().pk, "act_id": uuid.uuid4()}
    assert as_owner.post(f"/plants/{plant.pk}/spike/", posted).status_code == 302
    assert Act.objects.get(pk=posted["act_id"]).thing.spike.plant == plant


def test_a_viewer_corrects_nothing(nursery: Nursery, as_viewer: Client, stranger: Client) -> None:
    url = f"/acts/{birth_of(nursery.spike(days_ago=5)).pk}/correct/"
    assert as_viewer.get(url).status_code == as_viewer.post(url, {}).status_code == 403
    assert stranger.get(url).status_code == 302


def test_the_note_of_a_form_that_asks_none_stays(nursery: Nursery, as_owner: Client) -> None:
    house = nursery.house("East", note="the warm one", days_ago=12)
    right = _corrected(as_owner, birth_of(house), name="West")
    assert (right.note, right.day_first) == ("the warm one", ago(12).first)
