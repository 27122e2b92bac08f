import uuid
from dataclasses import dataclass
from datetime import date, timedelta
from typing import Any

from django import forms
from django.db.models import Q
from django.utils import timezone

from nursery.damm import number_is_valid, read_number
from nursery.days import Day, from_form
from nursery.forms.worded import Form
from nursery.models import Act, LivingThing, Person
from nursery.records import registry
from nursery.records.core import Contradiction, NewAct
from nursery.records.errors import Refused
from nursery.typed_tags import BLANK, ON_SOMETHING, what_is_wrong

DAYS = (
    ("today", "Today"),
    ("yesterday", "Yesterday"),
    ("on", "On this day"),
    ("week", "About then, give or take three days"),
    ("month", "Some day that month"),
    ("season", "Some day that season"),
    ("year", "Some day that year"),
    ("unknown", "Day not known"),
)
SAID_BY_CHOICE = {"on": "exact"}
NEEDS_NO_DATE = frozenset({"today", "yesterday", "unknown"})
WHICH_OF_BOTH = "Choose “On this day” if the day is right, or empty the box."
NO_FACTS = frozenset({"day_said", "day_on", "note", "other", "other_number"})
"""Fields that are no facts of the act itself; the last two say that a correction is about another thing."""


@dataclass(frozen=True)
class Sending:
    """Who sends a form, under which UUID, and whose phone it was if not theirs."""

    id: uuid.UUID
    by: Person
    phone_of: Person | None = None


class TagNumberField(forms.CharField):
    """A number as typed from a tag, check digit included; gives an int or None.

    ``which`` tags are asked for here: of those, the near ones are offered where the number leads nowhere.
    """

    def __init__(self, *, which: Q = ON_SOMETHING, required: bool = False, **kwargs: Any):
        self.which = which
        attrs = {"inputmode": "numeric", "autocomplete": "off", "data-keypad": True, "maxlength": 20}
        super().__init__(required=required, max_length=40, widget=forms.TextInput(attrs=attrs), **kwargs)

    def clean(self, value: Any) -> int | None:
        typed = super().clean(value)
        if not typed:
            return None
        number = read_number(typed)
        if number is None or not number_is_valid(number):
            raise forms.ValidationError(what_is_wrong(typed))
        return number

    def prepare_value(self, value: Any) -> Any:
        return value


class ActForm(Form):
    """What every act asks: the day (today unless said otherwise) and a note, behind the fields of its own.

    A subclass names its fields, ``record`` (calls its record function) and, where the books may disagree,
    ``contradictions``. ``today`` is the day on which it was filled in: for what a phone kept, the day of the tap.
    ``corrects`` is the act that it says again. What the form does not ask, the day perhaps, stays as that act has it.
    """

    refused_beside = {"day": "day_on"}
    """Fields that record functions call by another name."""

    day_said = forms.ChoiceField(label="When", choices=DAYS, widget=forms.RadioSelect, required=False, initial="today")
    day_on = forms.DateField(
        label="Which day",
        required=False,
        widget=forms.DateInput(attrs={"type": "date"}, format="%Y-%m-%d"),
    )
    note = forms.CharField(
        label="Note", required=False, max_length=1000, widget=forms.Textarea(attrs={"rows": 2, "maxlength": 1000})
    )

    def __init__(
        self,
        *args: Any,
        thing: LivingThing | None = None,
        today: date | None = None,
        corrects: Act | None = None,
        **kwargs: Any,
    ):
        self.thing = thing
        self.corrects = corrects
        self.today = today or timezone.localdate()
        super().__init__(*args, **kwargs)
        self.order_fields([name for name in self.fields if name not in {"day_said", "day_on", "note"}])
        self.day: Day | None = None

    def clean(self) -> dict[str, Any]:
        cleaned = super().clean()
        if not self.errors.keys() & {"day_said", "day_on"}:
            try:
                self.day = self._day_as_before(cleaned)
            except ValueError as error:
                self.add_error("day_on", str(error))
        return cleaned

    def _day_as_before(self, cleaned: dict[str, Any]) -> Day | None:
        """The day told; the very day of the act that is corrected where the form says the same, or does not ask.

        A month that was still running then may be over by now: that makes it no other day.
        """
        before = day_of(self.corrects) if self.corrects else None
        if before and "day_said" not in self.fields:
            return before
        day = self._day_told(cleaned.get("day_said") or "today", cleaned.get("day_on"), before)
        return before if before and day and (day.said, day.first) == (before.said, before.first) else day

    def _day_told(self, said: str, on: date | None, before: Day | None) -> Day | None:
        """None is today, as the server's clock says on arrival: so a form sent twice is the same, whatever the hour.

        "Today" stands ready, so a day typed beside it counts. A date that only stayed from the corrected act does not.
        """
        meant = {"today": self.today, "yesterday": self.today - timedelta(days=1)}.get(said)
        typed = None if before and on == before.told_on else on
        if said in NEEDS_NO_DATE and typed not in {None, meant}:
            if said != "today":
                raise ValueError(f"You chose “{dict(DAYS)[said]}”, and gave a day. {WHICH_OF_BOTH}")
            said = self._said_instead("on")
        if said == "today":
            return None
        if said == "yesterday":
            return Day.on(meant)
        day = from_form(SAID_BY_CHOICE.get(said, said), on)
        return day.clipped(self.today) if day.is_known else day

    def _said_instead(self, said: str) -> str:
        """The form as it is shown again, should it come back, tells the day as it counts."""
        self.data = self.data.copy()
        self.data[self.add_prefix("day_said")] = said
        return said

    @property
    def day_meant(self) -> Day:
        return self.day or Day.on(self.today)

    def facts(self) -> dict[str, Any]:
        """The form's own values, by the names that the record function takes."""
        return {name: value for name, value in self.cleaned_data.items() if name not in NO_FACTS}

    def new_act(self, sending: Sending) -> NewAct:
        old = self.corrects
        return NewAct(
            id=sending.id,
            by=sending.by,
            day=self.day,
            at=old.at if old and self.day == day_of(old) else None,
            note=self.cleaned_data.get("note", old.note if old else ""),
            replaces=old,
            phone_of=sending.phone_of,
        )

    def contradictions(self) -> list[Contradiction]:
        """What the books do not agree with, to be asked about once."""
        return []

    def record(self, act: NewAct) -> Act:
        raise NotImplementedError(f"{type(self).__name__} does not say how it is recorded.")

    def add_refusal(self, refused: Refused) -> None:
        """Put a refusal beside the field it is about, with what stands in the way."""
        name = self.refused_beside.get(refused.field, refused.field)
        self.add_error(name if name in self.fields else None, [refused.sentence, *refused.reasons])

    @classmethod
    def initial_from(cls, act: Act) -> dict[str, Any]:
        """The values that give this act again, to correct it or to show it beside another."""
        kind = registry.act_kind(act.kind)
        detail = getattr(act, kind.accessor) if kind.accessor else None
        values = {name: getattr(detail, name) for name in cls.base_fields if hasattr(detail, name)}
        return values | day_initial(act) | {"note": act.note}


def day_initial(act: Act) -> dict[str, Any]:
    said = {"exact": "on"}.get(act.said, act.said)
    return {"day_said": said, "day_on": day_of(act).told_on}


def day_of(act: Act) -> Day:
    return Day(act.day_first, act.day_last, act.said)


def drop_fields(form: forms.Form, names: set[str]) -> None:
    for name in names & form.fields.keys():
        del form.fields[name]


def yes_no(label: str) -> forms.TypedChoiceField:
    """Yes, no, or not said; gives True, False or None."""
    return forms.TypedChoiceField(
        label=label,
        required=False,
        choices=[("", "not said"), ("yes", "yes"), ("no", "no")],
        widget=forms.RadioSelect,
        coerce=lambda value: value == "yes",
        empty_value=None,
        initial="",
    )


def whole_number(label: str, most: int, *, least: int = 0, help_text: str = "") -> forms.IntegerField:
    return forms.IntegerField(
        label=label,
        required=False,
        min_value=least,
        max_value=most,
        help_text=help_text,
        widget=forms.NumberInput(attrs={"inputmode": "numeric", "data-keypad": True}),
    )


def words(label: str, most: int, *, required: bool = False, help_text: str = "") -> forms.CharField:
    return forms.CharField(
        label=label,
        required=required,
        max_length=most,
        help_text=help_text,
    )


def blank_tag() -> TagNumberField:
    return TagNumberField(
        label="Number of the blank tag in your hand",
        help_text="Leave it empty and Tepal gives the next number.",
        which=BLANK,
    )
