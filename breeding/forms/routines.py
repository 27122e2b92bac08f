from typing import Any

from django import forms
from django.utils import timezone

from breeding.models.routines import LONGEST_WORDS, Routine, RoutineAnswer
from breeding.records.routines import routine_changed, routine_done, routine_made
from breeding.science.recurrence import LONGEST_RULE, WEEKDAYS, checked, read
from breeding.words.routines import DAY_NAMES
from nursery.forms.base import ActForm, drop_fields, whole_number
from nursery.forms.choices import place_field
from nursery.models import Act
from nursery.records.core import NewAct

HOW = (
    ("daily", "Every day"),
    ("weekdays", "On these days of the week"),
    ("weeks", "Every so many weeks"),
    ("monthly", "Once a month"),
    ("own", "By a rule of your own"),
)
LAST_DAY = "-1"
MONTH_DAYS = [("", "choose"), *((str(day), str(day)) for day in range(1, 29)), (LAST_DAY, "the last day")]
MOST_WEEKS = 52
WEEKDAY_CHOICES = [(code, name[:3]) for code, name in zip(WEEKDAYS, DAY_NAMES, strict=True)]


class RoutineForm(ActForm):
    """What, where and how often; of the ways to say how often, only the one that was chosen is read."""

    words = forms.CharField(
        label="What is to be done",
        max_length=LONGEST_WORDS,
        help_text="For example: mist, feed, change the sticky cards, clean the trays.",
        error_messages={"required": "Say what is to be done."},
    )
    place = place_field(label="Where")
    how = forms.ChoiceField(
        label="How often", choices=HOW, widget=forms.RadioSelect, error_messages={"required": "Choose how often."}
    )
    weekdays = forms.MultipleChoiceField(
        label="Days of the week", required=False, choices=WEEKDAY_CHOICES, widget=forms.CheckboxSelectMultiple
    )
    weeks = whole_number("Every how many weeks", MOST_WEEKS, least=1, help_text="On the days of the week above.")
    month_day = forms.ChoiceField(
        label="Day of the month", required=False, choices=MONTH_DAYS, help_text="For “once a month”."
    )
    rule = forms.CharField(
        label="Rule",
        required=False,
        max_length=LONGEST_RULE,
        help_text="For “a rule of your own”: as calendars write it (RFC 5545), such as FREQ=MONTHLY;BYDAY=1FR.",
        widget=forms.TextInput(attrs={"autocapitalize": "characters", "autocomplete": "off", "spellcheck": "false"}),
    )
    starts = forms.DateField(
        label="From",
        required=False,
        help_text="Empty: from today.",
        widget=forms.DateInput(attrs={"type": "date"}, format="%Y-%m-%d"),
    )

    def __init__(self, *args: Any, **kwargs: Any):
        super().__init__(*args, **kwargs)
        drop_fields(self, {"day_said", "day_on", "note"})

    def clean(self) -> dict[str, Any]:
        cleaned = super().clean()
        how = cleaned.get("how")
        if how and not self.errors:
            field = _ASKED_BY.get(how)
            if field and not cleaned.get(field):
                self.add_error(field, _MISSING[field])
            else:
                self._check(how, cleaned)
        return cleaned

    def _check(self, how: str, cleaned: dict[str, Any]) -> None:
        cleaned["rule"] = _RULES[how](cleaned)
        try:
            start = cleaned["starts"] or self.today
            checked(cleaned["rule"], start=start, zone=timezone.get_current_timezone())
        except ValueError as error:
            self.add_error("rule" if how == "own" else None, str(error))

    def facts(self) -> dict[str, Any]:
        return {name: self.cleaned_data[name] for name in ("words", "place", "rule", "starts")}

    def record(self, act: NewAct) -> Act:
        return routine_made(act=act, **self.facts())

    @classmethod
    def initial_from(cls, act: Act) -> dict[str, Any]:
        told = super().initial_from(act)
        return told | how_often(told["rule"])


class RoutineChangeForm(RoutineForm):
    """The same, filled in with what holds now."""

    def __init__(self, *args: Any, thing: Routine | None = None, **kwargs: Any):
        now = facts_of(thing) if thing else {}
        super().__init__(*args, thing=thing, **(kwargs | {"initial": now | (kwargs.get("initial") or {})}))
        self.fields["starts"].help_text = "Empty: as before."

    def record(self, act: NewAct) -> Act:
        return routine_changed(act=act, routine=self.thing, **self.facts())


class RoutineDoneForm(ActForm):
    answer = forms.ChoiceField(
        label="Was it done?",
        choices=[(RoutineAnswer.DONE.value, "Done"), (RoutineAnswer.NOT_TODAY.value, "Not today")],
        widget=forms.RadioSelect,
        error_messages={"required": "Choose one."},
    )

    def record(self, act: NewAct) -> Act:
        return routine_done(act=act, routine=self.thing, answer=self.cleaned_data["answer"])


def facts_of(routine: Routine) -> dict[str, Any]:
    facts = {"words": routine.words, "place": routine.place_id, "starts": routine.starts, "rule": routine.rule}
    return facts | how_often(routine.rule)


def how_often(text: str) -> dict[str, Any]:
    """Which of the form's ways to say how often gives this rule, with its values.

    >>> how_often("FREQ=WEEKLY;INTERVAL=2;BYDAY=MO")
    {'how': 'weeks', 'weekdays': ['MO'], 'weeks': 2, 'month_day': ''}
    """
    rule = read(text)
    days = rule.get("BYDAY").split(",") if rule.get("BYDAY") else []
    told = {"weekdays": days, "weeks": rule.interval, "month_day": rule.get("BYMONTHDAY")}
    same = next((how for how, written in _RULES.items() if how != "own" and _same(written, told, text)), "own")
    empty = {"weekdays": [], "weeks": None, "month_day": ""}
    kept = {"weekdays": ("weekdays",), "weeks": ("weekdays", "weeks"), "monthly": ("month_day",)}.get(same, ())
    return {"how": same} | empty | {name: told[name] for name in kept}


def _same(written: Any, told: dict[str, Any], text: str) -> bool:
    fits = set(told["weekdays"]) <= set(WEEKDAYS) and told["month_day"] in dict(MONTH_DAYS)
    return fits and written(told) == text


def _by_weekdays(told: dict[str, Any]) -> str:
    return f"FREQ=WEEKLY;BYDAY={','.join(told['weekdays'])}"


def _by_weeks(told: dict[str, Any]) -> str:
    on = f";BYDAY={','.join(told['weekdays'])}" if told["weekdays"] else ""
    return f"FREQ=WEEKLY;INTERVAL={told['weeks']}{on}"


_RULES = {
    "daily": lambda told: "FREQ=DAILY",
    "weekdays": _by_weekdays,
    "weeks": _by_weeks,
    "monthly": lambda told: f"FREQ=MONTHLY;BYMONTHDAY={told['month_day']}",
    "own": lambda told: told["rule"],
}
_ASKED_BY = {"weekdays": "weekdays", "weeks": "weeks", "monthly": "month_day", "own": "rule"}
_MISSING = {
    "weekdays": "Choose one day of the week or more.",
    "weeks": "Say every how many weeks.",
    "month_day": "Choose a day of the month.",
    "rule": "Write the rule, for example FREQ=WEEKLY;BYDAY=MO,TH.",
}
