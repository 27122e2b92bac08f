"""The page of every kind of thing: who sees what, at every stage, by its address and by its tag."""

import re
import uuid
from datetime import timedelta

import pytest
from django.test import Client
from django.utils import timezone

from breeding.records import pods, pots, routines, sowing
from nursery.days import Day
from nursery.links import act_url, thing_url
from nursery.models import Act, LivingThing, Tag
from nursery.records import registry
from nursery.records.core import NewAct
from nursery.records.flags import open_flags
from nursery.records.numbers import blank_tags_make
from nursery.records.remarks import remarked
from nursery.records.tags import tag_bound
from nursery.records.undo import undone
from nursery.records.watching import postponed, stopped
from nursery.site import pages
from nursery.site.cards import CARDS
from nursery.templatetags.tepal import plate
from tests.making import Nursery, birth_of, tag_of, today
from tests.site.things.samples import KINDS, STAGES, TAGGED

QUERIES = {
    **{"routines": 9, "crosses": 11, "pollen": 13, "sowings": 12, "pots": 14, "places": 32, "seed": 14, "sections": 15},
    **{"clones": 15, "plants": 18, "spikes": 20},
}
"""How often the page of each kind asks the database; twelve times is what we should like of a page that was scanned.

That of a place asks what the round asks: whatever is due there.
"""


@pytest.fixture(scope="module")
def things(kept: Nursery) -> dict[str, LivingThing]:
    """One of every kind, by its slug."""
    return {slug: make(kept) for slug, make in KINDS.items()}


@pytest.fixture(scope="module")
def staged(kept: Nursery) -> dict[str, LivingThing]:
    """One at every stage, by the name of the stage."""
    return {name: make(kept) for name, (make, _) in STAGES.items()}


def _addresses(thing: LivingThing) -> list[str]:
    number = tag_of(thing).number
    grouped = f"/t/{plate(number).replace(' ', '-')}/"
    return [thing_url(thing), f"/t/{number}/", f"/t/{number}", f"/T/{number}", f"/T/{number}/", grouped]


def _posts(html: str) -> list[str]:
    """Where the quick answers of a page are posted, without undoing, settling and signing out."""
    return re.findall(r'formaction="([^"]+)"', html)


def _read(client: Client, thing: LivingThing) -> str:
    """The page of a thing, which everybody with a name may read."""
    response = client.get(thing_url(thing))
    assert response.status_code == 200
    assert "So far" in response.text or "Female parent first." in response.text
    return response.text


@pytest.mark.parametrize("slug", KINDS)
def test_an_owner_reads_every_kind(things: dict, as_owner: Client, slug: str):
    _read(as_owner, things[slug])


@pytest.mark.parametrize("slug", KINDS)
def test_a_viewer_reads_every_kind_and_is_offered_nothing_to_record(things: dict, as_viewer: Client, slug: str):
    html = _read(as_viewer, things[slug])
    own_forms = [action for action in re.findall(r'action="([^"]+)"', html) if action not in {"/sign-out/", "/search/"}]
    assert own_forms == [] and _posts(html) == [] and 'name="act_id"' not in html


@pytest.mark.parametrize("slug", KINDS)
def test_every_quick_answer_and_link_of_what_a_grower_reads_leads_to_a_page_that_takes_it(
    things: dict, as_grower: Client, slug: str
):
    html = _read(as_grower, things[slug])
    linked = [one for one in re.findall(r'href="(/[a-z]+/\d+/[a-z]+/)"', html) if not one.startswith("/labels/")]
    for address in {*linked, *_posts(html)}:
        assert as_grower.get(address).status_code == 200, address
    assert linked


@pytest.mark.parametrize("slug", TAGGED)
def test_the_tag_opens_the_same_page_however_it_is_written(things: dict, as_grower: Client, slug: str):
    thing = things[slug]
    pages = [as_grower.get(address) for address in _addresses(thing)]
    assert len({page.context["thing"]["title"] for page in pages}) == 1
    assert all(plate(tag_of(thing).number) in page.text for page in pages)


@pytest.mark.parametrize("stage", STAGES)
def test_the_stage_is_told_in_words_and_each_quick_answer_is_taken_at_once(staged: dict, as_grower: Client, stage: str):
    """Posting any answer with nothing but its one value records it, or asks once where it contradicts the books."""
    page = as_grower.get(thing_url(staged[stage]))
    assert STAGES[stage][1] in page.context["thing"]["stage_words"]
    for button in re.findall(r'<button class="answer[^>]+>', page.text):
        name, value, url = (re.search(rf'{one}="([^"]*)"', button)[1] for one in ("name", "value", "formaction"))
        before = Act.objects.count()
        response = as_grower.post(url, {name: value})
        recorded = response.status_code == 302 and Act.objects.count() == before + 1
        assert recorded or (response.status_code == 422 and "<h2>Not recorded yet</h2>" in response.text), button


def test_the_answers_of_a_spike_are_equal_and_none_is_filled_in(nursery: Nursery, as_grower: Client):
    html = as_grower.get(thing_url(nursery.spike(days_ago=20))).text
    assert html.count('class="answer"') >= 7
    assert "button--fill" not in html and "checked" not in html
    for words in ("Still growing", "Female buds", "Male buds", "Flowers open", "Aborted", "Can’t tell", "Later"):
        assert words in html


def test_what_is_over_is_not_asked_again(nursery: Nursery, as_grower: Client):
    section = nursery.section(days_ago=150)
    nursery.record(pods.harvested, section=section)
    response = as_grower.get(thing_url(section))
    assert list(response.context["answers"]) == [] and "Harvest" in response.text


def test_a_sowing_goes_on_to_the_printing_of_its_pots_tags(nursery: Nursery, as_grower: Client):
    lot = nursery.seed()
    link = '<a href="/labels/?show=Seed+pot">Print tags of seed pots</a>'
    assert link not in as_grower.get(f"/seed/{lot.pk}/").content.decode()
    [pot] = nursery.pots(1, lot)
    assert link in as_grower.get(f"/seed/{lot.pk}/").content.decode()
    assert plate(pot.thing.tags.get().number) in as_grower.get("/labels/?show=Seed+pot").content.decode()


def test_a_thing_that_was_undone_says_once_that_it_was_a_mistake(nursery: Nursery, as_grower: Client):
    spike = nursery.spike()
    undone(act=nursery.act(), target=birth_of(spike))
    assert as_grower.get(thing_url(spike)).text.count("by mistake") == 1


def test_a_long_remark_is_told_in_the_story_and_begun_in_the_strip(nursery: Nursery, as_grower: Client):
    spike, words = nursery.spike(), "Leaning over to the left. " * 20
    sent = {"act_id": uuid.uuid4(), "words": words, "day_said": "today"}
    page = as_grower.post(act_url(spike, "remark"), sent, follow=True)
    assert len(page.context["undo"]["words"]) == 120 and page.context["undo"]["words"].endswith("…")
    assert words.strip() in page.text


def test_a_thing_that_was_undone_says_so(nursery: Nursery, as_grower: Client):
    spike = nursery.spike()
    undone(act=nursery.act(), target=birth_of(spike))
    response = as_grower.get(f"/t/{tag_of(spike).number}/")
    assert "What entered this was undone, so it does not count." in response.text
    assert _posts(response.text) == [] and "story__row--void" in response.text


def test_a_retired_tag_opens_its_thing_and_says_so(nursery: Nursery, as_grower: Client):
    plant = nursery.plant()
    old = tag_of(plant).number
    [blank] = blank_tags_make(count=1)
    nursery.record(tag_bound, thing=plant, number=blank.number)
    html = as_grower.get(f"/t/{old}/").text
    assert f"Tag {plate(old)} was replaced by another. It carries {plate(blank.number)} now." in html
    assert "was replaced" not in as_grower.get(f"/t/{blank.number}/").text


# --- what is not there ---


@pytest.mark.parametrize("address", ["/plants/999999/", "/clones/1/spike/", "/nothing/1/", "/spikes/0/", "/pots/x/"])
def test_what_is_not_there_is_not_found(as_grower: Client, address: str):
    assert as_grower.get(address).status_code == 404


def test_a_thing_is_found_only_under_its_own_kind(nursery: Nursery, as_grower: Client):
    assert as_grower.get(f"/spikes/{nursery.plant().pk}/").status_code == 404


@pytest.mark.parametrize("slug", KINDS)
def test_pages_of_things_only_answer_get(things: dict, as_grower: Client, slug: str):
    assert as_grower.post(thing_url(things[slug])).status_code == 405


# --- strangers ---


@pytest.mark.parametrize("slug", KINDS)
def test_a_stranger_is_sent_to_sign_in_and_back(things: dict, stranger: Client, slug: str):
    address = thing_url(things[slug])
    response = stranger.get(address)
    assert response.status_code == 302 and response.url.startswith("/sign-in/?next=")
    assert not response.content


def test_a_stranger_sees_the_same_for_every_number(nursery: Nursery, stranger: Client):
    """Known, blank, undone, replaced, never made, wrong digit, no number: byte for byte but for the token and the
    way back, so that nothing can be learned from a tag by trying numbers."""
    plant, spike = nursery.plant(), nursery.spike()
    old = tag_of(plant).number
    first, second = blank_tags_make(count=2)
    nursery.record(tag_bound, thing=plant, number=first.number)
    undone(act=nursery.act(), target=birth_of(spike))
    typed = [old, first.number, second.number, tag_of(spike).number, 999_999, old + 1, "abc", "12-34"]
    seen = {_without_what_may_differ(stranger, f"/t/{number}/") for number in typed}
    assert len(seen) == 1


def _without_what_may_differ(stranger: Client, address: str) -> tuple[int, str]:
    sent_on = stranger.get(address)
    page = stranger.get(sent_on.url)
    html = re.sub(r'name="csrfmiddlewaretoken" value="[^"]+"|"X-CSRFToken": "[^"]+"', "", page.text)
    html = html.replace(address.replace("/", "%2F"), "").replace(address, "")
    return sent_on.status_code, html


# --- the story ---


def test_the_story_is_told_newest_first_with_days_and_hands(nursery: Nursery, as_grower: Client, grower):
    pot = nursery.pot(days_ago=54)
    nursery.record(pots.pot_looked_at, pot=pot, seen="nothing", days_ago=20)
    nursery.record(pots.pot_looked_at, pot=pot, seen="first", days_ago=13, by=grower, note="One, at the rim.")
    story = as_grower.get(thing_url(pot)).context["story"]
    assert [row.words for row in story] == [
        "seedlings looked for: first up",
        "seedlings looked for: nothing yet",
        "sown: 1 pot",
    ]
    assert [row.who for row in story] == ["Tom Reed", "Ida Fern", "Ida Fern"]
    assert story[0].note == "One, at the rim."
    lot_url = thing_url(pot.lot)
    assert [row.url for row in story] == ["", "", lot_url]


def _remark(nursery: Nursery, by, days_ago: int, thing: LivingThing) -> Act:
    act = NewAct(nursery.act().id, by, recorded_at=timezone.now() - timedelta(days=days_ago))
    return remarked(act=act, thing=thing, words=f"By {by}.")


def _ways_to_change(client: Client, address: str) -> set[str]:
    return set(re.findall(r'"/acts/([0-9a-f-]+)/(?:undo|correct)/"', client.get(address).text))


def test_undo_stands_only_where_it_would_be_allowed(nursery: Nursery, as_grower: Client, as_owner: Client, grower):
    """Growers undo their own acts, and others' on the day they were recorded; owners undo all."""
    spike = nursery.spike()
    theirs, mine = (str(_remark(nursery, by, 7, spike).pk) for by in (nursery.by, grower))
    today_by_others = str(birth_of(spike).pk)
    change = f"{thing_url(spike)}?change=yes"
    assert _ways_to_change(as_grower, change) == {mine, today_by_others}
    assert _ways_to_change(as_owner, change) == {mine, theirs, today_by_others}


def test_older_acts_show_how_to_change_them_only_when_asked(nursery: Nursery, as_grower: Client, grower, as_viewer):
    spike = nursery.spike()
    _remark(nursery, grower, 7, spike)
    page = as_grower.get(thing_url(spike))
    assert _ways_to_change(as_grower, thing_url(spike)) == {str(birth_of(spike).pk)}
    assert page.context["change_url"] == "?change=yes#story" and "Undo or correct an entry" in page.text
    for address in (thing_url(spike), f"{thing_url(spike)}?change=yes"):
        assert _ways_to_change(as_viewer, address) == set()
        assert "Undo or correct" not in as_viewer.get(address).text


def test_what_was_undone_is_struck_and_kept(nursery: Nursery, as_grower: Client):
    section = nursery.section(days_ago=50)
    wrong = nursery.record(pods.take_read, section=section, swelling="none")
    undone(act=nursery.act(), target=wrong)
    [row] = [row for row in as_grower.get(thing_url(section)).context["story"] if row.void]
    assert row.words == "take read: none swelling" and row.undo_url == "" and row.correct_url == ""
    assert row.void_words.startswith("Undone ") and row.void_words.endswith(" by Ida Fern.")


def test_what_was_corrected_says_so(nursery: Nursery, as_grower: Client):
    section = nursery.section(days_ago=50)
    wrong = nursery.record(pods.take_read, section=section, swelling="none")
    nursery.record(pods.take_read, section=section, swelling="half", replaces=wrong)
    story = as_grower.get(thing_url(section)).context["story"]
    assert [(row.words, row.void) for row in story if "take" in row.words] == [
        ("take read: about half swelling", False),
        ("take read: none swelling", True),
    ]
    assert next(row for row in story if row.void).void_words.startswith("Corrected ")


def test_remarks_stand_apart(nursery: Nursery, as_grower: Client):
    plant = nursery.plant()
    nursery.record(remarked, thing=plant, words="Leans to the <b>east</b> 🌱.")
    response = as_grower.get(thing_url(plant))
    assert [row.words for row in response.context["remarks"]] == ["Leans to the <b>east</b> 🌱."]
    assert "Leans to the &lt;b&gt;east&lt;/b&gt; 🌱." in response.text and "<b>east" not in response.text
    assert all(row.kind != "remarked" for row in response.context["story"])


def test_a_long_story_is_cut_and_can_be_had_whole(nursery: Nursery, as_grower: Client):
    pot = nursery.pot(days_ago=300)
    for days in range(60):
        nursery.record(pots.pot_looked_at, pot=pot, seen="nothing", days_ago=days + 1)
    short = as_grower.get(thing_url(pot))
    whole = as_grower.get(short.context["story_more_url"])
    assert len(short.context["story"]) == 40 and len(whole.context["story"]) == 61
    assert whole.context["story_more_url"] == ""


def test_a_contradiction_stands_on_top_with_a_way_to_settle_it(nursery: Nursery, as_grower: Client, as_viewer: Client):
    section = nursery.section(days_ago=50, flowers=5)
    nursery.record(pods.take_read, section=section, swelling="most", pods=9)
    flag = open_flags().get()
    html = as_grower.get(thing_url(section)).text
    assert flag.sentence in html and f"/flags/{flag.pk}/settle/" in html
    seen_by_viewer = as_viewer.get(thing_url(section)).text
    assert flag.sentence in seen_by_viewer and "/settle/" not in seen_by_viewer


def test_later_and_stopped_are_told(nursery: Nursery, as_grower: Client):
    pot = nursery.pot(days_ago=9)
    until = today() + timedelta(days=7)
    nursery.record(postponed, thing=pot, until=until)
    assert "ask again" in as_grower.get(thing_url(pot)).context["thing"]["stage_words"]
    nursery.record(stopped, thing=pot)
    html = as_grower.get(thing_url(pot)).text
    assert "no longer watched" in html and act_url(pot, "resume") in html and act_url(pot, "stop") not in html


# --- what belongs to it ---


def test_each_thing_lists_what_belongs_to_it(nursery: Nursery, as_grower: Client):
    pot = nursery.pot(days_ago=30)
    lot, section = pot.lot, pot.lot.section
    spike, plant = section.spike, section.spike.plant
    chain = [(lot, pot), (section, lot), (spike, section), (plant, spike), (plant.clone, plant), (plant.place, plant)]
    for above, below in chain:
        urls = {row.url for one in as_grower.get(thing_url(above)).context["lists"] for row in one.rows}
        assert thing_url(below) in urls, f"{above} lists {below}"


def test_pollen_is_listed_with_its_spike_and_with_what_it_went_on(nursery: Nursery, as_grower: Client):
    male = nursery.male(days_ago=3)
    lot = nursery.pollen([male], days_ago=2)
    section = nursery.section(lot=lot)
    urls = {row.url for one in as_grower.get(thing_url(male)).context["lists"] for row in one.rows}
    assert thing_url(lot) in urls
    assert thing_url(section) in as_grower.get(thing_url(lot)).text


def test_the_card_of_a_pot_has_three_facts_from_its_looks(nursery: Nursery, as_grower: Client):
    pot = nursery.pot(days_ago=54)
    nursery.record(pots.pot_looked_at, pot=pot, seen="nothing", days_ago=20)
    nursery.record(pots.pot_looked_at, pot=pot, seen="few", counted=7, days_ago=13)
    facts = [(fact.value, fact.label) for fact in as_grower.get(thing_url(pot)).context["facts"]]
    assert facts[:2] == [("54", "days sown"), ("34 to 41", "day of first seedling")]
    assert facts[2][0] == "7, few"


# --- queries ---


def _filled(nursery: Nursery, slug: str, times: int) -> LivingThing:
    """A thing of this kind with so many things of every sort below it, and so many acts."""
    thing = KINDS[slug](nursery)
    for _ in range(times):
        _grow(nursery, thing)
        nursery.record(remarked, thing=thing, words="Fine.")
    return thing


def _grow(nursery: Nursery, thing: LivingThing) -> None:
    grow = {
        "place": lambda: (nursery.bench(inside=thing), nursery.plant(place=thing), nursery.pot(place=thing)),
        "clone": lambda: (nursery.plant(thing), nursery.section(nursery.female(thing))),
        "plant": lambda: nursery.spike(thing),
        "spike": lambda: (nursery.section(thing), nursery.pollen([thing])),
        "section": lambda: nursery.record(pods.harvested, section=thing, what="pods"),
        "pollenlot": lambda: nursery.section(lot=thing),
        "cross": lambda: nursery.pots(2, nursery.seed(nursery.section(thing_spike(nursery, thing), lot=_lot(thing)))),
        "seedlot": lambda: nursery.pots(2, thing),
        "seedpot": lambda: nursery.record(pots.pot_looked_at, pot=thing, seen="few"),
        "sowingsession": lambda: nursery.record(sowing.sowing_changed, session=thing, medium="milled moss"),
        "routine": lambda: nursery.record(routines.routine_done, routine=thing),
    }
    grow[thing.kind]()


def thing_spike(nursery: Nursery, cross):
    return nursery.female(cross.seed_parent)


def _lot(cross):
    return cross.pollen_parent.pollen_lots.first()


@pytest.mark.parametrize("slug", KINDS)
def test_a_page_asks_as_often_for_many_as_for_few(
    nursery: Nursery, as_grower: Client, django_assert_max_num_queries, slug: str
):
    few, many = _filled(nursery, slug, 1), _filled(nursery, slug, 6)
    as_grower.get("/more/")  # the first page of all makes the house
    counts = []
    for thing in (few, many):
        address = f"/t/{tag_of(thing).number}/" if Tag.objects.filter(thing_id=thing.pk).exists() else thing_url(thing)
        with django_assert_max_num_queries(QUERIES[slug]) as asked:
            assert as_grower.get(address).status_code == 200
        counts.append(len(asked))
    assert counts[0] == counts[1]


def test_days_of_which_the_ends_are_known_are_told_by_both(nursery: Nursery, as_viewer: Client) -> None:
    year = today().year - 1
    lot = nursery.seed(nursery.section(days_ago=800), day=Day.month(year, 3))
    pot = nursery.pot(lot, day=Day.month(year, 4))
    assert f"1 Mar {year} to 31 Mar {year}" in as_viewer.get(thing_url(lot)).text
    assert f"1 Apr {year} to 30 Apr {year}" in as_viewer.get(thing_url(pot)).text


def test_every_kind_of_thing_has_a_card_or_a_story():

    assert set(CARDS) | {"cross"} == set(registry.thing_kinds())


def test_every_slug_that_cards_link_to_is_a_page_of_acts():
    assert {page.slug for page in pages.ALL} >= {"remark", "later", "stop", "resume", "tag"}


def test_what_few_days_need_is_folded(nursery: Nursery, as_grower: Client) -> None:
    plant = nursery.plant()
    shown = as_grower.get(f"/plants/{plant.pk}/").context
    assert [link.label for link in shown["acts"]] == [
        *("Spike found", "Cutting taken", "Move", "It is gone", "Quarantine", "Take a photo", "Remark")
    ]
    assert [link.label for link in shown["rare_acts"]] == [
        *("Sample sent", "Result of a sample", "Put another tag on", "Its tag was swapped", "Print its tag")
    ]
