import pytest

from nursery.models import Tag

pytestmark = pytest.mark.django_db


def blanks() -> int:
    return Tag.objects.filter(thing=None).count()


def test_it_works(as_grower, stocks):
    answer = as_grower.post("/labels/blank/", {"count": "24"})
    assert (answer.status_code, answer.url) == (302, "/labels/?show=blank")
    assert blanks() == 24
    assert as_grower.get(answer.url).content.decode().count('type="checkbox"') == 24


def test_a_form_that_comes_twice_makes_no_more(as_grower, stocks):
    for _ in range(2):
        as_grower.post("/labels/blank/", {"count": "24"})
    assert blanks() == 24


def test_those_that_wait_count(as_grower, stocks):
    as_grower.post("/labels/blank/", {"count": "3"})
    page = as_grower.get("/labels/blank/").content.decode()
    assert "3 blank tags are made and not printed yet; they count." in page
    as_grower.post("/labels/blank/", {"count": "5"})
    assert blanks() == 5


@pytest.mark.parametrize("count", ["", "0", "-1", "501", "two", "1e9", "9" * 300, "🌱", "<b>", "٣"])
def test_a_number_that_cannot_be_is_refused_beside_the_field(as_grower, stocks, count: str):
    answer = as_grower.post("/labels/blank/", {"count": count})
    page = answer.content.decode()
    if answer.status_code == 302:
        assert blanks() == 3, "Arabic-Indic digits are read as digits by Django."
        return
    assert answer.status_code == 422
    assert "Give a number from 1 to 500." in page or "Write a whole number." in page
    assert blanks() == 0


def test_a_viewer_makes_none(as_viewer, stocks):
    assert as_viewer.post("/labels/blank/", {"count": "24"}).status_code == 403
    assert blanks() == 0


def test_a_stranger_makes_none(stranger, stocks):
    assert stranger.post("/labels/blank/", {"count": "24"}).status_code == 401
    assert blanks() == 0
