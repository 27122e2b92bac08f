from django import forms

from breeding.rounds.kinds import TASK_KINDS
from nursery.forms.worded import Form
from nursery.models import House

WEEKDAYS = ("Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun")


class RoundForm(Form):
    """How long a round may take, on which days it looks, and what it asks.

    ``waits`` says of a kind of task, by its code, what it waits for.
    """

    minutes_a_day = forms.IntegerField(
        label="Minutes a day",
        min_value=5,
        max_value=960,
        help_text=House._meta.get_field("minutes_a_day").help_text,
        widget=forms.NumberInput(attrs={"inputmode": "numeric"}),
        error_messages={"required": "Say how many minutes.", "invalid": "Write a whole number of minutes."},
    )
    looks_on = forms.TypedMultipleChoiceField(
        label="Days on which somebody looks",
        coerce=int,
        choices=list(enumerate(WEEKDAYS)),
        widget=forms.CheckboxSelectMultiple,
        help_text="A look that would fall on another day is asked for on the working day before. What opens or has to "
        "be done at once is asked for on any day.",
        error_messages={
            "required": "Choose at least one day of the week on which somebody looks.",
            "invalid_choice": "There is no such weekday. Choose from the list.",
        },
    )
    kinds = forms.MultipleChoiceField(
        label="What the round asks",
        required=False,
        choices=[(kind.code, kind.title) for kind in TASK_KINDS],
        widget=forms.CheckboxSelectMultiple,
        help_text="What is not ticked is asked nowhere; the pages of things say so. It can be recorded all the same.",
        error_messages={"invalid_choice": "There is no such kind of task. Choose from the list."},
    )

    def __init__(self, *args, waits: dict[str, str] | None = None, **kwargs):
        super().__init__(*args, **kwargs)
        waits = waits or {}
        self.fields["kinds"].choices = [(kind.code, _words(kind.title, waits.get(kind.code))) for kind in TASK_KINDS]

    def tasks_off(self) -> list[str]:
        """The codes of the kinds that are not ticked."""
        return [kind.code for kind in TASK_KINDS if kind.code not in self.cleaned_data["kinds"]]


def _words(title: str, waits: str | None) -> str:
    return f"{title} (from {waits} on)" if waits else title
