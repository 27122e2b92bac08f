"""Search: by number, by name, by parent, and by anything else that people put into a box."""

import pytest
from django.db import connection
from django.http import HttpResponse
from django.test import Client
from django.test.utils import CaptureQueriesContext

from nursery.links import thing_url
from nursery.models import LivingThing
from nursery.records.numbers import blank_tags_make
from nursery.records.undo import undone
from nursery.site.search import MOST_FOUND
from nursery.templatetags.tepal import plate
from tests.making import Nursery, birth_of, tag_of


def _found(client: Client, q: str) -> set[str]:
    return _shown(client.get("/search/", {"q": q}))


def _shown(page: HttpResponse) -> set[str]:
    context = page.context
    lists = [*context["groups"], *([context["numbered"]] if context["numbered"] else [])]
    return {row.url for one in lists for row in one.rows}


def _is_found(client: Client, thing: LivingThing, *typed: str) -> bool:
    return all(thing_url(thing) in _found(client, q) for q in typed)


# --- by number ---


@pytest.mark.parametrize("written", ["{0}", "{1}", "00{0}", " {0}\n"])
def test_a_whole_number_leads_to_its_thing_at_once(nursery: Nursery, as_viewer: Client, written: str):
    number = tag_of(nursery.plant()).number
    response = as_viewer.get("/search/", {"q": written.format(number, plate(number))})
    assert response.status_code == 302 and response.url == f"/t/{number}/"


def test_a_number_without_its_check_digit_is_found_but_not_opened_unasked(nursery: Nursery, as_viewer: Client):
    plant = nursery.plant()
    short = str(tag_of(plant).number)[:-1]
    response = as_viewer.get("/search/", {"q": f"{short[:3]} {short[3:]}"})
    assert response.status_code == 200 and "If you left out the last digit" in response.text
    assert _found(as_viewer, short) == {thing_url(plant)}


def test_a_number_with_a_wrong_digit_says_so(nursery: Nursery, as_viewer: Client):
    number = tag_of(nursery.plant()).number
    response = as_viewer.get("/search/", {"q": str(number + 1)})
    assert "does not fit its last digit" in response.text and f'value="{number + 1}"' in response.text


def test_a_blank_tag_is_no_thing_to_find(nursery: Nursery, as_viewer: Client):
    [tag] = blank_tags_make(count=1)
    response = as_viewer.get("/search/", {"q": str(tag.number)})
    assert response.status_code == 200 and _shown(response) == set()


# --- by name ---


def test_a_plant_is_found_by_its_species_word_place_and_pot(nursery: Nursery, as_viewer: Client):
    bench = nursery.bench("Long bench", inside=nursery.house("Warm house"))
    plant = nursery.plant(nursery.clone("ampullaria", "Thimble"), place=bench, pot="13 cm")
    nursery.plant(nursery.clone("hamata", "ladle"))
    assert _is_found(as_viewer, plant, "ampullaria", "AMPUL", "thimble", "thimble ampullaria", "long bench", "13 cm")
    assert thing_url(plant) not in _found(as_viewer, "ampullaria ladle")


def test_capitals_do_not_matter_in_any_script(nursery: Nursery, as_viewer: Client):
    clone = nursery.clone("lowii", "Öland Ёлка")
    assert _is_found(as_viewer, clone, "öland", "ÖLAND", "ёлка", "ЁЛКА", "ölan Ёлк")


def test_a_clone_is_found_by_whom_it_came_from(nursery: Nursery, as_viewer: Client):
    clone = nursery.clone("lowii", origin="gift", source="the neighbour across the lane")
    assert _is_found(as_viewer, clone, "neighbour lane")


def test_a_cross_and_all_below_it_are_found_by_either_parent(nursery: Nursery, as_viewer: Client):
    male = nursery.male(nursery.clone("hamata", "tweed"))
    section = nursery.section(nursery.female(nursery.clone("lowii", "anvil")), lot=nursery.pollen([male]))
    pot = nursery.pot(nursery.seed(section))
    below = {thing_url(thing) for thing in (section, section.cross, pot.lot, pot)}
    for q in ("anvil", "tweed", "anvil × tweed", "tweed x ANVIL", "(lowii)"):
        assert below <= _found(as_viewer, q), q


def test_offspring_are_found_by_a_parent(nursery: Nursery, as_viewer: Client):
    mother = nursery.clone("bicalcarata", "corduroy")
    child = nursery.clone(word="saw", seed_parent=mother, pollen_parent=nursery.clone("lowii"))
    assert _is_found(as_viewer, child, "corduroy", "bicalcarata saw")


def test_mixed_pollen_is_found_once_by_each_possible_father(nursery: Nursery, as_viewer: Client):
    males = [nursery.male(nursery.clone("hamata", word)) for word in ("tweed", "ladle")]
    section = nursery.section(lot=nursery.pollen(males))
    assert _is_found(as_viewer, section.cross, "tweed", "ladle", "tweed ladle")
    groups = {one.title: one.rows for one in as_viewer.get("/search/?q=hamata").context["groups"]}
    assert len(groups["Crosses"]) == len(groups["Pollen"]) == 1


def test_pollen_and_seed_are_found_by_the_words_they_came_with(nursery: Nursery, as_viewer: Client):
    lot = nursery.seed_by_post(words="a lowii from the fair")
    assert _is_found(as_viewer, lot, "fair", "lowii fair")


def test_family_and_aim_of_a_cross_are_found(nursery: Nursery, as_viewer: Client):
    cross = nursery.cross(family="Striped Lids", aim="quicker growth")
    assert _is_found(as_viewer, cross, "striped", "quicker")


def test_places_are_found(nursery: Nursery, as_viewer: Client):
    bench = nursery.bench("Hanging rail", inside=nursery.house("Cool house"))
    assert _is_found(as_viewer, bench, "hanging", "cool rail")


# --- what else is typed ---


def test_nothing_typed_offers_the_boxes(as_viewer: Client):
    html = as_viewer.get("/search/").text
    assert 'name="q"' in html and 'name="number"' in html and "Nothing here has" not in html


@pytest.mark.parametrize(
    "q",
    [
        "zzzz",
        "×",
        "%",
        "_",
        "\\",
        "'\"; --",
        "<script>alert(1)</script>",
        "&lt;b&gt;",
        "{{ 7 }}{% now %}",
        "🌱🌱",
        "食虫植物",
        "עציץ",
        "\x00\x1b",
        "a" * 5000,
        " ".join("word" for _ in range(300)),
        ".*",
        "(((",
        "[é",
        "é\\",
    ],
)
def test_odd_input_finds_nothing_and_breaks_nothing(nursery: Nursery, as_viewer: Client, q: str):
    nursery.plant()
    response = as_viewer.get("/search/", {"q": q})
    assert response.status_code == 200 and _shown(response) == set()
    assert "<script>alert" not in response.text


def test_what_was_typed_stays_in_the_box_escaped(as_viewer: Client):
    html = as_viewer.get("/search/", {"q": '"><b>lowii'}).text
    assert 'value="&quot;&gt;&lt;b&gt;lowii"' in html and "<b>lowii" not in html


def test_what_was_undone_is_not_found(nursery: Nursery, as_viewer: Client):
    clone = nursery.clone("lowii", "anvil")
    undone(act=nursery.act(), target=birth_of(clone))
    assert _found(as_viewer, "anvil") == set()


def test_each_kind_shows_some_and_says_that_there_is_more(nursery: Nursery, as_viewer: Client):
    bench, clone = nursery.bench(), nursery.clone("lowii", "anvil")
    for _ in range(MOST_FOUND + 2):
        nursery.plant(clone, place=bench)
    [plants] = [one for one in as_viewer.get("/search/?q=anvil").context["groups"] if one.title.startswith("Plants")]
    assert len(plants.rows) == MOST_FOUND and "more words narrow it down" in plants.title


def test_a_stranger_finds_nothing(stranger: Client):
    response = stranger.get("/search/?q=lowii")
    assert response.status_code == 302 and response.url == "/sign-in/?next=%2Fsearch%2F%3Fq%3Dlowii"


def test_a_search_asks_as_often_for_many_as_for_few(nursery: Nursery, as_viewer: Client):
    nursery.pot(nursery.seed(nursery.section(nursery.female(nursery.clone("lowii")))))
    as_viewer.get("/search/?q=lowii")
    few = _queries(as_viewer)
    for _ in range(3):
        nursery.pot(nursery.seed(nursery.section(nursery.female(nursery.clone("lowii")))))
    assert _queries(as_viewer) == few <= 20


def _queries(client: Client) -> int:
    with CaptureQueriesContext(connection) as asked:
        assert client.get("/search/?q=lowii").status_code == 200
    return len(asked)
