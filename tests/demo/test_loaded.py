"""The demo nursery in the books, as it is loaded on a day in summer."""

from datetime import date, timedelta

import pytest
from django.utils import timezone

from breeding.models import Cross, PollenLot, Section, SeedLot, SeedPot, Spike
from breeding.rounds.kinds import TASK_KINDS
from breeding.rounds.tasks import round_for
from demo_fixtures.diary import Diary
from demo_fixtures.load import load_demo
from labels.contents import waiting, worn
from labels.models import Printing
from nursery.models import Act, Clone, House, Person, Place, Plant, Tag, Taxon
from nursery.records import milestones, registry
from nursery.records.errors import Refused
from tests.demo.conftest import SUMMER

DAY = SUMMER
pytestmark = pytest.mark.usefixtures("db")


@pytest.fixture(scope="module")
def db(books: Diary) -> None:
    """The loaded demo stands in for a database of each test's own."""


def test_there_is_about_as_much_as_a_small_nursery_has(books):
    sizes = {Plant: (55, 65), Spike: (40, 60), PollenLot: (22, 30), Section: (45, 65), SeedLot: (28, 36)}
    for model, (least, most) in (sizes | {SeedPot: (50, 70), Clone: (30, 40), Place: (12, 16)}).items():
        assert least <= model.objects.filter(cancelled=False).count() <= most, model


def test_the_house_is_marked_as_a_demo(books):
    house = House.objects.get()
    assert (house.name, house.demo) == ("Drizzle Lane Nursery", True)
    assert house.public_address == "https://drizzle.example"


def test_four_people_may_sign_in(books):
    people = {person.name: person.role for person in Person.objects.filter(is_active=True)}
    assert people == {"Marta": "owner", "Teo": "grower", "Ines": "grower", "Ole": "viewer"}
    assert all(person.has_usable_password() for person in Person.objects.all())


def test_the_history_is_two_seasons_long_and_ends_yesterday(books):
    acts = Act.objects.all()
    days = [timezone.localdate(moment) for moment in acts.values_list("recorded_at", flat=True)]
    assert max(days) < SUMMER
    assert (SUMMER - min(days)).days > 2 * 365
    assert not acts.filter(day_last__gte=SUMMER).exists()


def test_stored_milestones_equal_those_worked_out_afresh(books):
    for kind in registry.thing_kinds().values():
        for thing in kind.model.objects.all():
            worked_out = milestones.worked_out(thing)
            assert {name: getattr(thing, name) for name in worked_out} == worked_out, thing


def test_no_species_of_appendix_one_is_grown(books):
    # CITES appendices: N. rajah and N. khasiana are in Appendix I, the rest of the genus in Appendix II.
    grown = Taxon.objects.filter(pk__in=Clone.objects.values("taxon"))
    assert set(grown.values_list("cites", flat=True)) == {"II"}
    assert not {"rajah", "khasiana"} & set(grown.values_list("epithet", flat=True))


def test_every_kind_of_task_is_in_the_round(books):
    tasks = _all_tasks(SUMMER)
    assert {task.kind for task in tasks} == {kind.code for kind in TASK_KINDS}
    assert 15 <= len(tasks) <= 32


def test_the_minutes_of_the_day_leave_something_for_tomorrow(books):
    day = round_for(SUMMER)
    assert len(day.today) > len(day.rest) > 0


def test_there_is_a_choice_of_good_pollen(books):
    for task in _all_tasks(SUMMER):
        if task.kind == "pollinate":
            assert len({partner.name for partner in task.partners}) >= 3


@pytest.mark.parametrize("age", ["three months", "six months", "a year"])
def test_a_silent_pot_is_asked_about_at_each_age(books, age):
    # Common practice, no source: never close a pot by itself, ask at 3, 6 and 12 months.
    assert any(f"nothing up after {age}" in task.reason for task in _all_tasks(SUMMER))


def test_most_open_things_are_not_due(books):
    models = (Spike, PollenLot, Section, SeedLot, SeedPot)
    still_open = sum(model.objects.filter(cancelled=False, closed_on__isnull=True).count() for model in models)
    assert len({task.thing_id for task in _all_tasks(SUMMER)}) < still_open / 2


@pytest.mark.parametrize("days", [1, 3, 7])
def test_other_days_have_rounds_too(books, days):
    assert _all_tasks(SUMMER + timedelta(days=days))


def test_some_crosses_are_wished_for_and_not_done(books):
    assert Cross.objects.filter(stage="planned").count() >= 2
    assert Cross.objects.filter(stage="up").count() >= 5


def test_some_blank_tags_lie_in_the_drawer(books):
    assert Tag.objects.filter(thing__isnull=True).count() >= 5


def test_loading_twice_into_one_database_is_refused(books):
    with pytest.raises(Refused, match="loaded before"):
        load_demo(SUMMER)


def _all_tasks(day: date):
    due = round_for(day)
    return (*due.today, *due.rest)


def test_what_was_printed_on_heat_paper_months_ago_fades_soon(books):
    fading = worn(DAY)
    assert 5 <= len(fading) <= 12
    [print_] = Printing.objects.all()
    assert {printed.tag_id for printed in print_.tags.all()} == {tag.number for tag in fading}
    assert (print_.stock.process, print_.stock.lasts) == ("thermal", 9)
    assert 260 < (Tag.objects.get(pk=fading[0].number).lasts_until - print_.at.date()).days < 280


def test_only_what_is_new_waits_for_its_label(books):
    waits = waiting()
    assert 10 < len(waits) < 60
    assert 0 < sum(not tag.url for tag in waits) == Tag.objects.filter(thing=None).count()
    assert Tag.objects.exclude(printed_at=None).count() > 200
