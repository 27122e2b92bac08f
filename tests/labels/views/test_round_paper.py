from datetime import timedelta
from urllib.parse import quote

import numpy as np
import pypdfium2
import pytest

from labels.codes import tag_url
from nursery.models import House
from tests.labels.reading import decoded
from tests.labels.test_round_paper import pages
from tests.making import tag_of, today

pytestmark = pytest.mark.django_db


def address(days: int = 0, query: str = "") -> str:
    return f"/labels/round/{today() + timedelta(days=days)}/{query}"


def test_the_round_is_printed_with_its_places_numbers_and_answers(as_viewer, nursery):
    bench = nursery.bench("Bench 2", inside=nursery.house("Warm house"))
    section = nursery.section(nursery.spike(nursery.plant(place=bench)), days_ago=45)
    answer = as_viewer.get(address())
    assert answer["Content-Type"] == "application/pdf"
    assert answer["Content-Disposition"] == f'attachment; filename="round-{today()}.pdf"'
    page = " ".join(pages(answer.content))
    number = str(tag_of(section).number)
    assert " ".join(number[at : at + 3] for at in range(0, len(number), 3)) in page
    assert "Warm house, Bench 2" in page
    assert "Read the take" in page
    assert "☐ third" in page


def test_codes_stand_on_it_when_asked_for(as_grower, nursery):
    section = nursery.section(days_ago=45)

    def read(query: str) -> set[str]:
        page = pypdfium2.PdfDocument(as_grower.get(address(query=query)).content)[0]
        return decoded(np.asarray(page.render(scale=300 / 72, grayscale=True).to_pil()))

    assert tag_url("https://tags.example", tag_of(section).number) in read("?codes=yes")
    assert read("") == set()


def test_what_does_not_fit_the_minutes_comes_only_when_asked_for(as_owner, nursery):
    House.objects.filter(pk=1).update(minutes_a_day=5)
    for _ in range(7):
        nursery.section(days_ago=45)
    assert "If there is time" not in " ".join(pages(as_owner.get(address()).content))
    assert "If there is time" in " ".join(pages(as_owner.get(address(query="?rest=yes")).content))


def test_an_empty_day_and_a_day_that_is_none(as_viewer, nursery):
    assert "Nothing is due." in pages(as_viewer.get(address()).content)[0]
    assert as_viewer.get("/labels/round/2026-02-30/").status_code == 404


def test_a_stranger_signs_in_first(stranger):
    answer = stranger.get(address())
    assert answer.status_code == 302
    assert quote(address(), safe="") in answer["Location"]


def test_the_round_offers_its_paper(as_viewer, nursery):
    nursery.section(days_ago=45)
    page = as_viewer.get("/").content.decode()
    assert f'action="{address()}"' in page
