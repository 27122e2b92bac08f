"""No sentence of Django's own reaches a person: of any form, any field, any row."""

import pkgutil
from collections.abc import Iterator
from importlib import import_module

import pytest
from django import forms
from django.core.exceptions import ValidationError
from django.core.validators import MaxValueValidator, ProhibitNullCharactersValidator
from django.forms import BaseForm
from django.utils.functional import Promise

import breeding
import labels
import nursery
from nursery.forms.worded import Form, OurSentences
from nursery.models import House
from nursery.records.errors import Refused
from nursery.records.rows import save_valid
from nursery.sentences import ours


def _forms() -> list[type[BaseForm]]:
    """Every form class of the three apps."""
    for app in (nursery, breeding, labels):
        for module in pkgutil.walk_packages(app.__path__, f"{app.__name__}."):
            if ".forms" in module.name or "_forms" in module.name or module.name == "nursery.site.correcting":
                import_module(module.name)
    return sorted(_below(BaseForm), key=lambda one: (one.__module__, one.__name__))


def _below(form: type[BaseForm]) -> set[type[BaseForm]]:
    found = set().union(*map(_below, form.__subclasses__()))
    return found | ({form} if form.__module__.split(".")[0] in {"nursery", "breeding", "labels"} else set())


def _defaults(field: forms.Field) -> Iterator[ValidationError]:
    """What Django would say of this field, as it says it itself."""
    told = {"max": 3, "limit_value": 3, "show_value": 4, "value": "x", "pk": "x", "length": 9}
    for code, message in field.error_messages.items():
        yield ValidationError(message, code=code, params=told)
    for validator in [*field.validators, MaxValueValidator(3), ProhibitNullCharactersValidator()]:
        messages = getattr(validator, "messages", None) or {validator.code: validator.message}
        yield from (ValidationError(message, code=code, params=told) for code, message in messages.items())


def test_every_form_speaks_our_sentences() -> None:
    found = _forms()
    assert len(found) > 80
    assert [one for one in found if not issubclass(one, OurSentences)] == []


@pytest.mark.parametrize("form", _forms(), ids=lambda form: f"{form.__module__}.{form.__name__}")
def test_nothing_that_django_may_find_wrong_with_a_field_is_told_in_its_words(form: type[BaseForm]) -> None:
    said = [ours(error, field) for field in getattr(form, "base_fields", {}).values() for error in _defaults(field)]
    assert [error.message for error in said if isinstance(error.message, Promise)] == []
    assert all(error.messages[0].endswith(".") for error in said)


class Sample(Form):
    """Fields as forms have them, and one that is added late."""

    count = forms.IntegerField(min_value=1, max_value=100)
    most = forms.IntegerField(max_value=100)
    huge = forms.IntegerField(min_value=0, max_value=2**63 - 1)
    share = forms.DecimalField(max_digits=4, decimal_places=2)
    note = forms.CharField(max_length=3)
    choice = forms.ChoiceField(choices=[("a", "A")])
    choices = forms.MultipleChoiceField(choices=[("a", "A")])
    day = forms.DateField()
    at = forms.DateTimeField()
    photo = forms.FileField()

    def __init__(self, *args: object) -> None:
        super().__init__(*args)
        self.fields["late"] = forms.BooleanField()


@pytest.mark.parametrize(
    ("field", "typed", "said"),
    [
        ("count", "", "Give a number from 1 to 100."),
        ("count", "0", "Give a number from 1 to 100."),
        ("count", "101", "Give a number from 1 to 100."),
        ("count", "ten", "Write a whole number."),
        ("most", "", "Give a number."),
        ("most", "101", "Give 100 or less."),
        ("huge", "-1", "Give 0 or more."),
        ("huge", str(2**63), "This number is too large."),
        ("share", "much", "Write a number, for example 1 or 0.5."),
        ("share", "0.001", "Write at most 2 digits behind the point."),
        ("share", "12345", "Write at most 4 digits."),
        ("note", "", "Write something here."),
        ("note", "long", "Write at most 3 characters; these are 4."),
        ("note", "a\0", "There is a sign in it that cannot be kept. Type it once more."),
        ("choice", "", "Choose one."),
        ("choice", "b", "What was chosen is not offered here, or not any more. Choose again."),
        ("choices", "", "Tick at least one."),
        ("day", "", "Say which day."),
        ("day", "soon", "Write the day as year-month-day, for example 2026-03-09."),
        ("at", "soon", "Write the day and the time, for example 2026-03-09 14:00."),
        ("photo", "", "Choose a file."),
        ("late", "", "Tick this to go on."),
    ],
)
def test_it_says_what_to_do(field: str, typed: str, said: str) -> None:
    assert Sample({field: typed} if typed else {}).errors[field][0] == said


def test_our_own_sentence_of_a_field_stays() -> None:
    class Told(Form):
        pots = forms.IntegerField(error_messages={"required": "Say how many pots."})

    assert Told({}).errors == {"pots": ["Say how many pots."]}


@pytest.mark.django_db
def test_a_row_is_refused_in_the_same_words() -> None:
    house = House(name="n" * 81)
    with pytest.raises(Refused) as refused:
        save_valid(house)
    assert (refused.value.field, refused.value.sentence) == ("name", "Write at most 80 characters; these are 81.")
