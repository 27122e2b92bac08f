"""Tags by number: typed in any way, wrong, unknown, blank and bound."""

import re
import uuid

import pytest
from django.db import connection
from django.test import Client
from django.test.utils import CaptureQueriesContext

from nursery.damm import number_with_digit
from nursery.links import act_url, thing_url
from nursery.models import Act, Person, Tag
from nursery.records.numbers import blank_tags_make
from nursery.records.tags import tag_bound
from nursery.records.undo import undone
from nursery.templatetags.tepal import plate
from tests.making import Nursery, birth_of, tag_of

NEVER_MADE = number_with_digit(99_999)


def _blank() -> int:
    [tag] = blank_tags_make(count=1)
    return tag.number


# --- typed ---


@pytest.mark.parametrize("written", ["{0}", " {0} ", "{1}", "0{0}", "{0}\u00a0"])
def test_a_typed_number_leads_to_its_page(nursery: Nursery, as_grower: Client, written: str):
    number = tag_of(nursery.plant()).number
    response = as_grower.get("/tag/", {"number": written.format(number, plate(number))})
    assert response.status_code == 302 and response.url == f"/t/{number}/"
    assert as_grower.get(response.url).status_code == 200


def test_the_box_for_a_number_has_a_keypad_and_works_without_script(as_viewer: Client):
    html = as_viewer.get("/tag/").text
    assert re.search(r'<input class="box" id="number" name="number"[^>]+inputmode="numeric"[^>]+data-keypad', html)
    assert '<form class="form" method="get" action="/tag/">' in html


@pytest.mark.parametrize("address", ["/tag/?number={}", "/t/{}/"])
@pytest.mark.parametrize(
    "typed,why",
    [
        (str(NEVER_MADE), "was ever made here"),
        (str(NEVER_MADE + 1), "does not fit its last digit"),
        ("12a4", "digits only"),
        ("１２３４", "digits only"),
        ("9" * 16, "digits only"),
        ("<b>1", "digits only"),
        ("🌱", "digits only"),
    ],
)
def test_a_number_that_leads_nowhere_says_why_and_stays_in_the_box(as_grower: Client, address, typed: str, why: str):
    response = as_grower.get(address.format(typed))
    assert response.status_code == (404 if address.startswith("/t/") else 200)
    assert why in response.text and 'aria-invalid="true"' in response.text
    assert "<b>1" not in response.text
    assert response.context["typed"] == typed


def test_every_single_wrong_digit_is_told_from_a_number_never_made(nursery: Nursery, as_grower: Client):
    """Damm's digit catches each single wrong digit, so none of these can open another thing."""
    number = str(tag_of(nursery.plant()).number)
    for place, digit in enumerate(number):
        wrong = number[:place] + str((int(digit) + 1) % 10) + number[place + 1 :]
        assert "does not fit its last digit" in as_grower.get(f"/t/{wrong}/").text


def test_each_slip_is_refused_and_the_tag_that_was_meant_is_offered(nursery: Nursery, as_grower: Client):
    """All single digits and swaps of neighbours of a number, some in the box and some in the address."""
    plant = nursery.plant(nursery.clone("ampullaria", "thimble"))
    right = str(tag_of(plant).number)
    for wrong in _slips(right)[::7]:
        for address in (f"/tag/?number={wrong}", f"/search/?q={wrong}"):
            html = as_grower.get(address).text
            told = html[html.index("Did you mean") :]
            assert f'href="/t/{right}/"' in told and "thimble" in told, (wrong, address)
    blank = _blank()
    html = as_grower.get(f"/t/{_slips(str(blank))[0]}/").text
    assert "A blank tag" in html and f'href="/t/{blank}/"' in html
    assert "Did you mean" not in as_grower.get("/t/777777771/").text


def _slips(right: str) -> list[str]:
    digits = [right[:at] + digit + right[at + 1 :] for at in range(len(right)) for digit in "0123456789"]
    swaps = [right[:at] + right[at + 1] + right[at] + right[at + 2 :] for at in range(len(right) - 1)]
    return [slip for slip in (*digits, *swaps) if slip != right and not slip.startswith("0")]


# --- blank ---


def test_a_blank_tag_asks_what_it_is_on(nursery: Nursery, as_grower: Client):
    plant = nursery.plant()
    number = _blank()
    html = as_grower.get(f"/T/{number}").text
    assert "This tag is blank" in html and plate(number) in html
    assert f'action="{act_url(plant, "tag")}"' in html and f'name="number" value="{number}"' in html
    assert 'href="#grows-on"' in html and 'id="grows-on"' in html, "it stands below twenty others"
    for slug in ("plants", "pollen", "seed"):
        assert f'href="/{slug}/new/?tag={number}"' in html
        assert f'value="{number}"' in as_grower.get(f"/{slug}/new/?tag={number}").text


def test_a_blank_tag_tells_a_viewer_only_that_it_is_blank(nursery: Nursery, as_viewer: Client):
    nursery.plant()
    html = as_viewer.get(f"/t/{_blank()}/").text
    assert "It is on nothing yet." in html
    assert "/tag/" not in re.sub(r'action="/tag/"|href="/tag/"', "", html) and "/new/?tag" not in html


def test_one_tap_binds_a_blank_tag(nursery: Nursery, as_grower: Client):
    spike = nursery.spike()
    before, number = tag_of(spike).number, _blank()
    html = as_grower.get(f"/t/{number}/").text
    form = re.search(rf'action="{act_url(spike, "tag")}".*?</form>', html, re.DOTALL)[0]
    act_id = re.search(r'name="act_id" value="([^"]+)"', form)[1]
    for _ in range(2):  # a wet thumb taps twice
        response = as_grower.post(act_url(spike, "tag"), {"act_id": act_id, "number": number})
        assert response.status_code == 302 and response.url == thing_url(spike)
    assert Act.objects.filter(kind="tag_bound").count() == 1
    assert as_grower.get(f"/t/{number}/").context["thing"]["number"] == number
    assert Tag.objects.get(number=before).retired


@pytest.mark.parametrize(
    ("make", "act", "button"),
    [("plant", "spike", "Record the spike"), ("female", "pollinate", "Record the pollination")],
)
def test_a_blank_tag_is_for_a_new_spike_or_section(
    nursery: Nursery, as_grower: Client, make: str, act: str, button: str
):
    """By the number of what it grows on; the form opens with the tag in its box."""
    thing, number = getattr(nursery, make)(), _blank()
    answer = as_grower.get(f"/t/{number}/", {"on": plate(tag_of(thing).number)})
    assert (answer.status_code, answer.url) == (302, f"{act_url(thing, act)}?tag={number}")
    page = as_grower.get(answer.url).text
    assert re.search(rf'<input[^>]*name="tag" value="{number}"', page) and button in page


@pytest.mark.parametrize(
    ("typed", "said"),
    [
        ("", "Type the number of the plant or of the spike."),
        ("moss", "A tag number has digits only."),
        ("12", "does not fit its last digit"),
        ("pot", "This is the tag of a seed pot. Type the number of the plant or of the spike."),
        ("blank", "This tag is blank, too."),
    ],
)
def test_a_number_on_which_nothing_new_grows_is_refused_in_words(
    nursery: Nursery, as_grower: Client, typed: str, said: str
):
    numbers = {"pot": lambda: str(tag_of(nursery.pot()).number), "blank": lambda: str(_blank())}
    answer = as_grower.get(f"/t/{_blank()}/", {"on": numbers.get(typed, lambda: typed)()})
    assert answer.status_code == 200 and said in answer.text
    assert 'aria-invalid="true"' in answer.text


def test_a_viewer_is_led_to_no_form(nursery: Nursery, as_viewer: Client):
    answer = as_viewer.get(f"/t/{_blank()}/", {"on": str(tag_of(nursery.plant()).number)})
    assert answer.status_code == 200 and 'name="on"' not in answer.text


def test_it_says_that_the_old_tag_is_replaced(nursery: Nursery, as_grower: Client):
    spike, number = nursery.spike(), _blank()
    old = tag_of(spike).number
    assert "takes the place of the one that a thing has" in as_grower.get(f"/t/{number}/").text
    answer = as_grower.post(act_url(spike, "tag"), {"act_id": uuid.uuid4(), "number": number})
    assert f"In place of {plate(old)}, which still opens it when it is found" in as_grower.get(answer.url).text


def test_what_has_no_tag_in_hand_yet_comes_first(nursery: Nursery, as_grower: Client):
    bench = nursery.bench()
    first, second = nursery.plant(place=bench), nursery.plant(place=bench)
    nursery.record(tag_bound, thing=second, number=_blank())
    urls = [choice.url for choice, _ in as_grower.get(f"/t/{_blank()}/").context["choices"]]
    assert urls.index(act_url(first, "tag")) < urls.index(act_url(second, "tag"))
    assert urls[-1] == act_url(second, "tag")


def test_what_was_undone_or_has_no_tags_is_not_offered(nursery: Nursery, as_grower: Client):
    plant, spike = nursery.plant(), nursery.spike()
    undone(act=nursery.act(), target=birth_of(spike))
    urls = [choice.url for choice, _ in as_grower.get(f"/t/{_blank()}/").context["choices"]]
    assert act_url(spike, "tag") not in urls and act_url(plant.clone, "tag") not in urls
    assert act_url(plant, "tag") in urls


def test_the_thing_a_blank_tag_is_on_can_be_searched_for(nursery: Nursery, as_grower: Client):
    plant = nursery.plant(nursery.clone("ampullaria", "thimble"))
    nursery.plant(nursery.clone("hamata", "ladle"))
    number = _blank()
    choices = as_grower.get(f"/t/{number}/?q=THIMBLE").context["choices"]
    assert [choice.url for choice, _ in choices] == [act_url(plant, "tag")]
    assert "Nothing that can carry a tag has all of these words." in as_grower.get(f"/t/{number}/?q=zzz").text


def test_binding_asks_as_often_for_many_as_for_few(nursery: Nursery, as_grower: Client):
    number = _blank()
    nursery.pot()
    nursery.spike()
    as_grower.get(f"/t/{number}/")
    before = _queries(as_grower, number)
    nursery.pots(4)
    nursery.spike()
    assert _queries(as_grower, number) == before


def _queries(client: Client, number: int) -> int:
    with CaptureQueriesContext(connection) as asked:
        client.get(f"/t/{number}/")
    return len(asked)


def test_what_stands_where_the_last_tag_was_put_on_comes_first(nursery: Nursery, as_grower: Client, grower: Person):
    bench = nursery.bench("Long bench", inside=nursery.house("Warm house"))
    first, near, elsewhere = (nursery.plant(place=place) for place in (bench, bench, nursery.bench()))
    nursery.record(tag_bound, thing=first, number=_blank(), by=grower)
    page = as_grower.get(f"/t/{_blank()}/")
    assert "In Warm house, Long bench, then entered lately" in page.text
    urls = [choice.url for choice, _ in page.context["choices"]]
    assert urls[0] == f"/plants/{near.pk}/tag/" and f"/plants/{elsewhere.pk}/tag/" in urls[1:]


def test_putting_another_tag_on_asks_for_its_number_and_says_what_becomes_of_the_old_one(
    as_grower: Client, nursery: Nursery
):
    url = f"/plants/{nursery.plant().pk}/tag/"
    page = as_grower.get(url).text
    label = page[page.index("Number of the blank tag") :].partition("</label>")[0]
    assert "optional" not in label
    assert "The tags it has had go on opening it." in page
    empty = as_grower.post(url, {"act_id": uuid.uuid4(), "number": "", "day_said": "today"})
    assert empty.status_code == 422
    assert "Type the number on the tag." in empty.text
