"""One act sent by two connections at the same moment is one act."""

import pytest
from django.db import transaction

from breeding.models import Cross, Section, SeedLot, SeedPot
from breeding.records.pods import harvested, pods_looked_at
from breeding.records.pots import sown
from breeding.records.sections import section_pollinated
from nursery.models import Act, Flag, Tag, Void
from nursery.records import milestones
from nursery.records.errors import AlreadySent
from nursery.records.numbers import blank_tags_make, next_numbers
from nursery.records.tags import tag_bound
from nursery.records.undo import undone
from tests.concurrency.together import together
from tests.making import Nursery, birth_of

TIMES = 5
"""Each race is run some times over, with things of its own, since a race that is lost once proves little."""


def _again(model, row):
    return model.objects.get(pk=row.pk)


@pytest.mark.parametrize("_", range(TIMES))
def test_the_same_act_at_once_is_one_row_and_both_succeed(_: int, nursery: Nursery) -> None:
    section = nursery.section(days_ago=100)
    new = nursery.act(days_ago=1)
    acts = together(
        *[lambda: pods_looked_at(act=new, section=_again(Section, section), seen="green") for _ in range(2)]
    )
    assert acts == [Act.objects.get(pk=new.id)] * 2


@pytest.mark.parametrize("_", range(TIMES))
def test_the_same_birth_at_once_makes_one_thing_with_one_tag(_: int, nursery: Nursery) -> None:
    section = nursery.section(days_ago=100)
    new = nursery.act()
    tags = Tag.objects.count()
    acts = together(*[lambda: harvested(act=new, section=_again(Section, section)) for _ in range(2)])
    assert acts == [Act.objects.get(pk=new.id)] * 2
    assert SeedLot.objects.count() == 1
    assert Tag.objects.count() == tags + 1


@pytest.mark.parametrize("_", range(TIMES))
def test_the_same_uuid_with_other_values_keeps_one_and_shows_it_to_the_other(_: int, nursery: Nursery) -> None:
    section = nursery.section(days_ago=100)
    new = nursery.act()
    results = together(
        lambda: pods_looked_at(act=new, section=_again(Section, section), seen="green"),
        lambda: pods_looked_at(act=new, section=_again(Section, section), seen="turning"),
    )
    [kept] = [one for one in results if isinstance(one, Act)]
    [refusal] = [one for one in results if isinstance(one, AlreadySent)]
    assert refusal.act == kept == Act.objects.get(pk=new.id)


@pytest.mark.parametrize("_", range(TIMES))
def test_two_people_sow_the_last_of_a_lot_and_both_are_kept(_: int, nursery: Nursery) -> None:
    lot = nursery.seed(estimate=100, days_ago=3)
    acts = together(*[lambda: sown(act=nursery.act(), lot=_again(SeedLot, lot), seeds=100) for _ in range(2)])
    assert sorted(Act.objects.filter(kind="sown"), key=lambda act: act.pk) == sorted(acts, key=lambda act: act.pk)
    assert SeedPot.objects.count() == 2
    lot.refresh_from_db()
    assert (lot.seeds_sown, lot.pots_sown) == (200, 2)
    assert [flag.sentence for flag in Flag.objects.filter(code="sown_more_than_estimated")] == [
        "200 seeds sown, but 100 were estimated. Was that too low, or is a number wrong?"
    ]


@pytest.mark.parametrize("_", range(TIMES))
def test_a_new_pairing_made_by_two_at_once_is_one_cross(_: int, nursery: Nursery) -> None:
    mother, lot = nursery.clone(), nursery.pollen(days_ago=1)
    females = [nursery.female(mother, days_ago=1) for _ in range(2)]
    acts = together(
        *[lambda spike=spike: section_pollinated(act=nursery.act(), spike=spike, lot=lot) for spike in females]
    )
    assert all(isinstance(act, Act) for act in acts), acts
    cross = Cross.objects.get()
    assert (cross.sections, Section.objects.filter(cross=cross).count()) == (2, 2)


def test_numbers_taken_by_two_connections_are_never_equal(nursery: Nursery) -> None:
    results = together(*[lambda: [tag.number for _ in range(20) for tag in blank_tags_make(count=3)]] * 2)
    numbers = [number for result in results for number in result]
    assert len(numbers) == len(set(numbers)) == 120
    assert Tag.objects.filter(number__in=numbers).count() == 120


@pytest.mark.parametrize("_", range(TIMES))
def test_one_blank_tag_bound_by_two_at_once_is_on_one_thing(_: int, nursery: Nursery) -> None:
    [blank] = blank_tags_make(count=1)
    spikes = [nursery.spike() for _ in range(2)]
    results = together(
        *[lambda spike=spike: tag_bound(act=nursery.act(), thing=spike, number=blank.number) for spike in spikes]
    )
    [refusal] = [one for one in results if isinstance(one, Exception)]
    [act] = [one for one in results if isinstance(one, Act)]
    [on] = [spike for spike in spikes if spike.pk == act.thing_id]
    assert str(refusal) == f"Tag {blank.number} is already on something: {on}. Use another blank tag."
    blank.refresh_from_db()
    assert blank.thing_id == act.thing_id


@pytest.mark.parametrize("_", range(TIMES))
def test_an_act_undone_by_two_at_once_is_undone_once_and_both_succeed(_: int, nursery: Nursery) -> None:
    section = nursery.section(days_ago=100)
    look = nursery.record(pods_looked_at, section=section, seen="green")
    undos = together(*[lambda: undone(act=nursery.act(), target=look)] * 2)
    assert undos == [Void.objects.get(target=look).act] * 2


@pytest.mark.parametrize("_", range(TIMES))
def test_undoing_a_birth_while_another_records_on_it_is_refused_or_flagged(_: int, nursery: Nursery) -> None:
    """Whoever comes second hears of it: the undo is refused, or the sowing is kept and flagged. Never neither."""
    lot = nursery.seed(days_ago=10)
    undo, sowing = together(
        lambda: undone(act=nursery.act(), target=birth_of(lot)),
        lambda: sown(act=nursery.act(), lot=_again(SeedLot, lot), pots=1),
    )
    assert isinstance(sowing, Act), sowing
    lot.refresh_from_db()
    flags = [flag.sentence for flag in sowing.flags.all()]
    if lot.cancelled:
        assert flags == ["The seed lot was taken out of the books before."]
    else:
        assert (str(undo), flags) == ("More was recorded about this seed lot. Undo that first, newest first.", [])


@pytest.mark.parametrize("_", range(TIMES))
def test_undoing_a_look_while_another_is_recorded_leaves_the_books_right(_: int, nursery: Nursery) -> None:
    section = nursery.section(days_ago=100)
    look = nursery.record(pods_looked_at, section=section, seen="opening", days_ago=2)
    results = together(
        lambda: undone(act=nursery.act(), target=look),
        lambda: pods_looked_at(act=nursery.act(days_ago=1), section=_again(Section, section), seen="turning"),
    )
    assert all(isinstance(one, Act) for one in results), results
    section.refresh_from_db()
    assert (section.stage, section.open_by) == ("turning", None)
    assert milestones.worked_out(section)["stage"] == "turning"


def test_numbers_follow_each_other_without_a_gap_when_nothing_fails(nursery: Nursery) -> None:
    with transaction.atomic():
        first, second = next_numbers(2)
    assert second // 10 == first // 10 + 1
