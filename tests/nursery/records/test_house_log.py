"""What befell a house: told as it was, closed until what somebody typed, over when somebody says so."""

from datetime import datetime, timedelta

import pytest
from django.utils import timezone

from nursery.closings import banners, banners_at, open_events
from nursery.days import Day
from nursery.models import Act, Person
from nursery.records.errors import Refused
from nursery.records.flags import open_flags
from nursery.records.house_log import house_event, house_event_ended
from nursery.records.undo import undone
from tests.making import Nursery, today


def _at(hour: int, *, days: int = 0) -> datetime:
    start = timezone.localtime().replace(hour=hour, minute=0, second=0, microsecond=0)
    return start + timedelta(days=days)


def _codes() -> list[str]:
    return list(open_flags().values_list("code", flat=True))


def test_a_banner_says_until_when_as_typed_and_by_whom(nursery: Nursery, grower: Person) -> None:
    house = nursery.house("House 2")
    nursery.record(house_event, place=house, what="treatment", product="soap", closed_until=_at(14, days=1), by=grower)
    [shown] = banners(grower)
    assert shown.words == "House 2 is closed until 14:00 tomorrow, as typed from the label by Tom Reed (soap)."


def test_a_time_that_has_passed_opens_nothing(nursery: Nursery) -> None:
    house = nursery.house("House 2")
    nursery.record(house_event, place=house, what="treatment", closed_until=_at(14, days=-1), days_ago=2)
    [shown] = banners(nursery.by)
    assert shown.words == (
        "House 2 was closed until 14:00 yesterday, as typed from the label by Ida Fern. "
        "Nobody has said that it is open again."
    )


def test_it_stands_until_somebody_says_that_it_is_over(nursery: Nursery, viewer: Person) -> None:
    bench = nursery.bench("Long bench", inside=nursery.house("Warm house"))
    event = nursery.record(house_event, place=bench, what="power", words="whole street", days_ago=1)
    day = Day(event.day_first, event.day_last, "exact").words(today())
    assert [one.words for one in banners(viewer)] == [
        f"Power cut (whole street) in Warm house, Long bench since {day}, told by Ida Fern."
    ]
    assert banners(viewer)[0].end_url == "", "a viewer is offered nothing to record"
    assert banners(nursery.by)[0].end_url == f"/places/{bench.pk}/ended/?event={event.pk}"
    end = nursery.record(house_event_ended, event=event.houseevent)
    assert banners(viewer) == [] and _codes() == []
    undone(act=nursery.act(), target=end)
    assert len(banners(viewer)) == 1
    undone(act=nursery.act(), target=event)
    assert banners(viewer) == []


def test_a_house_that_is_closed_closes_what_is_in_it_and_nothing_else(nursery: Nursery) -> None:
    house = nursery.house()
    bench, other = nursery.bench(inside=house), nursery.bench()
    nursery.record(house_event, place=house, what="heat")
    assert len(banners_at(bench, nursery.by)) == len(banners_at(house, nursery.by)) == 1
    assert banners_at(other, nursery.by) == []


def test_what_was_over_when_it_was_told_has_no_banner(nursery: Nursery) -> None:
    act = nursery.record(house_event, place=nursery.house(), what="frost", day=Day.year(2024), over=True)
    assert open_events() == []
    assert (act.said, act.day_first.year) == ("year", 2024)


@pytest.mark.parametrize(
    ("facts", "sentence"),
    [
        (
            {"what": "heat", "product": "soap"},
            "Only a treatment has a product, and a time until when its label closes.",
        ),
        (
            {"what": "power", "closed_until": _at(9)},
            "Only a treatment has a product, and a time until when its label closes.",
        ),
        ({"what": "other"}, "Say in words what happened."),
        ({"what": "treatment", "closed_until": _at(9, days=400)}, "That is more than a year away. Check the year."),
    ],
)
def test_what_cannot_be_is_refused(facts: dict, sentence: str, nursery: Nursery) -> None:
    with pytest.raises(Refused) as refusal:
        nursery.record(house_event, place=nursery.house(), **facts)
    assert refusal.value.sentence == sentence
    assert not Act.objects.filter(kind="house_event").exists()


def test_open_before_the_label_says_is_taken_and_flagged(nursery: Nursery) -> None:
    event = nursery.record(house_event, place=nursery.house(), what="treatment", closed_until=_at(9, days=2))
    nursery.record(house_event_ended, event=event.houseevent)
    assert _codes() == ["open_before_label"]
    assert open_flags().get().sentence == (
        "The time typed from the label has not come by then. Look at the label again."
    )
    assert open_events() == []


def test_days_that_do_not_fit_are_taken_and_flagged(nursery: Nursery) -> None:
    late = nursery.record(house_event, place=nursery.house(), what="treatment", closed_until=_at(9, days=-9))
    assert _codes() == ["closed_before_treated"]
    undone(act=nursery.act(), target=late)
    event = nursery.record(house_event, place=nursery.house(), what="heat", days_ago=3)
    nursery.record(house_event_ended, event=event.houseevent, days_ago=8)
    assert _codes() == ["ended_before_it_began"]


def test_an_end_of_which_the_day_is_not_known_ends_it(nursery: Nursery) -> None:
    event = nursery.record(house_event, place=nursery.house(), what="heat", day=Day.unknown())
    assert banners(nursery.by)[0].words.endswith("(day not known), told by Ida Fern.")
    nursery.record(house_event_ended, event=event.houseevent, day=Day.unknown())
    assert open_events() == [] and _codes() == []


def test_a_correction_keeps_that_it_is_over_unless_it_is_closed_for_longer(nursery: Nursery) -> None:
    """A word put right brings no banner back; a label read wrong before does, and undoing that takes it away again."""
    house = nursery.house("House 2")
    told = {"place": house, "what": "treatment", "closed_until": _at(14, days=-1), "days_ago": 2}
    event = nursery.record(house_event, **told)
    nursery.record(house_event_ended, event=event.houseevent)
    words = nursery.record(house_event, **told, words="by hand", replaces=event)
    assert open_events() == []
    longer = nursery.record(house_event, **(told | {"closed_until": _at(14, days=1)}), replaces=words)
    assert [one.pk for one in open_events()] == [longer.pk]
    undone(act=nursery.act(), target=longer)
    assert open_events() == []
