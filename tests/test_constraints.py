"""What a row alone can show is refused by the database itself, whatever wrote it, and has a sentence for people."""

from collections.abc import Callable
from datetime import date
from typing import Any

import pytest
from django.apps import apps
from django.db import IntegrityError, transaction
from django.db.models import CheckConstraint
from django.db.models.constraints import BaseConstraint

from breeding.models import (
    Expectation,
    Harvested,
    OutcomeTold,
    PollenSent,
    Pollinated,
    PotCleared,
    PotLook,
    PotSplit,
    RoutineChanged,
    RoutineDone,
    RoutineMade,
    SeedCleaned,
    SeedSent,
    SowingChanged,
    SowingPlanned,
    Sown,
    SpikeFound,
    SpikeLook,
    TakeLook,
)
from breeding.records.pods import take_read
from nursery.models import (
    Act,
    ActLink,
    Flag,
    House,
    HouseEvent,
    Person,
    Photo,
    Quarantined,
    Redetermined,
    Remark,
    Repair,
    SampleSent,
    TagSequence,
    TagsSwapped,
    Taxon,
)
from nursery.records.errors import Refused
from nursery.records.outbox import held
from nursery.records.remarks import remarked
from tests.making import Nursery, tag_of

pytestmark = pytest.mark.django_db

FOR_NOBODY = {
    "house_is_one_row",
    "tag_sequence_is_one_row",
    "act_links_a_thing_once",
    "tag_once_on_a_print",
    "stock_once_on_a_last_look",
    "one_sheet_left_by_a_printer",
    "one_sheet_left_by_printers_not_entered",
    "thing_is_flagged_once_for_each_reason",
    "repair_of_a_flag_once_an_act",
    "repair_is_of_a_flag_or_of_a_swap",
}
"""Rules that only our own code could break, so that no person ever reads about them."""


def _constraints(*labels: str) -> dict[str, BaseConstraint]:
    models = [model for label in labels for model in apps.get_app_config(label).get_models()]
    return {one.name: one for model in models for one in model._meta.constraints}


def _act(nursery: Nursery) -> Act:
    return nursery.record(remarked, thing=nursery.plant(), words="upright")


def _changed(row: Any, **columns: Any) -> None:
    """Write past every record function, and past the model's own checks."""
    type(row)._base_manager.filter(pk=row.pk).update(**columns)


def _detail(model: type, **columns: Any) -> Callable[[Nursery], Any]:
    return lambda nursery: model._base_manager.create(act=_act(nursery), **columns)


def _of_act(**columns: Any) -> Callable[[Nursery], Any]:
    return lambda nursery: _changed(_act(nursery), **columns)


def _of_expectation(**columns: Any) -> Callable[[Nursery], Any]:
    return lambda nursery: _changed(Expectation.objects.filter(taxon=None).first(), **columns)


def _expectation_twice(nursery: Nursery) -> None:
    row = Expectation.objects.filter(taxon=None).first()
    row.pk, row.taxon = None, nursery.taxon()
    row.save()
    row.pk = None
    row.save()


def _expectation_for_all_twice(nursery: Nursery) -> None:
    row = Expectation.objects.filter(taxon=None).first()
    row.pk = None
    row.save()


def _flag_twice(nursery: Nursery) -> None:
    act = _act(nursery)
    for _ in range(2):
        Flag.objects.create(act=act, thing=act.thing, code="odd", sentence="Odd.")


def _repair_twice(nursery: Nursery) -> None:
    act = _act(nursery)
    flag = Flag.objects.create(act=act, thing=act.thing, code="odd", sentence="Odd.")
    for _ in range(2):
        Repair.objects.create(act=act, flag=flag)


def _link_twice(nursery: Nursery) -> None:
    act = _act(nursery)
    for _ in range(2):
        ActLink.objects.create(act=act, thing=act.thing)


def _same_bench_twice(nursery: Nursery) -> None:
    bench = nursery.bench("North")
    _changed(nursery.bench("South", inside=bench.inside), name="North")


BREAKING: dict[str, Callable[[Nursery], Any]] = {
    "act_days_known_unless_said_unknown": _of_act(day_first=None, day_last=None),
    "act_first_day_not_after_last": _of_act(day_first=date(2026, 3, 2), day_last=date(2026, 3, 1), said="week"),
    "act_exact_day_is_one_day": _of_act(day_first=date(2026, 3, 1), day_last=date(2026, 3, 2)),
    "act_links_a_thing_once": _link_twice,
    "thing_is_flagged_once_for_each_reason": _flag_twice,
    "redetermined_says_what_it_is_thought_to_be": _detail(Redetermined, why="its flowers"),
    "redetermined_as_a_taxon_or_of_parents_not_both": lambda n: Redetermined.objects.create(
        act=_act(n), taxon=n.taxon(), seed_parent=n.clone(), why="its flowers"
    ),
    "tags_swapped_are_two": lambda n: [
        TagsSwapped.objects.create(act=_act(n), tag=tag_of(one), other_tag=tag_of(one)) for one in [n.plant()]
    ],
    "repair_of_a_flag_once_an_act": _repair_twice,
    "repair_is_of_a_flag_or_of_a_swap": lambda n: Repair.objects.create(act=_act(n)),
    "pollensent_says_to_whom": _detail(PollenSent, to_whom="", extent="all"),
    "seedsent_says_to_whom": _detail(SeedSent, to_whom="", extent="all"),
    "outcome_has_words": lambda n: [OutcomeTold.objects.create(act=one, sent=one, words="") for one in [_act(n)]],
    "redetermined_says_why": _detail(Redetermined, words="no lowii"),
    "clone_has_a_taxon_or_parents_or_a_designation": lambda n: _changed(n.clone(), taxon=None, designation=""),
    "clone_is_not_its_own_parent": lambda n: [_changed(one, seed_parent=one) for one in [n.clone()]],
    "house_is_one_row": lambda n: House.objects.create(id=2),
    "house_minutes_between_5_and_960": lambda n: House.objects.update_or_create(id=1, defaults={"minutes_a_day": 4}),
    "needs_a_look_settled_by_somebody": lambda n: _changed(
        held(sent={}, sentence="Odd.", sender=n.by), settled_by=n.by
    ),
    "person_names_differ_by_more_than_case": lambda n: Person(name="IDA FERN").save(),
    "person_role_is_known": lambda n: _changed(n.by, role="king"),
    "photo_is_named_by_its_content": _detail(Photo, sha256="ab", width=4, height=3, bytes=9),
    "photo_has_a_size": _detail(Photo, sha256="a" * 64, width=4, height=0, bytes=9),
    "place_names_differ_within_a_place": _same_bench_twice,
    "house_names_differ": lambda n: [n.house("East"), _changed(n.house("West"), name="East")],
    "house_stands_alone_and_others_inside": lambda n: _changed(n.bench(), inside=None),
    "house_event_only_a_treatment_has_a_label": _detail(HouseEvent, what="heat", product="soap spray"),
    "house_event_something_else_says_what": _detail(HouseEvent, what="other"),
    "quarantine_has_a_reason": _detail(Quarantined, reason=""),
    "sample_went_to_somebody": _detail(SampleSent, to_whom=""),
    "remark_has_words": _detail(Remark, words=""),
    "tag_sequence_is_one_row": lambda n: TagSequence.objects.create(id=2),
    "taxon_is_listed_once": lambda n: [Taxon.objects.create(epithet="lowii") for _ in range(2)],
    "expectation_once_a_step_and_taxon": _expectation_twice,
    "expectation_once_a_step_for_all": _expectation_for_all_twice,
    "expectation_window_opens_before_it_closes": _of_expectation(low=50, high=50),
    "expectation_risk_is_a_small_share": _of_expectation(risk=0.5),
    "expectation_looks_at_least_daily_apart": _of_expectation(longest_gap=0),
    "take_look_says_something": _detail(TakeLook),
    "harvest_no_more_open_pods_than_pods": _detail(Harvested, what="pods", pods=3, pods_open=4),
    "pollinated_from_a_lot_or_a_spike_not_both": lambda n: Pollinated.objects.create(
        act=_act(n), lot=n.pollen(), from_spike=n.male()
    ),
    "seed_estimate_says_how": _detail(SeedCleaned, seeds=50),
    "seed_filled_share_at_most_100_percent": _detail(SeedCleaned, filled_percent=101),
    "sown_into_1_to_100_pots": _detail(Sown, pots=101),
    "pot_with_nothing_up_counts_none": _detail(PotLook, seen="nothing", counted=1),
    "sowingplanned_other_way_has_words": _detail(
        SowingPlanned, planned_for=date(2026, 3, 1), pots=1, sterilised="other"
    ),
    "sowing_density_between_0_05_and_20": _detail(SowingPlanned, planned_for=date(2026, 3, 1), pots=1, density=21),
    "sowingchanged_other_way_has_words": _detail(SowingChanged, planned_for=date(2026, 3, 1), sterilised="other"),
    "pot_cleared_for_something_else_has_words": lambda n: PotCleared.objects.create(
        act=_act(n), pot=n.pot(), why="other"
    ),
    "pot_split_into_1_to_100_pots": _detail(PotSplit, pots=101, extent="part"),
    "pot_split_puts_seedlings_into_each": _detail(PotSplit, pots=2, seedlings=0, extent="part"),
    "routinemade_has_words": _detail(RoutineMade, words="", rule="FREQ=DAILY", starts=date(2026, 3, 1)),
    "routinechanged_has_words": _detail(RoutineChanged, words="", rule="FREQ=DAILY", starts=date(2026, 3, 1)),
    "routine_answer_is_done_or_not_today": _detail(RoutineDone, answer="maybe"),
    "spikefound_sex_says_from_what": _detail(SpikeFound, seen="buds", sex="male"),
    "spikelook_sex_says_from_what": _detail(SpikeLook, seen="buds", sex_from="buds"),
}
"""For each rule, something that breaks it and nothing else."""


def test_every_rule_is_tried_here() -> None:
    assert set(BREAKING) == set(_constraints("nursery", "breeding"))


@pytest.mark.parametrize("name", sorted(BREAKING))
def test_the_database_itself_refuses(name: str, nursery: Nursery) -> None:
    with pytest.raises(IntegrityError) as error, transaction.atomic():
        BREAKING[name](nursery)
    constraint = _constraints("nursery", "breeding")[name]
    if isinstance(constraint, CheckConstraint):
        assert name in str(error.value), "broke another rule than the one meant"
    else:
        assert "unique" in str(error.value).lower()


def test_every_rule_that_a_person_can_break_has_a_sentence() -> None:
    for name, constraint in _constraints("nursery", "breeding", "labels").items():
        sentence = str(constraint.violation_error_message)
        if name not in FOR_NOBODY:
            assert sentence != str(BaseConstraint.default_violation_error_message), name
            assert sentence.lstrip("“")[0].isupper() and sentence.endswith("."), name


def test_what_only_the_database_refuses_is_told_in_its_sentence(nursery: Nursery) -> None:
    with pytest.raises(Refused) as refusal:
        nursery.record(take_read, section=nursery.section(days_ago=40))
    assert refusal.value.sentence == "Say how the stigmas or the pods look, or “Can't tell”."
    assert not Act.objects.filter(kind="take_look").exists()
