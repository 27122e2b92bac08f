"""Correct, sent as it opens, changes nothing: the same facts, things and day, and nothing is flagged."""

import uuid
from collections.abc import Callable, Iterator
from datetime import timedelta
from typing import Any

import pytest
from django.test import Client
from django.utils import timezone

from breeding.models import Spike
from nursery.days import Day
from nursery.models import Act, LivingThing
from nursery.records import registry
from nursery.records.voiding import things_of
from nursery.site import pages
from tests.every_act import CASES as EVERY_ACT
from tests.keeping import undone_at_the_end
from tests.making import Nursery
from tests.site.acts.every_page import CASES, Case, own_pollen
from tests.site.acts.posting import form_on

pytestmark = pytest.mark.django_db


def _day(days: int) -> str:
    return (timezone.localdate() - timedelta(days=days)).isoformat()


def _other_male(nursery: Nursery) -> int:
    """In flower, of the clone of the male whose page it is: that one was made last."""
    spike = Spike.objects.latest("pk")
    return nursery.male(spike.plant.clone).pk


MALE: dict[str, Callable[[Nursery], LivingThing]] = {"collect": lambda nursery: nursery.male(days_ago=9)}

FULL: dict[tuple[str | None, str], Callable[[Nursery], dict[str, Any]]] = {
    ("plant", "spike"): lambda _: {"seen": "open", "sex": "male", "sex_from": "flowers", "position": "second point"},
    ("clone", "plant"): lambda n: {"pot": "9 cm", "place": n.bench().pk},
    ("spike", "collect"): lambda n: {"storage": "freezer", "also": [_other_male(n)]},
    ("spike", "pollinate"): lambda n: {
        "pollen": f"lot:{n.pollen(days_ago=6).pk}",
        "tie": "red wool",
        "size": "25",
        "flowers": 20,
        "covered_before": "yes",
        "covered_after": "no",
    },
    ("section", "dab"): lambda n: {"pollen": own_pollen(n), "covered_before": "no"},
    ("section", "take"): lambda _: {"swelling": "half", "brown": "some", "pods": 4},
    ("section", "pods"): lambda _: {"seen": "split", "extent": "all", "bagged": "yes", "pods_left": 0},
    ("section", "harvest"): lambda _: {"what": "section", "pods": 3, "pods_open": 1},
    ("seedlot", "clean"): lambda _: {"seeds": 300, "estimate_from": "weighed", "filled_percent": 80},
    ("seedlot", "sow"): lambda n: {
        "pots": 2,
        "pods": 1,
        "seeds": 60,
        "place": n.bench().pk,
        "all_of_it": "on",
        "pot_size": "7 cm",
        "medium": "moss, steamed",
    },
    ("seedpot", "look"): lambda _: {"seen": "few", "counted": 7},
    ("seedpot", "split"): lambda n: {
        "pots": 3,
        "seedlings": 12,
        "extent": "all",
        "place": n.bench().pk,
        "pot_size": "7 cm",
        "medium": "moss, steamed",
    },
    ("seedpot", "sown"): lambda _: {"seeds": 17, "pods": 1, "all_of_it": "on"},
    ("seedpot", "clear"): lambda _: {"why": "other", "why_words": "the cat sat in it"},
    ("sowingsession", "change"): lambda _: {"sterilised": "other", "sterilised_words": "left in the sun"},
    ("seedpot", "loss"): lambda _: {"lost": 2, "why": "gnats"},
    (None, "clones"): lambda n: {
        "designation": "ladle",
        "seed_parent": n.clone().pk,
        "pollen_parent": n.clone().pk,
        "origin": "gift",
        "source": "a friend",
        "document": "a letter",
        "words_only": "on",
    },
    (None, "places"): lambda n: {"name": "Ledge", "size": "bench", "inside": n.house().pk, "order": 7},
    (None, "pollen"): lambda n: {"clone": n.clone().pk, "words": "from a friend", "storage": "freezer"},
    (None, "seed"): lambda n: {
        "seed_parent": n.clone().pk,
        "pollen_parent": n.clone("hamata").pk,
        "words": "from the letter",
        "seeds": 90,
        "storage": "refrigerator",
    },
    (None, "crosses"): lambda n: {
        "seed_parent": n.clone().pk,
        "pollen_parent": n.clone("hamata").pk,
        "wanted": 40,
        "aim": "hairy leaves",
        "family": "kitchen",
    },
    ("routine", "change"): lambda n: {
        "words": "feed",
        "how": "weeks",
        "weeks": 3,
        "weekdays": ["MO"],
        "place": n.bench().pk,
        "starts": _day(3),
    },
    (None, "routines"): lambda n: {"words": "clean", "how": "monthly", "month_day": "-1", "place": n.bench().pk},
}
"""Every field filled, where the shared values leave some empty."""


def _row(model: Any, pk: Any) -> dict[str, Any]:
    row = model.objects.filter(pk=pk).values().get()
    row.pop("act_id", None)
    return row


def _told(act: Act) -> dict[str, Any]:
    """All that an act says and does: its day, words, details, and the columns of what it is about."""
    act.refresh_from_db()
    detail = registry.act_kind(act.kind).detail
    things = things_of(act)
    return {
        "day": (act.day_first, act.day_last, act.said, act.at),
        "note": act.note,
        "details": _row(detail, act.pk) if detail else None,
        "about": [thing.pk for thing in things],
        "things": {thing.pk: _columns(thing) for thing in things},
    }


def _columns(thing: LivingThing) -> dict[str, Any]:
    columns = _row(type(thing), thing.pk)
    if thing.kind == "pollenlot":
        columns["candidates"] = sorted(thing.candidates.values_list("pk", flat=True))
    return columns


def _corrected_unchanged(act: Act, client: Client) -> Act:
    url = f"/acts/{act.pk}/correct/"
    opened = client.get(url)
    assert opened.status_code == 200
    values = form_on(opened.content.decode())
    answer = client.post(url, values)
    assert answer.status_code == 302, (answer.context["form"].errors, answer.context["objections"])
    return Act.objects.get(pk=values["act_id"][0])


DAYS = {
    "today": {},
    "week": {"day_said": "week", "day_on": _day(1)},
    "month": {"day_said": "month", "day_on": _day(0)},
}


@pytest.fixture(scope="module", params=CASES, ids=str)
def asked(request: pytest.FixtureRequest, kept: Nursery) -> Iterator[tuple[str, dict[str, Any]]]:
    """The address and values of every page in turn, with a thing made once for all days."""
    case = request.param
    with undone_at_the_end():
        nursery = kept.again()
        url = _url(case, nursery)
        yield url, case.values(nursery) | FULL.get((case.page.on, case.page.slug), lambda _: {})(nursery)


@pytest.mark.parametrize("day", DAYS)
def test_the_form_of_every_page(asked: tuple[str, dict[str, Any]], day: str, as_owner: Client):
    url, values = asked
    act_id = uuid.uuid4()
    told = values | {"act_id": act_id, "note": "in the rain", "anyway": "yes", "objections_seen": []}
    answer = as_owner.post(url, told | DAYS[day])
    assert answer.status_code == 302, (answer.context["form"].errors, answer.context["objections"])
    act = Act.objects.get(pk=act_id)
    before = _told(act)
    again = _corrected_unchanged(act, as_owner)
    assert again.replaces == act
    assert _told(again) == before
    assert not again.flags.exclude(code__in=act.flags.values("code")).exists()


def _url(case: Case, nursery: Nursery) -> str:
    if case.page.slug in MALE:
        return f"/spikes/{MALE[case.page.slug](nursery).pk}/{case.page.slug}/"
    return case.url(nursery)


@pytest.mark.parametrize("kind", sorted(pages.CORRECTABLE & set(EVERY_ACT)))
def test_every_kind_of_act_told_of_a_day_not_known(kind: str, nursery: Nursery, as_owner: Client):
    case = EVERY_ACT[kind]
    act = nursery.record(case.record, **case.facts(nursery), day=Day.unknown(), note="in the rain")
    before = _told(act)
    again = _corrected_unchanged(act, as_owner)
    assert _told(again) == before
    assert not again.flags.exclude(code__in=act.flags.values("code")).exists()
