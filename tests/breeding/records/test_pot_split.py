"""Seedlings of a pot that was split: new pots with tags of their own, numbers that add up, and one cross all along."""

import pytest

from breeding.models import SeedPot
from breeding.records.contradictions.pots import pot_contradictions
from breeding.records.pots import pot_looked_at, pot_split, seedlings_lost, sown
from breeding.records.sowing import pot_sown
from nursery.days import Day
from nursery.models import Act, Tag
from nursery.records.errors import Refused
from nursery.records.flags import open_flags
from nursery.records.numbers import blank_tags_make
from nursery.records.undo import undone
from tests.making import Nursery, ago, birth_of, tag_of, today

pytestmark = pytest.mark.django_db


@pytest.fixture(scope="module")
def counted(kept: Nursery) -> SeedPot:
    """In which 41 seedlings were counted 20 days ago."""
    pot = kept.pot(kept.seed(days_ago=210), days_ago=200, seeds=90)
    kept.record(pot_looked_at, pot=pot, seen="plenty", counted=41, days_ago=20)
    return pot


@pytest.fixture
def pot(counted: SeedPot) -> SeedPot:
    return SeedPot.objects.get(pk=counted.pk)


@pytest.fixture
def nursery(kept: Nursery) -> Nursery:
    return kept.again()


def _split(nursery: Nursery, pot: SeedPot, **facts) -> list[SeedPot]:
    act = nursery.record(pot_split, pot=pot, **facts)
    return _made(act)


def _made(act: Act) -> list[SeedPot]:
    return list(SeedPot.objects.filter(thing__born_by=act, cancelled=False).order_by("pk"))


def _parts_of(pot: SeedPot) -> list[SeedPot]:
    return list(SeedPot.objects.filter(split_from=pot, cancelled=False).order_by("pk"))


def _codes(act: Act) -> list[str]:
    return [flag.code for flag in act.flags.order_by("pk")]


def _cross(pot: SeedPot) -> tuple[int, int]:
    cross = SeedPot.objects.get(pk=pot.pk).lot.cross
    return cross.pots, cross.pots_up


def test_new_pots_have_tags_that_wait_to_be_printed(nursery: Nursery, pot: SeedPot) -> None:
    bench, [blank] = nursery.bench(), blank_tags_make(count=1)
    new = _split(nursery, pot, pots=3, seedlings=10, place=bench, pot_size=" 7 cm ", tag=blank.number, days_ago=2)
    tags = [tag_of(one) for one in new]
    assert tags[0].number == blank.number and len({tag_of(pot).number, *(tag.number for tag in tags)}) == 4
    assert {tag.printed_at for tag in tags} == {None}
    for one in new:
        assert (one.split_from, one.lot, one.place, one.pot_size) == (pot, pot.lot, bench, "7 cm")
        assert (one.stage, one.counted, one.sown_last, one.last_look) == ("up", 10, ago(200).last, ago(2).last)
    pot.refresh_from_db()
    assert (pot.is_open, pot.counted, pot.raised) == (True, 11, 41)
    assert _cross(pot) == (1, 1), "what was split off was not sown"
    assert SeedPot.objects.get(pk=pot.pk).lot.pots_sown == 1
    assert not open_flags().exists()


def test_when_none_stays_the_old_pot_is_done_and_undo_brings_it_back(nursery: Nursery, pot: SeedPot) -> None:
    act = nursery.record(pot_split, pot=pot, pots=2, extent="all", day=Day.month(today().year, today().month))
    new = _made(act)
    pot.refresh_from_db()
    assert (pot.closed_why, pot.closed_said, pot.stage) == ("split", "month", "up")
    undone(act=nursery.act(), target=act)
    pot.refresh_from_db()
    assert (pot.is_open, pot.counted, pot.split_last) == (True, 41, None)
    assert all(SeedPot.objects.get(pk=one.pk).cancelled for one in new)


def test_it_is_not_undone_once_more_was_told_of_a_new_pot(nursery: Nursery, pot: SeedPot) -> None:
    [new] = _split(nursery, pot, days_ago=3)
    nursery.record(pot_looked_at, pot=new, seen="few")
    with pytest.raises(Refused) as refusal:
        undone(act=nursery.act(), target=birth_of(new))
    assert refusal.value.code == "others_depend"


def test_corrected_it_keeps_its_pots_and_their_tags(nursery: Nursery, pot: SeedPot) -> None:
    two = nursery.record(pot_split, pot=pot, pots=2, seedlings=10, days_ago=2)
    before = [(one.pk, tag_of(one).number) for one in _made(two)]
    three = nursery.record(pot_split, pot=pot, pots=3, seedlings=12, extent="all", days_ago=1, replaces=two)
    after = _made(three)
    assert [(one.pk, tag_of(one).number) for one in after[:2]] == before
    assert [(one.counted, one.last_look) for one in after] == [(12, ago(1).last)] * 3
    undone(act=nursery.act(), target=three)
    assert [(one.pk, one.counted) for one in _parts_of(pot)] == [(pk, 10) for pk, _ in before]


def test_it_was_another_pot(nursery: Nursery, pot: SeedPot) -> None:
    right = nursery.pot(nursery.seed(days_ago=150), days_ago=140)
    act = nursery.record(pot_split, pot=pot, pots=1, days_ago=9)
    [part] = _made(act)
    [inner] = _split(nursery, part, days_ago=4)
    for wrong in (part, inner):
        with pytest.raises(Refused) as refusal:
            nursery.record(pot_split, pot=wrong, pots=1, replaces=act)
        assert refusal.value.sentence == "That came out of this one. Choose the one that was split."
    nursery.record(pot_split, pot=right, pots=1, days_ago=9, replaces=act)
    for one in (part, inner):
        one.refresh_from_db()
        assert (one.lot, one.sown_first) == (right.lot, ago(140).first)
    pot.refresh_from_db()
    assert pot.split_last is None


def test_a_part_follows_when_its_sowing_was_of_another_lot_or_day(nursery: Nursery, pot: SeedPot) -> None:
    [part] = _split(nursery, pot, days_ago=9)
    [inner] = _split(nursery, part, days_ago=4)
    other = nursery.seed(days_ago=205)
    nursery.record(sown, lot=other, pots=1, days_ago=190, replaces=birth_of(pot))
    for one in (part, inner):
        one.refresh_from_db()
        assert (one.lot, one.sown_first) == (other, ago(190).first)
    assert _cross(part) == (1, 1)


def test_a_part_of_a_prepared_pot_follows_its_sowing(nursery: Nursery) -> None:
    prepared = nursery.prepared_pot(days_ago=90)
    act = nursery.record(pot_split, pot=prepared, days_ago=5)
    assert _codes(act) == ["not_sown_yet"]
    [part] = _made(act)
    assert (part.sown_first, part.unsown, part.session) == (None, False, None)
    nursery.record(pot_sown, pot=prepared, days_ago=80)
    part.refresh_from_db()
    assert part.sown_first == ago(80).first


@pytest.mark.parametrize(
    ("facts", "flags"),
    [
        ({"pots": 4, "seedlings": 10}, []),
        ({"pots": 4, "seedlings": 11}, ["more_moved_than_counted"]),
        ({"pots": 4, "extent": "all"}, []),  # nobody counted what moved
        ({"pots": 3, "seedlings": 13, "extent": "all"}, []),  # 39 of 41, and 2 were lost
        ({"pots": 3, "seedlings": 12, "extent": "all"}, ["fewer_moved_than_counted"]),
        ({"pots": 3, "seedlings": 12}, []),  # the others stay
        ({"days_ago": 201}, ["before_sowing"]),
    ],
)
def test_numbers_add_up_or_are_flagged(nursery: Nursery, pot: SeedPot, facts: dict, flags: list[str]) -> None:
    nursery.record(seedlings_lost, pot=pot, lost=2, days_ago=10)
    pot.refresh_from_db()
    assert _codes(nursery.record(pot_split, pot=pot, **facts)) == flags


def test_more_than_was_sown_is_flagged_where_nobody_counted(nursery: Nursery) -> None:
    pot = nursery.pot(days_ago=200, seeds=20)
    assert _codes(nursery.record(pot_split, pot=pot, pots=3, seedlings=7)) == ["more_seedlings_than_seeds"]


def test_an_emptied_pot_is_told_of_again_only_with_a_flag(nursery: Nursery, pot: SeedPot) -> None:
    [new] = _split(nursery, pot, extent="all", days_ago=5)
    pot.refresh_from_db()
    assert _codes(nursery.record(pot_looked_at, pot=pot, seen="nothing", days_ago=4)) == []
    assert _codes(nursery.record(pot_split, pot=pot, days_ago=3)) == ["pot_was_emptied"]
    late = nursery.record(pot_looked_at, pot=new, seen="few", days_ago=8)
    assert _codes(late) == ["before_split"]
    told = pot_contradictions(new, seen="nothing", counted=None, day=ago(1))
    assert [one.code for one in told] == ["seedlings_gone"]


def test_what_cannot_be_is_refused(nursery: Nursery, pot: SeedPot) -> None:
    for facts, field in (({"pots": 0}, "pots"), ({"pots": 101}, "pots"), ({"seedlings": 0}, "seedlings")):
        with pytest.raises(Refused) as refusal:
            nursery.record(pot_split, pot=pot, **facts)
        assert refusal.value.field == field
    assert not SeedPot.objects.filter(split_from=pot).exists()


def test_sent_twice_it_is_split_once(nursery: Nursery, pot: SeedPot) -> None:
    new = nursery.act()
    assert pot_split(act=new, pot=pot, pots=2) == pot_split(act=new, pot=pot, pots=2)
    assert Tag.objects.filter(thing__seedpot__split_from=pot).count() == 2
