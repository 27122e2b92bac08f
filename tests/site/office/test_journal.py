"""Everything recorded, newest first: told in words, found by person, act and day, paged by where one page ended."""

import uuid
from datetime import UTC, datetime

import pytest
import time_machine
from django.db import connection
from django.test import Client
from django.test.utils import CaptureQueriesContext
from django.utils import timezone

from nursery.forms.journal import JournalFilter
from nursery.models import Act, Person, Tag
from nursery.records.core import NewAct
from nursery.records.numbers import blank_tags_make
from nursery.records.places import place_made
from nursery.records.remarks import remarked
from nursery.records.tags import tag_bound
from nursery.records.undo import undone
from nursery.records.watching import walked_past
from nursery.site import keyset
from nursery.site.keyset import Cursor
from nursery.site.views import journal
from tests.making import Nursery, tag_of

PAGE = "/office/journal/"


def _words(client: Client, **query: str) -> list[str]:
    days = client.get(PAGE, query).context["days"]
    return [row.words for day in days for row in day.rows]


def _remarks(nursery: Nursery, count: int, by: Person | None = None) -> list[Act]:
    bench = nursery.bench()
    return [nursery.record(remarked, thing=bench, words=f"Remark {turn}.", by=by) for turn in range(count)]


def _house_made(nursery: Nursery, moment: datetime) -> None:
    act = NewAct(id=uuid.uuid4(), by=nursery.by, recorded_at=moment)
    place_made(act=act, name=f"House {moment.day}", size="house")


def test_newest_first_in_words_with_the_thing_and_the_hand(as_viewer: Client, nursery: Nursery) -> None:
    section = nursery.section(days_ago=50)
    nursery.record(remarked, thing=section, words="Leans to the east.", note="Seen from below.")
    row = as_viewer.get(PAGE).context["days"][0].rows[0]
    assert row.words.startswith("remark: Leans to the east. (")
    assert (row.who, row.note, row.undone) == ("Ida Fern", "Seen from below.", "")
    assert (row.thing.kind_words, row.thing.url) == ("section", f"/sections/{section.pk}/")
    assert "×" in "".join(part.text for part in row.thing.parts)


def test_days_are_those_of_recording(as_viewer: Client, nursery: Nursery) -> None:
    for moment in (datetime(2026, 3, 9, 8, tzinfo=UTC), datetime(2026, 3, 10, 9, 30, tzinfo=UTC)):
        _house_made(nursery, moment)
    days = as_viewer.get(PAGE).context["days"]
    assert [(day.day, [row.time for row in day.rows]) for day in days] == [
        ("10 March 2026", ["09:30"]),
        ("9 March 2026", ["08:00"]),
    ]


def test_what_was_undone_is_struck_and_says_by_whom(as_viewer: Client, nursery: Nursery) -> None:
    [act] = _remarks(nursery, 1)
    nursery.record(undone, target=act)
    answer = as_viewer.get(PAGE)
    row = answer.context["days"][0].rows[0]
    assert "by Ida Fern." in row.undone and row.undone.startswith("Undone")
    assert "story__row--void" in answer.content.decode()


def test_one_persons_acts(as_viewer: Client, nursery: Nursery, grower: Person) -> None:
    _remarks(nursery, 2, by=grower)
    assert len(_words(as_viewer, by=str(grower.pk))) == 2
    assert len(_words(as_viewer)) > 2


def test_one_kind_of_act(as_viewer: Client, nursery: Nursery) -> None:
    _remarks(nursery, 2)
    told = _words(as_viewer, kind="place_made")
    assert len(told) == 2 and all(words.startswith("place entered") for words in told)


def test_one_day(as_viewer: Client, nursery: Nursery) -> None:
    for moment in (datetime(2026, 3, 9, 23, 59, 59, tzinfo=UTC), datetime(2026, 3, 10, 0, 0, tzinfo=UTC)):
        _house_made(nursery, moment)
    assert [words.split(" (")[0] for words in _words(as_viewer, day="2026-03-09")] == ["place entered: House 9"]
    assert [words.split(" (")[0] for words in _words(as_viewer, day="2026-03-10")] == ["place entered: House 10"]


def test_one_thing_by_its_number(as_viewer: Client, nursery: Nursery) -> None:
    section, other = nursery.section(days_ago=50), nursery.section(days_ago=50)
    nursery.record(remarked, thing=section, words="Leans.")
    nursery.record(walked_past, place=section.spike.plant.place, things=[section])
    told = _words(as_viewer, number=str(tag_of(section).number))
    assert [words.split(" (")[0] for words in told][:2] == ["walked past: nothing new", "remark: Leans."]
    assert len(told) == 3 and len(_words(as_viewer, number=str(tag_of(other).number))) == 1


def test_a_tag_that_was_replaced_still_names_its_thing(as_viewer: Client, nursery: Nursery) -> None:
    bench = nursery.bench()
    old = tag_of(bench).number
    [blank] = blank_tags_make(count=1)
    nursery.record(tag_bound, thing=bench, number=blank.number)
    assert _words(as_viewer, number=str(old)) == _words(as_viewer, number=str(blank.number)) != []


def test_undone_ones_only(as_viewer: Client, nursery: Nursery) -> None:
    first, second = _remarks(nursery, 2)
    nursery.record(undone, target=second)
    assert [words.split(" (")[0] for words in _words(as_viewer, undone="only")] == ["remark: Remark 1."]
    number = str(Tag.objects.get(thing_id=first.thing_id).number)
    assert len(_words(as_viewer, undone="only", number=number, kind="remarked")) == 1
    assert _words(as_viewer, undone="only", kind="place_made") == []


@pytest.mark.parametrize(
    ("query", "field", "sentence"),
    [
        ({"by": "nobody"}, "by", "Nobody here has that number. Choose a name."),
        ({"by": "9" * 40}, "by", "Nobody here has that number. Choose a name."),
        ({"kind": "<b>"}, "kind", "No act is called that. Choose one from the list."),
        ({"number": "moss"}, "number", "A tag number has digits only. Type the digits on the tag, the last one too."),
        (
            {"number": "12"},
            "number",
            "12 does not fit its last digit, so one digit is wrong or missing. Look at the tag again.",
        ),
        ({"number": "572005"}, "number", "Nothing carries this number. Look at the tag again."),
        ({"number": "9" * 400}, "number", "Write at most 40 characters; these are 400."),
        ({"undone": "🌱"}, "undone", "Choose one from the list."),
        ({"day": "soon"}, "day", "Write the day as year-month-day, for example 2026-03-09."),
        ({"day": "1949-12-31"}, "day", "Give a year from 1950 to 2199."),
        ({"day": "9999-12-31"}, "day", "Give a year from 1950 to 2199."),
    ],
)
def test_nonsense_in_the_choice_is_said_and_chooses_nothing(
    as_viewer: Client, nursery: Nursery, query: dict, field: str, sentence: str
) -> None:
    _remarks(nursery, 1)
    answer = as_viewer.get(PAGE, query)
    assert answer.status_code == 200
    assert answer.context["filter"].errors[field] == [sentence]
    assert sentence in answer.content.decode()
    assert answer.context["days"]


def test_words_are_escaped(as_viewer: Client, nursery: Nursery) -> None:
    nursery.record(remarked, thing=nursery.bench(), words="<script>alert(1)</script> 🌱")
    page = as_viewer.get(PAGE).content.decode()
    assert "<script>alert" not in page and "&lt;script&gt;alert(1)&lt;/script&gt; 🌱" in page


def test_an_empty_journal_offers_the_first_step(as_owner: Client) -> None:
    assert "What anybody records will stand here, newest first." in as_owner.get(PAGE).content.decode()


def test_nothing_that_fits_says_so(as_owner: Client) -> None:
    assert "Nothing was recorded that fits this choice." in as_owner.get(PAGE, {"kind": "sown"}).content.decode()


# --- pages ---


def test_pages_follow_each_other_without_gap_or_repeat(
    as_viewer: Client, nursery: Nursery, monkeypatch: pytest.MonkeyPatch
) -> None:
    with time_machine.travel(timezone.now(), tick=False):  # all in one moment: the id decides
        _remarks(nursery, 7)
    monkeypatch.setattr(journal, "PAGE_SIZE", 4)
    query, told = "", []
    while query is not None:
        answer = as_viewer.get(f"{PAGE}{query}")
        told += [row.words for day in answer.context["days"] for row in day.rows]
        query = answer.context["older"] or None
    assert len(told) == len(set(told)) == Act.objects.count() == 9


def test_the_choice_goes_along_to_the_next_page(
    as_viewer: Client, nursery: Nursery, grower: Person, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(journal, "PAGE_SIZE", 2)
    _remarks(nursery, 3, by=grower)
    older = as_viewer.get(PAGE, {"by": grower.pk}).context["older"]
    assert older.startswith(f"?by={grower.pk}&after=")
    assert len([row for day in as_viewer.get(PAGE + older).context["days"] for row in day.rows]) == 1


def test_a_later_act_does_not_move_the_page(as_viewer: Client, nursery: Nursery, monkeypatch) -> None:
    monkeypatch.setattr(journal, "PAGE_SIZE", 2)
    _remarks(nursery, 4)
    older = as_viewer.get(PAGE).context["older"]
    before = [row.words for day in as_viewer.get(PAGE + older).context["days"] for row in day.rows]
    _remarks(nursery, 1)
    assert [row.words for day in as_viewer.get(PAGE + older).context["days"] for row in day.rows] == before


def test_a_cursor_reads_back_as_written() -> None:
    cursor = Cursor(datetime(2026, 3, 9, 8, 7, 6, 543210, tzinfo=UTC), uuid.uuid4())
    assert Cursor.read(str(cursor)) == cursor


@pytest.mark.parametrize("text", ["", ".", "1.2", "x.y", "1" * 40 + "." + "0" * 32, "🌱", "1." + "0" * 33])
def test_no_cursor_shows_the_newest(as_viewer: Client, nursery: Nursery, text: str) -> None:
    _remarks(nursery, 1)
    assert Cursor.read(text) is None
    assert _words(as_viewer, after=text)[0].startswith("remark: Remark 0.")


def test_the_last_page_has_none_behind_it(nursery: Nursery) -> None:
    acts = _remarks(nursery, 3)
    page, behind = keyset.page_of(Act.objects.filter(kind="remarked"), after=None, size=3)
    assert (page, behind) == (acts[::-1], None)


# --- cost ---


def _queries(client: Client) -> int:
    with CaptureQueriesContext(connection) as seen:
        client.get(PAGE)
    return len(seen)


def test_many_acts_ask_no_more_than_few(as_viewer: Client, nursery: Nursery) -> None:
    def a_season() -> None:
        nursery.pot(days_ago=9)
        nursery.section(days_ago=50)
        _remarks(nursery, 1)

    a_season()
    _queries(as_viewer)
    few = _queries(as_viewer)
    for _ in range(2):
        a_season()
    assert _queries(as_viewer) == few


@pytest.mark.parametrize(("day", "found"), [("2026-03-09", 0), ("2026-03-10", 1)])
def test_a_day_is_the_nurserys_own(nursery: Nursery, day: str, found: int) -> None:
    _house_made(nursery, datetime(2026, 3, 9, 17, tzinfo=UTC))  # one in the morning of the tenth in Kuching
    with timezone.override("Asia/Kuching"):
        assert JournalFilter({"day": day}).chosen(Act.objects.all()).count() == found
