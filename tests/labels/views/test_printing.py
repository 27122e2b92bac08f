import re

import pytest

from labels.codes import tag_url
from nursery.models import House, Tag
from nursery.records.numbers import blank_tags_make
from nursery.templatetags.tepal import plate
from tests.labels.cast import ROLL, SHEET
from tests.labels.reading import Drawn, decoded
from tests.making import tag_of

pytestmark = pytest.mark.django_db

WRITES = ("/labels/sheet/", "/labels/sheet/pdf/", "/labels/sheet/right/")


@pytest.fixture
def numbers(nursery) -> list[int]:
    """Three houses whose tags were never printed."""
    return [tag_of(nursery.house()).number for _ in range(3)]


@pytest.fixture
def choice(stocks, numbers):
    """What the form sends; a test changes what it is about."""
    first = f"first_{stocks['sheet'].pk}"
    sent = {"numbers": numbers, "stock": stocks["sheet"].pk, first: "1", "copies": "1"}
    return lambda **changes: sent | {first if name == "first" else name: value for name, value in changes.items()}


def unprinted() -> set[int]:
    return set(Tag.objects.filter(printed_at=None).values_list("number", flat=True))


def test_the_sheet_is_shown_before_it_is_printed(as_grower, choice, numbers):
    answer = as_grower.post("/labels/sheet/", choice())
    page = answer.content.decode()
    assert answer.status_code == 200
    assert "<h1>3 labels</h1>" in page
    assert "3 labels on 1 sheet of “A4 sheet of 24, 63.5 × 33.9 mm”." in page
    assert set(numbers) <= unprinted()


def test_the_pdf_holds_what_was_chosen_and_every_code_opens_its_thing(as_grower, choice, numbers):
    answer = as_grower.post("/labels/sheet/pdf/", choice(save="yes"))
    assert answer["Content-Type"] == "application/pdf"
    assert answer["Content-Disposition"].startswith('attachment; filename="labels-')
    opened = as_grower.post("/labels/sheet/pdf/", choice())
    assert opened["Content-Disposition"].startswith("inline; filename=")
    assert int(opened["Content-Length"]) == len(opened.getvalue())
    drawn = Drawn(answer.getvalue(), SHEET)
    read = [decoded(drawn.label(position, dpi=300)) for position in range(3)]
    assert read == [{tag_url("https://tags.example", number)} for number in numbers]
    assert set(numbers) <= unprinted()


def test_a_roll_gives_a_page_for_each(as_grower, choice, stocks, numbers):
    answer = as_grower.post("/labels/sheet/pdf/", choice(stock=stocks["roll"].pk))
    drawn = Drawn(answer.getvalue(), ROLL)
    assert decoded(drawn.page(2, dpi=203)) == {tag_url("https://tags.example", numbers[2])}


def test_copies_and_the_first_free_label_are_kept_to(as_grower, choice, numbers):
    answer = as_grower.post("/labels/sheet/pdf/", choice(numbers=numbers[:1], first="24", copies="2"))
    drawn = Drawn(answer.getvalue(), SHEET)
    for position, page in ((23, 0), (0, 1)):
        read = decoded(drawn.label(position, dpi=300, page=page))
        assert read == {tag_url("https://tags.example", numbers[0])}


def test_only_the_word_that_they_came_out_right_marks_them(as_grower, numbers, stocks):
    sent = {"numbers": numbers[:2], "stock": stocks["sheet"].pk}
    answer = as_grower.post("/labels/sheet/right/", sent)
    assert (answer.status_code, answer.url) == (302, f"/labels/?stock={stocks['sheet'].pk}")
    assert unprinted() & set(numbers) == {numbers[2]}
    assert "2 tags are marked as printed." in as_grower.get(answer.url).content.decode()


def test_saying_so_twice_changes_nothing_more(as_grower, numbers, stocks):
    for _ in range(2):
        as_grower.post("/labels/sheet/right/", {"numbers": numbers})
    assert not unprinted() & set(numbers)


def test_nothing_ticked_marks_nothing(as_grower, numbers, stocks):
    answer = as_grower.post("/labels/sheet/right/", {}, follow=True)
    assert "Nothing was ticked, so these labels still wait to be printed." in answer.content.decode()
    assert set(numbers) <= unprinted()


REFUSED = [
    ({"numbers": []}, "No label was chosen; tick at least one."),
    ({"numbers": ["²3"]}, "One of the ticks is no tag number. Load the page again."),
    ({"numbers": ["<b>"]}, "One of the ticks is no tag number. Load the page again."),
    ({"numbers": ["9" * 30]}, "One of the ticks is no tag number. Load the page again."),
    ({"numbers": ["999"]}, "None of these tags was ever made here. Load the page again."),
    ({"first": "25"}, "Give a number from 1 to 24."),
    ({"first": "0"}, "Give a number from 1 to 24."),
    ({"first": "one"}, "Write a whole number."),
    ({"first": "9" * 400}, "Give a number from 1 to 24."),
    ({"copies": "5"}, "Give a number from 1 to 4."),
    ({"stock": "", "on_place": "999999"}, "This stock is not there any more. Choose another."),
    ({"stock": "<script>"}, "This stock is not there any more. Choose another."),
    ({"stock": "999999"}, "This stock is not there any more. Choose another."),
]


@pytest.mark.parametrize("where", WRITES[:2])
@pytest.mark.parametrize(("changes", "sentence"), REFUSED, ids=[str(changes)[:40] for changes, _ in REFUSED])
def test_a_choice_that_cannot_be_comes_back_with_a_sentence(as_grower, choice, where, changes, sentence):
    answer = as_grower.post(where, choice(**changes))
    page = answer.content.decode()
    assert answer.status_code == 422
    assert sentence in page
    assert "<script>" not in page.replace("<script src", "")


def test_a_refused_choice_keeps_its_ticks(as_grower, choice, numbers):
    page = as_grower.post("/labels/sheet/", choice(numbers=numbers[:1], first="25")).content.decode()
    assert f'value="{numbers[0]}" checked' in page
    assert f'value="{numbers[1]}">' in page


def test_too_many_labels_are_refused(as_grower, choice):
    numbers = [tag.number for count in (500, 1) for tag in blank_tags_make(count=count)]
    page = as_grower.post("/labels/sheet/", choice(numbers=numbers, copies="4")).content.decode()
    assert "That is more than 2000 labels; print them in two goes." in page


def test_an_address_that_cannot_be_printed_is_refused_with_who_mends_it(as_grower, choice):
    House.objects.update(public_address="https://tags.example/tepal")
    answer = as_grower.post("/labels/sheet/pdf/", choice())
    assert answer.status_code == 422
    assert (
        "The public address must end with the host name; it is “https://tags.example/tepal”." in answer.content.decode()
    )


def test_what_does_not_fit_and_what_cannot_be_shown_is_told_before_paper_is_wasted(as_grower, stocks, nursery):
    lots = [nursery.seed_by_post(words="茶 and " + "long words " * 10) for _ in range(7)]
    numbers = [tag_of(lot).number for lot in lots]
    sent = {"numbers": numbers, "stock": stocks["roll"].pk, "copies": "2"}
    page = as_grower.post("/labels/sheet/", sent).content.decode()
    assert "The typeface of labels cannot show: 茶 (each prints as a box)." in page
    told = f"long words” on {', '.join(plate(number) for number in numbers[:5])} and 2 more."
    assert told in page
    assert page[page.index("Not all words fit") : page.index("Get the PDF")].count("<li>") == 1


@pytest.mark.parametrize("where", WRITES)
def test_a_viewer_may_not_print(as_viewer, choice, numbers, where):
    assert as_viewer.post(where, choice()).status_code == 403
    assert set(numbers) <= unprinted()


@pytest.mark.parametrize("where", WRITES)
def test_a_stranger_is_asked_to_sign_in(stranger, choice, numbers, where):
    answer = stranger.post(where, choice())
    assert answer.status_code == 401
    assert "Sign in" in answer.content.decode()
    assert set(numbers) <= unprinted()


def test_not_yet_leads_back_to_the_choice_as_it_was(as_grower, choice, numbers, stocks):
    """Of three that wait one was ticked, for the roll and twice."""
    sent = choice(numbers=numbers[1:2], stock=stocks["roll"].pk, copies="2")
    look = as_grower.post("/labels/sheet/", sent).text
    assert 'form="chosen" formaction="/labels/sheet/" name="choose" value="again">Not yet</button>' in look
    answer = as_grower.post("/labels/sheet/", sent | {"choose": "again"})
    ticked = {int(one) for one in re.findall(r'name="numbers" value="(\d+)" checked', answer.text)}
    listed = {int(one) for one in re.findall(r'name="numbers" value="(\d+)"', answer.text)}
    assert (answer.status_code, ticked, set(numbers) <= listed) == (200, {numbers[1]}, True)
    form = answer.context["form"]
    assert (form["stock"].value(), form["copies"].value()) == (str(stocks["roll"].pk), "2")
    assert "Not laid out yet" not in answer.text


@pytest.mark.parametrize("where", WRITES[:2])
def test_whoever_comes_back_to_it_finds_what_still_waits(as_grower, choice, numbers, where):
    """With the browser's Back after the tags came out right, or by opening the address again."""
    answer = as_grower.get(where)
    assert (answer.status_code, answer.url) == (302, "/labels/")
    assert as_grower.put(where).status_code == 405
    assert set(numbers) <= unprinted()


def test_a_get_prints_nothing(as_grower, stocks):
    assert as_grower.get("/labels/sheet/right/").status_code == 405
