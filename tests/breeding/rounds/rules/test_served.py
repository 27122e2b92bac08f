"""Which females pollen could serve: receptive for about 30 days, best in the first 14 (J. Trop. Forest Sci.
12(4):635-642, 2000; one wild species); in bud, likely to open in the six to ten weeks that a refrigerator keeps pollen
(from memory)."""

import pytest
from django.db import connection
from django.test import Client
from django.test.utils import CaptureQueriesContext

from breeding.models import Spike
from breeding.rounds.books import Books
from breeding.rounds.rules.served import females_served
from breeding.rounds.tasks import Task, round_for, tasks_for
from nursery.links import thing_url
from tests.breeding.rounds.rows import DAY, before, next_of, spike
from tests.making import Nursery, today

MALE = spike(pk=1, clone_id=1, sex="male", stage="showing", open_by=before(4), last_look=before(1))


def female(number: int = 2, **facts):
    return spike(pk=number, **{"clone_id": number, "sex": "female"} | facts)


def flowers(number: int, opened: int, **facts):
    return female(number, stage="open", open_after=before(opened), open_by=before(opened), **facts)


def buds(number: int, found: int, seen: int, **facts):
    return female(
        number, stage="buds", found_first=before(found), found_last=before(found), open_after=before(seen), **facts
    )


def _said(*females) -> list[str]:
    return [one.words for one in females_served(MALE, Books(females=females), DAY)]


@pytest.mark.parametrize(
    ("row", "words"),
    [
        (flowers(2, 0), "receptive, best until Wed 29 Jul"),
        (flowers(2, 14), "receptive, best until Wed 15 Jul"),
        (flowers(2, 15), "receptive, until about Thu 30 Jul"),
        (flowers(2, 30), "receptive, until about Wed 15 Jul"),
        (flowers(2, 31), None),
        (flowers(2, 3, clone_id=1), None),  # its own clone, which is of the other sex by mistake
        (flowers(2, 3, quarantine="virus"), "receptive, best until Sun 26 Jul, in quarantine"),
        # Shipped: 28 to 49 days from the spike to its first flower, four in five.
        (buds(2, 0, 0), "opens about Wed 12 Aug to Wed 2 Sep"),
        (buds(2, 32, 32), "opens by about Sat 1 Aug"),
        (buds(2, 45, 20), "opens by about Sun 19 Jul"),
        (buds(2, 90, 20), "should be open by now"),
    ],
)
def test_when_she_can_be_pollinated(row, words):
    assert _said(row) == ([words] if words else [])


def test_a_bud_that_opens_after_the_pollen_is_past_its_best_is_left_out():
    """The middle of 28 to 49 days is 37, and 70 days are kept in a refrigerator: 33 days lie between."""
    unborn = [buds(2, -ahead, -ahead) for ahead in (33, 34)]
    assert [bool(_said(row)) for row in unborn] == [True, False]


def test_the_open_ones_come_first_and_of_those_what_closes_soonest():
    rows = [buds(2, 40, 20), flowers(3, 2), flowers(4, 20), buds(5, 10, 10)]
    assert [one.source.pk for one in females_served(MALE, Books(females=tuple(rows)), DAY)] == [4, 3, 2, 5]


def test_the_reason_says_how_many_and_where_there_is_none():
    told = next_of("pollen", MALE, books=Books(females=(flowers(3, 2), buds(4, 10, 10)))).tell(DAY)
    assert "; 2 females could use it; " in told.reason and len(told.serves) == 2
    none = next_of("pollen", MALE).tell(DAY)
    assert "; no female could use it in the 70 days that it keeps (from memory); " in none.reason


# --- through the books ---


def _takes(spike: Spike) -> Task:
    [found] = [task for task in round_for(today(), minutes=10_000).today if task.kind == "pollen"]
    [alone] = [task for task in tasks_for(Spike.objects.get(pk=spike.pk), today()).tasks if task.kind == "pollen"]
    assert found.serves == alone.serves, "the page of the spike says what the round says"
    return found


def _queries() -> int:
    with CaptureQueriesContext(
        connection,
    ) as asked:
        round_for(today(), minutes=10_000)
    return len(asked)


@pytest.mark.django_db
def test_the_round_names_them_with_links_and_asks_the_database_no_more_often(
    nursery: Nursery, as_grower: Client
) -> None:
    male = nursery.male(days_ago=8, seen="showing")
    first = nursery.female(nursery.clone("lowii", "anvil"), days_ago=3)
    before_many = _queries()
    others = [nursery.spike(seen="buds", sex="female", days_ago=12) for _ in range(4)]
    nursery.spike(days_ago=12)  # of a sex not known
    assert _queries() == before_many
    task = _takes(male)
    assert [one.url for one in task.serves] == [thing_url(one) for one in (first, *others)]
    assert (task.serves[0].name, len(task.serves_named), task.serves_more) == ("lowii anvil", 4, 1)
    html = as_grower.get("/?kind=pollen").content.decode()
    assert f'<a href="{thing_url(first)}">' in html and "and 1 more." in html
