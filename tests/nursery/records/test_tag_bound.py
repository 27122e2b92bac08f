"""A blank tag put on a thing; the tags that it had before still open it."""

import pytest

from breeding.models import Spike
from breeding.records.spikes import spike_found
from nursery.damm import number_is_valid
from nursery.models import Act, Tag
from nursery.records.errors import Refused
from nursery.records.numbers import blank_tags_make
from nursery.records.tags import tag_bound
from nursery.records.undo import undone
from tests.making import Nursery, birth_of, tag_of


@pytest.fixture
def blanks(db: None) -> list[int]:
    """Three blank tags, made before anything else: their numbers are the smallest."""
    return [tag.number for tag in blank_tags_make(count=3)]


def _tags(spike: Spike) -> dict[int, bool]:
    """Numbers of all tags of a spike, and whether each was retired."""
    return dict(Tag.objects.filter(thing_id=spike.pk).values_list("number", "retired"))


def _bind(nursery: Nursery, spike: Spike, number: int, **more) -> Act:
    return nursery.record(tag_bound, thing=spike, number=number, **more)


def test_it_works(blanks: list[int], nursery: Nursery) -> None:
    spike = nursery.spike()
    at_birth = tag_of(spike).number
    _bind(nursery, spike, blanks[0])
    assert _tags(spike) == {at_birth: True, blanks[0]: False}


def test_a_thing_gets_a_number_with_its_check_digit_at_birth(nursery: Nursery) -> None:
    assert number_is_valid(tag_of(nursery.spike()).number)


def test_a_blank_in_the_hand_is_taken_at_birth(blanks: list[int], nursery: Nursery) -> None:
    spike = nursery.spike(tag=blanks[1])
    assert _tags(spike) == {blanks[1]: False}


@pytest.mark.parametrize("at_birth", [True, False])
def test_a_number_never_made_is_refused(at_birth: bool, nursery: Nursery) -> None:
    spike = nursery.spike()
    with pytest.raises(Refused) as refusal:
        if at_birth:
            nursery.record(spike_found, plant=spike.plant, tag=5724)
        else:
            _bind(nursery, spike, 5724)
    assert refusal.value.sentence == "No tag 5724 was ever made here. Check the digits."
    assert refusal.value.field == "tag"
    assert Spike.objects.count() == 1


@pytest.mark.parametrize("at_birth", [True, False])
def test_a_number_that_is_on_something_is_refused(at_birth: bool, nursery: Nursery) -> None:
    spike, other = nursery.spike(), nursery.spike()
    number = tag_of(other).number
    with pytest.raises(Refused) as refusal:
        if at_birth:
            nursery.record(spike_found, plant=spike.plant, tag=number)
        else:
            _bind(nursery, spike, number)
    assert refusal.value.sentence == f"Tag {number} is already on something: {other}. Use another blank tag."
    assert tag_of(other).number == number


def test_a_lost_tag_that_is_found_still_opens_its_thing(blanks: list[int], nursery: Nursery) -> None:
    spike = nursery.spike()
    lost = tag_of(spike)
    _bind(nursery, spike, blanks[0])
    lost.refresh_from_db()
    assert (lost.thing_id, lost.retired) == (spike.pk, True)


def test_undoing_the_last_of_two_lets_the_first_hold_again(blanks: list[int], nursery: Nursery) -> None:
    spike = nursery.spike()
    at_birth = tag_of(spike).number
    _bind(nursery, spike, blanks[2])
    second = _bind(nursery, spike, blanks[0])
    undone(act=nursery.act(), target=second)
    assert _tags(spike) == {at_birth: True, blanks[2]: False}


def test_undoing_the_first_of_two_leaves_the_second(blanks: list[int], nursery: Nursery) -> None:
    spike = nursery.spike()
    at_birth = tag_of(spike).number
    first = _bind(nursery, spike, blanks[2])
    _bind(nursery, spike, blanks[0])
    undone(act=nursery.act(), target=first)
    assert _tags(spike) == {at_birth: True, blanks[0]: False}
    assert Tag.objects.get(pk=blanks[2]).thing is None


def test_undone_twice_over_the_tag_of_its_birth_holds(blanks: list[int], nursery: Nursery) -> None:
    spike = nursery.spike(tag=blanks[1])
    acts = [_bind(nursery, spike, blanks[0]), _bind(nursery, spike, blanks[2])]
    for act in reversed(acts):
        undone(act=nursery.act(), target=act)
    assert _tags(spike) == {blanks[1]: False}


def test_a_number_corrected_frees_the_wrong_one(blanks: list[int], nursery: Nursery) -> None:
    spike = nursery.spike()
    at_birth = tag_of(spike).number
    wrong = _bind(nursery, spike, blanks[0])
    _bind(nursery, spike, blanks[1], replaces=wrong)
    assert _tags(spike) == {at_birth: True, blanks[1]: False}
    assert Tag.objects.get(pk=blanks[0]).thing is None


def test_only_the_day_corrected_the_tag_stays(blanks: list[int], nursery: Nursery) -> None:
    spike = nursery.spike(days_ago=5)
    at_birth = tag_of(spike).number
    act = _bind(nursery, spike, blanks[0])
    _bind(nursery, spike, blanks[0], replaces=act, days_ago=2)
    assert _tags(spike) == {at_birth: True, blanks[0]: False}


def test_the_first_of_two_corrected_leaves_the_second(blanks: list[int], nursery: Nursery) -> None:
    spike = nursery.spike(days_ago=5)
    at_birth = tag_of(spike).number
    first = _bind(nursery, spike, blanks[0], days_ago=3)
    _bind(nursery, spike, blanks[2])
    _bind(nursery, spike, blanks[0], replaces=first, days_ago=4)
    assert _tags(spike) == {at_birth: True, blanks[0]: True, blanks[2]: False}


def test_a_corrected_tag_keeps_its_turn_when_a_later_one_comes_off(blanks: list[int], nursery: Nursery) -> None:
    spike = nursery.spike(days_ago=5)
    at_birth = tag_of(spike).number
    first, _, last = (_bind(nursery, spike, number) for number in blanks)
    _bind(nursery, spike, blanks[0], replaces=first, days_ago=4)
    undone(act=nursery.act(), target=last)
    assert _tags(spike) == {at_birth: True, blanks[0]: True, blanks[1]: False}


def test_the_thing_corrected_takes_the_tag_along(blanks: list[int], nursery: Nursery) -> None:
    wrong, right = nursery.spike(), nursery.spike()
    at_birth = {spike: tag_of(spike).number for spike in (wrong, right)}
    act = _bind(nursery, wrong, blanks[0])
    _bind(nursery, right, blanks[0], replaces=act)
    assert _tags(wrong) == {at_birth[wrong]: False}
    assert _tags(right) == {at_birth[right]: True, blanks[0]: False}


def test_a_bound_tag_does_not_stop_a_correction_of_the_birth(blanks: list[int], nursery: Nursery) -> None:
    spike = nursery.spike(tag=blanks[0])
    nursery.record(spike_found, plant=spike.plant, seen="buds", replaces=birth_of(spike), tag=blanks[0])
    assert _tags(spike) == {blanks[0]: False}


@pytest.mark.parametrize("at_birth", [True, False])
def test_the_tag_of_something_entered_by_mistake_can_be_used_again(
    at_birth: bool, blanks: list[int], nursery: Nursery
) -> None:
    wrong = nursery.spike(tag=blanks[0])
    nursery.record(undone, target=birth_of(wrong))
    if at_birth:
        right = nursery.spike(tag=blanks[0])
    else:
        right = nursery.spike()
        _bind(nursery, right, blanks[0])
    assert _tags(right)[blanks[0]] is False
    assert _tags(wrong) == {}
