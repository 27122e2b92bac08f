"""How long steps take: shown with their source, changed by owners, put back to what is shipped."""

from datetime import date

import pytest
from django.test import Client

from breeding.models import Expectation, Section
from breeding.records.expectations import facts_of, shipped_facts
from breeding.records.pods import pods_looked_at
from breeding.rounds.tasks import tasks_for
from breeding.science.shipped import SHIPPED
from breeding.words.risk import risk_words
from tests.making import Nursery, today

LIST, NEW = "/office/timings/", "/office/timings/new/"


def _payload(**changes: object) -> dict[str, object]:
    return {
        "low": 30,
        "high": 60,
        "grace_plain": 3,
        "grace_bagged": 4,
        "risk": "0.01",
        "longest_gap": 9,
        "source": "Our own log.",
        "strength": "own",
        "note": "",
    } | changes


def _common(step: str) -> Expectation:
    return Expectation.objects.get(step=step, taxon=None)


# --- what is shown ---


def test_every_step_is_listed_with_its_source_and_how_sure_it_is(as_viewer: Client) -> None:
    rows = as_viewer.get(LIST).context["rows"]
    assert [row["cells"][0]["text"] for row in rows] == [step.words for step in SHIPPED]
    assert [row["cells"][7]["text"] for row in rows] == [step.source for step in SHIPPED]
    ripe = [(one["label"], one["text"]) for one in rows[3]["cells"][:7]]
    # shared figures of the trade: 80 to 240 days, 6 of grace, about 21 in a bag; from memory, as the source says.
    assert ripe == [
        ("Step", "pollination to the first ripe pod"),
        ("Window, days", "80 to 240"),
        ("Middle, days", 139),  # the geometric mean: sqrt(80 * 240) = 138.56
        ("Learned here, days", "nothing yet"),
        ("Grace, days", "6, 21 in a bag"),
        ("Risk", "about one in two hundred"),
        ("Longest gap, days", 28),
    ]
    assert rows[3]["cells"][7]["sub"] == "from memory, unchecked"


def test_everybody_opens_a_step_and_only_owners_find_the_way_to_change_it(as_owner: Client, as_viewer: Client) -> None:
    page = as_viewer.get(LIST).context["rows"][0]["url"]
    assert page == f"{LIST}step/spike_open/"
    links = [f'href="{LIST}{_common("spike_open").pk}/"' in client.get(page).text for client in (as_owner, as_viewer)]
    assert links == [True, False]


@pytest.mark.parametrize(
    ("risk", "words"),
    [
        (0.5, "about one in three"),
        (0.2, "about one in five"),
        (0.1, "about one in ten"),
        (0.05, "about one in twenty"),
        (0.02, "about one in fifty"),
        (0.01, "about one in a hundred"),
        (0.004, "about one in two hundred"),
        (0.002, "about one in five hundred"),
        (0.001, "about one in a thousand"),
        (0.00001, "about one in 100,000"),
    ],
)
def test_risk_in_plain_words(risk: float, words: str) -> None:
    assert risk_words(risk) == words


# --- changing ---


def test_an_owner_changes_a_timing(as_owner: Client) -> None:
    row = _common("take")
    assert as_owner.post(f"{LIST}{row.pk}/", _payload())["Location"] == LIST
    row.refresh_from_db()
    assert (row.low, row.high, row.grace_plain, row.grace_bagged, row.risk, row.longest_gap) == (30, 60, 3, 4, 0.01, 9)
    assert (row.source, row.strength) == ("Our own log.", "own")
    assert "our own log or judgement" in as_owner.get(LIST).content.decode()


def test_the_form_stands_at_what_is_on_record(as_owner: Client) -> None:
    row = _common("ripe")
    form = as_owner.get(f"{LIST}{row.pk}/").context["form"]
    assert (form["low"].value(), form["high"].value(), form["risk"].value()) == (80, 240, 0.005)
    assert as_owner.post(f"{LIST}{row.pk}/", {one.name: one.value() for one in form}).status_code == 302
    row.refresh_from_db()
    assert facts_of(row) == shipped_facts("ripe")


@pytest.mark.parametrize(
    ("changes", "field", "sentence"),
    [
        ({"low": ""}, "low", "Give a number from 1 to 3650."),
        ({"low": "soon"}, "low", "Write a whole number of days."),
        ({"low": "3.5"}, "low", "Write a whole number of days."),
        ({"low": 0}, "low", "Give a number from 1 to 3650."),
        ({"high": 10**30}, "high", "Give a number from 2 to 3650."),
        ({"low": 60}, "high", "The window must close after it opens. Give more days here, or fewer above."),
        ({"grace_plain": -1}, "grace_plain", "Give a number from 0 to 366."),
        ({"longest_gap": 0}, "longest_gap", "Give a number from 1 to 366."),
        ({"risk": "2"}, "risk", "What was chosen is not offered here, or not any more. Choose again."),
        ({"risk": "nan"}, "risk", "What was chosen is not offered here, or not any more. Choose again."),
        ({"source": ""}, "source", "Write something here."),
        ({"source": "s" * 301}, "source", "Write at most 300 characters; these are 301."),
        ({"strength": "Z"}, "strength", "What was chosen is not offered here, or not any more. Choose again."),
    ],
)
def test_what_cannot_be_is_said_beside_its_field(as_owner: Client, changes: dict, field: str, sentence: str) -> None:
    row = _common("take")
    answer = as_owner.post(f"{LIST}{row.pk}/", _payload(**changes))
    assert (answer.status_code, answer.context["form"].errors[field]) == (422, [sentence])
    row.refresh_from_db()
    assert facts_of(row) == shipped_facts("take")


# --- for one taxon ---


def test_one_taxon_gets_a_timing_of_its_own(as_owner: Client, nursery: Nursery) -> None:
    hamata = nursery.taxon("hamata")
    as_owner.post(NEW, _payload(step="ripe", taxon=hamata.pk))
    assert Expectation.objects.get(step="ripe", taxon=hamata).low == 30
    assert _common("ripe").low == 80
    words = [row["cells"][0]["sub"] for row in as_owner.get(LIST).context["rows"]]
    assert words[3:5] == ["all taxa", "Nepenthes hamata"]


def test_the_same_step_and_taxon_twice_is_refused(as_owner: Client, nursery: Nursery) -> None:
    sent = _payload(step="ripe", taxon=nursery.taxon("hamata").pk)
    as_owner.post(NEW, sent)
    answer = as_owner.post(NEW, sent)
    assert answer.context["form"].non_field_errors() == ["This step already has a timing for this taxon."]


@pytest.mark.parametrize(
    ("changes", "field", "sentence"),
    [
        ({"taxon": ""}, "taxon", "Choose a taxon."),
        ({"taxon": "999999999999999999999"}, "taxon", "This taxon is not listed. Choose another."),
        ({"step": "moon"}, "step", "What was chosen is not offered here, or not any more. Choose again."),
    ],
)
def test_an_unknown_step_or_taxon_is_refused(as_owner: Client, changes: dict, field: str, sentence: str) -> None:
    answer = as_owner.post(NEW, _payload(**({"step": "ripe"} | changes)))
    assert answer.context["form"].errors[field] == [sentence]


# --- back to what is shipped ---


def test_a_common_timing_goes_back_to_what_is_shipped(as_owner: Client) -> None:
    row = _common("take")
    as_owner.post(f"{LIST}{row.pk}/", _payload())
    assert "Back to what is shipped" in as_owner.get(f"{LIST}{row.pk}/").content.decode()
    as_owner.post(f"{LIST}{row.pk}/reset/")
    row.refresh_from_db()
    assert facts_of(row) == shipped_facts("take")
    assert "Back to what is shipped" not in as_owner.get(f"{LIST}{row.pk}/").content.decode()


def test_a_taxons_own_timing_is_taken_out(as_owner: Client, nursery: Nursery) -> None:
    as_owner.post(NEW, _payload(step="ripe", taxon=nursery.taxon("hamata").pk))
    own = Expectation.objects.get(step="ripe", taxon__isnull=False)
    as_owner.post(f"{LIST}{own.pk}/reset/")
    assert list(Expectation.objects.filter(step="ripe")) == [_common("ripe")]
    assert facts_of(_common("ripe")) == shipped_facts("ripe")


def test_many_ask_no_more_than_few(as_viewer: Client, nursery: Nursery, django_assert_num_queries) -> None:
    as_viewer.get(LIST)
    with django_assert_num_queries(5):
        as_viewer.get(LIST)
    for epithet in ("hamata", "lowii", "glabrata"):
        Expectation.objects.create(step="ripe", taxon=nursery.taxon(epithet), **vars(shipped_facts("ripe")))
    with django_assert_num_queries(5):
        as_viewer.get(LIST)


# --- what may be lost ---

RISKS = {"pods": "0.005", "spikes": "0.1", "pots": "0.05"}


def test_what_may_be_lost_is_told_in_plain_words(as_viewer: Client) -> None:
    told = as_viewer.get(LIST).context["risks"]
    assert told[0] == "Pods that open and drop their seed: about one pod in two hundred."
    assert told[2] == "Pots whose first seedlings are missed: about one pot in ten."


def test_a_choice_sets_the_number_in_every_timing_of_its_step(as_owner: Client, nursery: Nursery) -> None:
    as_owner.post(NEW, _payload(step="ripe", taxon=nursery.taxon().pk))
    assert as_owner.post(f"{LIST}risk/", RISKS)["Location"] == LIST
    assert set(Expectation.objects.filter(step="ripe").values_list("risk", flat=True)) == {0.005}
    assert (_common("spike_open").risk, _common("spike_over").risk) == (0.1, 0.2)
    assert {_common("germination").risk, _common("germination_old").risk} == {0.05}
    page = as_owner.get(LIST).text
    assert '<option value="0.005" selected>about one pod in two hundred</option>' in page


def test_more_risk_for_pods_means_later_looks(as_owner: Client, nursery: Nursery) -> None:
    section = nursery.section(days_ago=100)
    nursery.record(pods_looked_at, section=section, seen="green")
    before = _next_look(section)
    as_owner.post(f"{LIST}risk/", RISKS | {"pods": "0.1"})
    assert _next_look(section) > before


def _next_look(section: Section) -> date:
    return tasks_for(Section.objects.get(pk=section.pk), today()).tasks[0].due


@pytest.mark.parametrize(
    ("nasty", "sentence"),
    [
        ("", "Choose how much may be lost."),
        ("0", "Choose one of the shares listed."),
        ("<b>all</b>", "Choose one of the shares listed."),
        ("🌱", "Choose one of the shares listed."),
        ("9" * 5000, "Choose one of the shares listed."),
    ],
)
def test_a_share_that_is_not_listed_is_refused_and_nothing_is_changed(
    as_owner: Client, nasty: str, sentence: str
) -> None:
    answer = as_owner.post(f"{LIST}risk/", RISKS | {"pots": nasty})
    assert (answer.status_code, answer.context["risk_form"].errors["pots"]) == (422, [sentence])
    assert _common("ripe").risk == shipped_facts("ripe").risk
