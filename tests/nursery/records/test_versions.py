"""Undoing a correction: what was recorded before stands again, one step back at a time."""

import uuid
from datetime import time
from typing import Any

import pytest

from breeding.models import SeedPot, Spike
from breeding.records.pods import pods_looked_at
from breeding.records.pots import pot_looked_at, sown
from breeding.records.sections import section_dabbed, section_pollinated
from breeding.records.spikes import spike_found, spike_looked
from nursery.models import Act, Person, Tag
from nursery.records import registry
from nursery.records.core import NewAct
from nursery.records.errors import Refused
from nursery.records.numbers import blank_tags_make
from nursery.records.tags import tag_bound
from nursery.records.undo import undone
from nursery.records.versions import id_told_again
from nursery.records.voiding import things_of
from nursery.site import pages
from tests.every_act import CASES
from tests.making import Nursery, ago, birth_of, tag_of

pytestmark = pytest.mark.django_db

CORRECTED = sorted(set(CASES) & pages.CORRECTABLE | {"walked_past"})


def _again(undo: Act) -> Act:
    return Act.objects.get(pk=id_told_again(undo.pk))


def _undo(nursery: Nursery, target: Act) -> Act:
    return undone(act=nursery.act(), target=target)


def _told(act: Act) -> dict[str, Any]:
    """All that an act says and does: its day, words, details, and the columns of what it is about."""
    act = Act.objects.get(pk=act.pk)
    detail = registry.act_kind(act.kind).detail
    facts = detail.objects.filter(pk=act.pk).values().get() if detail else {}
    things = things_of(act)
    return {
        "day": (act.day_first, act.day_last, act.said, act.at, act.note),
        "facts": {name: value for name, value in facts.items() if name != "act_id"},
        "things": {thing.pk: type(thing).objects.filter(pk=thing.pk).values().get() for thing in things},
        "tags": sorted(Tag.objects.filter(thing__in=[thing.pk for thing in things]).values_list("pk", "retired")),
    }


def test_every_kind_that_can_be_corrected_can_be_told_again() -> None:
    assert {code for code in CASES if registry.back(code)} >= pages.CORRECTABLE


@pytest.mark.parametrize("kind", CORRECTED)
def test_the_earlier_version_stands_again_as_it_was(kind: str, nursery: Nursery, owner: Person) -> None:
    case = CASES[kind]
    facts = case.facts(nursery)
    other = facts | case.other(nursery)  # made before, so that nothing else changes
    new = NewAct(id=uuid.uuid4(), by=owner, at=time(7, 30), note="in the rain")
    first = case.record(act=new, **facts)
    before = _told(first)
    second = nursery.record(case.record, **other, note="with another word", replaces=first)
    undo = _undo(nursery, second)
    again = _again(undo)
    assert (again.kind, again.replaces, again.by) == (first.kind, second, owner)
    assert _told(again) == before
    assert list(again.flags.values_list("code")) == list(first.flags.values_list("code"))
    assert (undo.kind, undo.void.target) == ("void", second)
    assert Act.objects.filter(kind="void").count() == 2, "the correction's own, and the undo"


def test_it_is_told_by_whoever_undoes(nursery: Nursery, grower: Person) -> None:
    spike = nursery.spike()
    first = nursery.record(spike_looked, spike=spike, seen="buds")
    second = nursery.record(spike_looked, spike=spike, seen="open", replaces=first)
    assert _again(undone(act=nursery.act(by=grower), target=second)).by == grower


def test_sent_twice_the_undo_tells_once(nursery: Nursery) -> None:
    spike = nursery.spike()
    first = nursery.record(spike_looked, spike=spike, seen="buds")
    second = nursery.record(spike_looked, spike=spike, seen="open", replaces=first)
    new = nursery.act()
    undo = undone(act=new, target=second)
    acts = Act.objects.count()
    assert undone(act=new, target=second) == undo
    assert _undo(nursery, second) == undo, "and another undo of the same finds it undone"
    assert Act.objects.count() == acts


def test_a_chain_of_corrections_goes_back_one_step_at_a_time(nursery: Nursery) -> None:
    section = nursery.section(days_ago=100)
    act = nursery.record(pods_looked_at, section=section, seen="green")
    for seen in ("turning", "opening", "split"):
        act = nursery.record(pods_looked_at, section=section, seen=seen, replaces=act)
    stages = []
    for _ in range(3):
        act = _again(_undo(nursery, act))
        section.refresh_from_db()
        stages.append(section.stage)
    assert stages == ["opening", "turning", "swelling"]
    _undo(nursery, act)
    section.refresh_from_db()
    assert (section.stage, section.last_look) == ("pollinated", ago(100).first), "the first is undone, as ever"


def test_what_stands_again_can_be_corrected_and_that_undone(nursery: Nursery) -> None:
    spike = nursery.spike()
    first = nursery.record(spike_looked, spike=spike, seen="buds")
    second = nursery.record(spike_looked, spike=spike, seen="open", replaces=first)
    again = _again(_undo(nursery, second))
    third = nursery.record(spike_looked, spike=spike, seen="over", replaces=again)
    back = _again(_undo(nursery, third))
    assert back.spikelook.seen == "buds"
    _undo(nursery, back)
    spike.refresh_from_db()
    assert spike.stage == "growing"


def test_a_look_that_stands_again_keeps_its_turn_among_those_of_its_day(nursery: Nursery) -> None:
    section = nursery.section(days_ago=100)
    first = nursery.record(pods_looked_at, section=section, seen="green")
    nursery.record(pods_looked_at, section=section, seen="turning")
    second = nursery.record(pods_looked_at, section=section, seen="opening", replaces=first)
    section.refresh_from_db()
    assert section.stage == "turning"
    _undo(nursery, second)
    section.refresh_from_db()
    assert section.stage == "turning"


# --- births ---


def test_a_pot_that_comes_back_without_its_tag_gets_another(nursery: Nursery) -> None:
    lot = nursery.seed(days_ago=9)
    two = nursery.record(sown, lot=lot, pots=2, days_ago=9)
    gone = SeedPot.objects.latest("pk")
    number = tag_of(gone).number
    one = nursery.record(sown, lot=lot, pots=1, days_ago=9, replaces=two)
    nursery.record(tag_bound, thing=nursery.spike(), number=number)
    _undo(nursery, one)
    gone.refresh_from_db()
    assert not gone.cancelled
    assert tag_of(gone).number != number


def test_a_corrected_birth_goes_back_though_more_was_recorded_since(nursery: Nursery) -> None:
    section = nursery.section(days_ago=100, tie="red", flowers=20)
    tag, cross, lot = tag_of(section), section.cross, birth_of(section).pollinated.lot
    other = nursery.female(days_ago=110)
    moved = nursery.record(
        section_pollinated, spike=other, lot=lot, tie="blue", days_ago=100, replaces=birth_of(section)
    )
    nursery.record(pods_looked_at, section=section, seen="turning", days_ago=5)
    again = _again(_undo(nursery, moved))
    section.refresh_from_db()
    assert (section.tie, section.flowers, section.cross, section.stage) == ("red", 20, cross, "turning")
    assert (birth_of(section), tag_of(section), section.cancelled) == (again, tag, False)
    with pytest.raises(Refused) as refusal:
        _undo(nursery, again)
    assert refusal.value.sentence == "More was recorded about this section. Undo that first, newest first."


def test_the_pot_that_was_corrected_away_comes_back_with_its_tag(nursery: Nursery) -> None:
    lot = nursery.seed(estimate=400, days_ago=9)
    four = nursery.record(sown, lot=lot, pots=4, seeds=50, days_ago=9)
    pots, tags = list(SeedPot.objects.order_by("pk")), Tag.objects.count()
    two = nursery.record(sown, lot=lot, pots=2, seeds=50, days_ago=9, replaces=four)
    _undo(nursery, two)
    assert list(SeedPot.objects.filter(cancelled=False).order_by("pk")) == pots
    assert Tag.objects.count() == tags
    lot.refresh_from_db()
    assert (lot.pots_sown, lot.seeds_sown, lot.cross.pots) == (4, 200, 4)


def test_a_pot_that_only_the_correction_made_is_refused_once_it_was_looked_at(nursery: Nursery) -> None:
    lot = nursery.seed(days_ago=9)
    one = nursery.record(sown, lot=lot, pots=1, days_ago=9)
    two = nursery.record(sown, lot=lot, pots=2, days_ago=9, replaces=one)
    nursery.record(pot_looked_at, pot=SeedPot.objects.latest("pk"), seen="first")
    with pytest.raises(Refused) as refusal:
        _undo(nursery, two)
    assert refusal.value.code == "others_depend"
    assert not hasattr(Act.objects.get(pk=two.pk), "voided_by"), "nothing of it was done"
    assert SeedPot.objects.filter(cancelled=False).count() == 2


def test_the_plant_it_stood_on_at_first_is_its_plant_again(nursery: Nursery) -> None:
    section = nursery.section(nursery.female(nursery.clone("lowii", "hammer")), lot=None)
    spike, first = section.spike, birth_of(section.spike)
    facts = {"seen": "open", "sex": "female", "sex_from": "flowers"}
    moved = nursery.record(spike_found, plant=nursery.plant(), replaces=first, **facts)
    _undo(nursery, moved)
    section.refresh_from_db()
    assert Spike.objects.get(pk=spike.pk).plant == spike.plant
    assert str(section.cross).startswith("lowii hammer × ")


def test_a_number_that_is_on_something_else_by_now_keeps_the_correction(nursery: Nursery, blanks: list[int]) -> None:
    spike, other = nursery.spike(), nursery.spike()
    wrong = nursery.record(tag_bound, thing=spike, number=blanks[0])
    right = nursery.record(tag_bound, thing=spike, number=blanks[1], replaces=wrong)
    nursery.record(tag_bound, thing=other, number=blanks[0])
    with pytest.raises(Refused) as refusal:
        _undo(nursery, right)
    assert refusal.value.sentence == f"Tag {blanks[0]} is already on something: {other}. Use another blank tag."
    assert tag_of(spike).number == blanks[1]


def test_a_dab_on_the_wrong_section_goes_back_to_it(nursery: Nursery) -> None:
    wrong, right, male = nursery.section(days_ago=3), nursery.section(days_ago=3), nursery.male()
    crosses = (wrong.cross, right.cross)
    first = nursery.record(section_dabbed, section=wrong, from_spike=male)
    second = nursery.record(section_dabbed, section=right, from_spike=male, replaces=first)
    wrong.refresh_from_db(), right.refresh_from_db()
    assert (wrong.cross, right.cross != crosses[1]) == (crosses[0], True)
    _undo(nursery, second)
    wrong.refresh_from_db(), right.refresh_from_db()
    assert (wrong.cross != crosses[0], right.cross) == (True, crosses[1])


@pytest.fixture
def blanks(db: None) -> list[int]:
    return [tag.number for tag in blank_tags_make(count=2)]
