"""The words of a typed round: one list for each kind, complete, and none that means two things."""

from typing import Any

import pytest

from breeding.answers import asked_of
from breeding.records.pods import pods_looked_at
from breeding.rounds.tasks import tasks_for
from breeding.typed_answers import CANT_TELL, WORDS, NoSuchAnswer, word_typed, words_for
from nursery.site import pages
from tests.keeping import fresh
from tests.making import Nursery, today

FEW_PAGES = {("later", "days", "14")}
"""Answers of the round that are left to its page: keeping old pollen for two weeks more."""

LOOKS_AND_TAKE = {"spikes", "take", "pods", "pots"}


@pytest.mark.parametrize("kind", WORDS)
def test_no_word_means_two_things(kind: str) -> None:
    codes = [word.code for word in WORDS[kind]]
    assert len(codes) == len(set(codes))
    for word in WORDS[kind]:
        assert word_typed(word.code, WORDS[kind]) == word
        assert word_typed(word.label.upper(), WORDS[kind]) == word


@pytest.mark.parametrize("kind", WORDS)
def test_every_word_is_taken_by_the_form_of_its_act(kind: str) -> None:
    for word in WORDS[kind]:
        assert pages.page_on(kind, word.act).slug == word.act


@pytest.mark.parametrize(
    ("kind", "typed", "code"),
    [
        ("section", "green", "green"),
        ("section", " GR ", "green"),
        ("section", "firm, green", "green"),
        ("section", "cant_tell", CANT_TELL),
        ("seedpot", "n", "nothing"),
        ("spike", "f-b", "f-buds"),
        ("spike", "open", "open"),
        ("routine", "d", "done"),
    ],
)
def test_a_beginning_is_enough_where_only_one_word_has_it(kind: str, typed: str, code: str) -> None:
    assert word_typed(typed, WORDS[kind]).code == code


@pytest.mark.parametrize(
    ("kind", "typed", "sentence"),
    [
        ("seedpot", "f", "“f” is more than one answer: type first, few."),
        ("seedpot", "", "Type one of nothing, first, few, plenty, carpet, ?, later."),
        ("seedpot", "purple", "“purple” is no answer here. Type one of nothing, first, few, plenty, carpet, ?, later."),
        ("routine", "<b>", "“<b>” is no answer here. Type one of done, not."),
        ("routine", "猪" * 99, f"“{'猪' * 30}” is no answer here. Type one of done, not."),
    ],
)
def test_what_fits_no_word_is_told_with_the_words_there_are(kind: str, typed: str, sentence: str) -> None:
    with pytest.raises(NoSuchAnswer) as wrong:
        word_typed(typed, WORDS[kind])
    assert wrong.value.sentence == sentence


def _things(nursery: Nursery) -> list[Any]:
    return [
        nursery.spike(days_ago=20),
        nursery.spike(sex="male", days_ago=5),
        nursery.female(days_ago=5),
        nursery.section(days_ago=40),
        nursery.pollen(days_ago=200),
        nursery.seed(days_ago=30),
        nursery.pot(days_ago=200),
    ]


@pytest.mark.django_db
def test_every_answer_of_one_tap_can_be_typed(nursery: Nursery) -> None:
    for thing in _things(nursery):
        thing = type(thing).objects.get(pk=thing.pk)
        asked = asked_of(thing)
        due = [answer for task in tasks_for(thing, today()).tasks for answer in task.answers]
        tapped = {_posted(one) for one in (*asked.answers, *asked.more, *asked.later, *due) if one.url} - FEW_PAGES
        typed = {(word.act, word.name, word.value) for word in words_for(thing)}
        without = {(act, "", "") for act, _, _ in typed}
        assert {one if one[2] else (one[0], "", "") for one in tapped} <= typed | without, thing.kind


def _posted(answer: Any) -> tuple[str, str, str]:
    """Acts that take no value ("gone", "bagged") post whatever their button is called."""
    act = answer.url.rstrip("/").rpartition("/")[2]
    return (act, "", "") if act in {"finish", "bag"} else (act, answer.name, answer.value)


@pytest.mark.django_db
def test_cant_tell_is_about_the_take_until_it_is_read(nursery: Nursery) -> None:
    section = nursery.section(days_ago=40)
    assert word_typed("?", words_for(section)).act == "take"
    section.stage = "swelling"
    assert word_typed("?", words_for(section)).act == "pods"


@pytest.mark.django_db
def test_a_thing_is_asked_in_the_same_words_on_its_page_and_on_the_round(nursery: Nursery) -> None:
    """Whatever posts the same to the same address says the same, and so does the word that is typed for it."""
    section = nursery.section(days_ago=140)
    nursery.record(pods_looked_at, section=section, seen="green", days_ago=30)
    things = [nursery.spike(days_ago=40), nursery.female(days_ago=20), nursery.male(days_ago=20), section]
    things += [nursery.section(days_ago=45), nursery.pot(days_ago=200)]
    same = 0
    for thing in map(fresh, things):
        typed = {(word.name, word.value): word.label for word in WORDS[thing.kind]}
        page = {(one.url, one.name, one.value): one.label for one in asked_of(thing).answers if one.url}
        for task in tasks_for(thing, today()).tasks:
            for one in task.answers:
                if task.kind in LOOKS_AND_TAKE and (one.url, one.name, one.value) in page:
                    assert page[one.url, one.name, one.value] == one.label
                    same += 1
        for (_, name, value), label in page.items():
            if value not in {"buds", "open", "showing", "cant_tell"}:  # said by what is known of it
                assert label.lower().replace("’", "'") == typed[name, value]
    assert same > 25
