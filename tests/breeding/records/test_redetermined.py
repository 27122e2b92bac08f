"""A clone is thought to be something else: its name, its offspring's names and every tag that bears them follow.

The trace is worked by hand on this example. Drawn as seed parent x pollen parent::

    lowii hammer x hamata lantern   section, seed, two pots; raised from it: the clone kettle
    veitchii velvet x kettle        section, no seed yet
    boschiana chisel x hamata lantern   section; hammer has no part in it

What bears hammer's name is: its own plant and spike; the first cross with its section, seed and pots; kettle with its
plant, spike and pollen; the second cross with its section. Lantern, velvet and chisel, their plants, spikes and
pollen, and the third cross bear it nowhere.
"""

from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

import pytest

from breeding.models import Cross, PollenLot, Section, SeedLot, SeedPot, Spike
from breeding.records.downstream import downstream_of, raised_from
from breeding.records.redetermined import clone_redetermined
from nursery.days import Day
from nursery.identity_words import once_and_now
from nursery.models import Act, Clone, Flag, LivingThing, Plant
from nursery.records.clones import clone_made
from nursery.records.core import NewAct
from nursery.records.errors import Refused
from nursery.records.flags import flag_settled, flags_settled, open_flags
from nursery.records.undo import undone
from tests.keeping import fresh
from tests.making import Nursery, birth_of, today

pytestmark = pytest.mark.django_db


@dataclass
class Example:
    hammer: Clone
    lantern: Clone
    kettle: Clone
    first: list[LivingThing]
    second: list[LivingThing]
    third: list[LivingThing]


@pytest.fixture(scope="module")
def made_once(kept: Nursery) -> Example:
    hammer, lantern = kept.clone("lowii", "hammer", origin="bought"), kept.clone("hamata", "lantern")
    from_lantern = kept.pollen([kept.male(lantern, days_ago=300)], days_ago=300)
    first = kept.section(kept.female(hammer, days_ago=300), lot=from_lantern, days_ago=300)
    lot = kept.seed(first, days_ago=150)
    pots = kept.pots(2, lot, days_ago=150)
    kettle = kept.clone(word="kettle", seed_parent=hammer, pollen_parent=lantern)
    of_kettle = kept.male(kettle, days_ago=20)
    from_kettle = kept.pollen([of_kettle], days_ago=19)
    second = kept.section(kept.female(kept.clone("veitchii", "velvet"), days_ago=18), lot=from_kettle, days_ago=18)
    third = kept.section(kept.female(kept.clone("boschiana", "chisel"), days_ago=290), lot=from_lantern, days_ago=290)
    return Example(
        hammer,
        lantern,
        kettle,
        [first.spike.plant, first.spike, first.cross, first, lot, *pots],
        [kettle, of_kettle.plant, of_kettle, from_kettle, second.cross, second],
        [third.cross, third, third.spike, second.spike, from_lantern, lantern],
    )


@pytest.fixture
def example(made_once: Example) -> Example:
    return fresh(made_once)


def _redetermined(nursery: Nursery, clone: Clone, **facts: Any) -> Act:
    return nursery.record(clone_redetermined, clone=clone, **{"why": "its flowers"} | facts)


def _names(*things: LivingThing) -> list[str]:
    return [str(type(one).objects.get(pk=one.pk)) for one in things]


def test_the_trace_is_the_one_worked_by_hand(example: Example) -> None:
    assert sorted(downstream_of(example.hammer)) == sorted(one.pk for one in [*example.first, *example.second])
    assert {code: len(ids) for code, ids in downstream_of(example.hammer).by_kind.items()} == {
        "clone": 1,
        "plant": 2,
        "spike": 2,
        "pollenlot": 1,
        "cross": 2,
        "section": 2,
        "seedlot": 1,
        "seedpot": 2,
    }


def test_the_trace_leads_down_and_never_up(example: Example) -> None:
    traced = set(downstream_of(example.kettle))
    assert traced == {one.pk for one in example.second} - {example.kettle.pk}
    assert raised_from(example.hammer) == [example.kettle.pk]


def test_what_was_undone_is_not_traced(nursery: Nursery, example: Example) -> None:
    section = next(one for one in example.second if isinstance(one, Section))
    undone(act=nursery.act(), target=birth_of(section))
    assert section.pk not in set(downstream_of(example.hammer))
    assert section.cross_id not in set(downstream_of(example.hammer)), "nothing belongs to that pairing any more"


def test_each_thing_of_the_trace_is_flagged_once(nursery: Nursery, example: Example) -> None:
    act = _redetermined(nursery, example.hammer, taxon=nursery.taxon("truncata"))
    flags = Flag.objects.filter(act=act)
    assert sorted(flags.values_list("thing", flat=True)) == sorted(downstream_of(example.hammer))
    assert set(flags.values_list("code", "sentence")) == {
        (
            "parent_redetermined",
            "Parent redetermined: lowii hammer is now thought truncata. Look whether its tag must be printed again.",
        )
    }


def test_names_follow_down_to_the_grandchildren(nursery: Nursery, example: Example) -> None:
    _redetermined(nursery, example.hammer, taxon=nursery.taxon("truncata"))
    crosses = [one for one in (*example.first, *example.second) if isinstance(one, Cross)]
    assert _names(example.hammer, example.kettle, *crosses) == [
        "truncata hammer",
        "truncata × hamata kettle",
        "truncata hammer × hamata lantern",
        "veitchii velvet × (truncata × hamata) kettle",
    ]


def test_undone_names_and_tags_are_as_they_were(nursery: Nursery, example: Example) -> None:
    before = Clone.objects.filter(pk=example.hammer.pk).values().get()
    act = _redetermined(nursery, example.hammer, seed_parent=nursery.clone("ampullaria"), words="or near it")
    undone(act=nursery.act(), target=act)
    assert Clone.objects.filter(pk=example.hammer.pk).values().get() == before
    assert _names(example.kettle) == ["lowii × hamata kettle"]
    assert not open_flags().exists()


@pytest.mark.parametrize(
    ("facts", "name"),
    [
        (lambda n: {"taxon": n.taxon("truncata")}, "truncata hammer"),
        (
            lambda n: {"seed_parent": n.clone("hamata", "muslin"), "pollen_parent": n.clone("maxima", "whisk")},
            "hamata × maxima hammer",
        ),
        (lambda n: {"pollen_parent": n.clone("maxima", "whisk")}, "unknown × maxima hammer"),
        (lambda n: {"words": "a hybrid of truncata"}, "unknown hammer (a hybrid of truncata)"),
        (lambda n: {"taxon": n.taxon("truncata"), "words": "highland form"}, "truncata hammer (highland form)"),
    ],
)
def test_it_may_be_a_taxon_or_parents_or_words(
    facts: Callable[[Nursery], dict[str, Any]], name: str, nursery: Nursery
) -> None:
    clone = nursery.clone("lowii", "hammer")
    _redetermined(nursery, clone, **facts(nursery))
    assert _names(clone) == [name]


def test_a_clone_without_a_word_of_its_own_is_named_by_what_it_is_thought(nursery: Nursery) -> None:
    clone = nursery.made(clone_made, taxon=nursery.taxon())
    _redetermined(nursery, clone, words="no lowii at all")
    assert _names(clone) == ["unknown (no lowii at all)"]


def test_of_two_the_later_day_holds_and_undoing_it_brings_back_the_other(nursery: Nursery) -> None:
    clone = nursery.clone("lowii", "hammer")
    later = _redetermined(nursery, clone, taxon=nursery.taxon("truncata"), days_ago=10)
    _redetermined(nursery, clone, taxon=nursery.taxon("hamata"), day=Day.month(2025, 3))
    assert _names(clone) == ["truncata hammer"]
    undone(act=nursery.act(), target=later)
    assert _names(clone) == ["hamata hammer"]


def test_a_day_not_known_counts_as_the_day_it_was_told(nursery: Nursery) -> None:
    clone = nursery.clone("lowii", "hammer")
    _redetermined(nursery, clone, taxon=nursery.taxon("hamata"), day=Day.month(2025, 3))
    _redetermined(nursery, clone, taxon=nursery.taxon("truncata"), day=Day.unknown())
    assert _names(clone) == ["truncata hammer"]


def test_correcting_how_it_was_entered_leaves_what_it_is_thought(nursery: Nursery) -> None:
    clone = nursery.clone("lowii", "hammer")
    _redetermined(nursery, clone, taxon=nursery.taxon("truncata"))
    nursery.record(clone_made, taxon=nursery.taxon("maxima"), designation="mallet", replaces=birth_of(clone))
    assert _names(clone) == ["truncata mallet"]


def test_a_clone_is_no_offspring_of_its_own_offspring(nursery: Nursery, example: Example) -> None:
    for parent in (example.kettle, example.hammer):
        with pytest.raises(Refused) as refusal:
            _redetermined(nursery, example.hammer, seed_parent=parent)
        assert refusal.value.sentence == "That parent comes from this clone itself. Choose another parent."
    assert not Act.objects.filter(kind="redetermined").exists()


def test_an_undo_that_would_close_a_circle_is_refused(nursery: Nursery, example: Example) -> None:
    act = _redetermined(nursery, example.kettle, taxon=nursery.taxon("maxima"))
    _redetermined(nursery, example.hammer, pollen_parent=example.kettle)
    with pytest.raises(Refused) as refusal:
        undone(act=nursery.act(), target=act)
    assert refusal.value.sentence == "A parent of this clone would come from the clone itself."
    assert not hasattr(Act.objects.get(pk=act.pk), "voided_by")
    assert _names(example.kettle) == ["maxima kettle"]


@pytest.mark.parametrize(
    ("facts", "sentence"),
    [
        ({"why": " ", "words": "maxima"}, "Say why, so that others can judge it later."),
        ({}, "Say what it is thought to be: a taxon, a parent, or words."),
    ],
)
def test_it_says_what_and_why(facts: dict[str, Any], sentence: str, nursery: Nursery) -> None:
    with pytest.raises(Refused) as refusal:
        _redetermined(nursery, nursery.clone(), **facts)
    assert refusal.value.sentence == sentence


def test_a_taxon_and_parents_cannot_both_be(nursery: Nursery) -> None:
    with pytest.raises(Refused) as refusal:
        _redetermined(nursery, nursery.clone(), taxon=nursery.taxon(), seed_parent=nursery.clone())
    assert refusal.value.sentence == "Choose a taxon or parents, not both."


def test_a_long_reason_makes_no_sentence_that_the_books_cannot_hold(nursery: Nursery) -> None:
    plant = nursery.plant(nursery.clone(word="w" * 40))
    act = _redetermined(nursery, plant.clone, words="x" * 120, seed_parent=nursery.clone(word="v" * 40), why="y" * 300)
    assert len(act.flags.get().sentence) <= 300


def test_all_its_flags_are_settled_by_one_act_and_opened_by_one_undo(nursery: Nursery, example: Example) -> None:
    act = _redetermined(nursery, example.hammer, words="no lowii")
    waiting = open_flags().count()
    settled = nursery.record(flags_settled, brought_by=act, code="parent_redetermined")
    assert not open_flags().exists()
    assert nursery.record(flags_settled, brought_by=act, code="parent_redetermined") == settled
    undone(act=nursery.act(), target=settled)
    assert open_flags().count() == waiting == 13


def test_one_thing_can_be_settled_by_itself(nursery: Nursery, example: Example) -> None:
    act = _redetermined(nursery, example.hammer, words="no lowii")
    pot = next(one for one in example.first if isinstance(one, SeedPot))
    nursery.record(flag_settled, flag=act.flags.get(thing=pot.pk))
    assert pot.pk not in open_flags().values_list("thing", flat=True)
    assert open_flags().count() == 12


def test_a_correction_asks_again_only_where_the_name_changes_or_nobody_has_looked(
    nursery: Nursery, example: Example
) -> None:
    act = _redetermined(nursery, example.hammer, words="no lowii")
    pot = next(one for one in example.first if isinstance(one, SeedPot))
    nursery.record(flag_settled, flag=act.flags.get(thing=pot.pk))
    right = _redetermined(nursery, example.hammer, words="no lowii", why="its leaves", replaces=act)
    assert open_flags().count() == 12 and not right.flags.filter(thing=pot.pk).exists()
    assert "lowii hammer is now thought no lowii" in right.flags.first().sentence
    other = _redetermined(nursery, example.hammer, words="a truncata", replaces=right)
    assert (open_flags().count(), other.flags.count()) == (13, 13)


def test_it_is_told_in_one_sentence(nursery: Nursery) -> None:
    clone = nursery.clone("lowii", "hammer", origin="bought")
    act = _redetermined(nursery, clone, taxon=nursery.taxon("truncata"), day=Day.month(2026, 3))
    told = once_and_now(birth_of(clone).clonemade, act, today())
    assert told == "Bought as lowii hammer, thought truncata since March 2026, because its flowers."


def test_sent_twice_it_flags_each_thing_once(nursery: Nursery, example: Example) -> None:
    new: NewAct = nursery.act()
    for _ in range(2):
        clone_redetermined(act=new, clone=example.hammer, words="no lowii", why="its flowers")
    assert Flag.objects.count() == 13


def test_kinds_in_the_trace_are_all_that_can_bear_a_name() -> None:
    bearing = {Clone, Plant, Spike, PollenLot, Cross, Section, SeedLot, SeedPot}
    assert {model._meta.model_name for model in bearing} == set(downstream_of(Clone(pk=0)).by_kind)
