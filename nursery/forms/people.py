"""Forms for signing in, and for the owner who says who may."""

from django import forms

from nursery.forms.worded import Form
from nursery.models import Person
from nursery.records.people import CODE_LENGTH

LONGEST_PASSWORD = 200
NO_PASSWORD = "Leave it empty, and they sign in by a code that you show them."


class SignInForm(Form):
    name = forms.CharField(
        label="Your name",
        max_length=60,
        error_messages={"required": "Write your name."},
        widget=forms.TextInput(attrs={"autocomplete": "username", "autocapitalize": "words", "spellcheck": "false"}),
    )
    password = forms.CharField(
        label="Password",
        max_length=LONGEST_PASSWORD,
        error_messages={"required": "Write your password."},
        strip=False,
        widget=forms.PasswordInput(attrs={"autocomplete": "current-password"}),
    )


class CodeForm(Form):
    code = forms.CharField(
        label="Code",
        max_length=40,
        error_messages={"required": "Write the code."},
        help_text=f"{CODE_LENGTH} letters and digits, good for ten minutes. Capitals and spaces do not matter.",
        widget=forms.TextInput(
            attrs={"autocomplete": "one-time-code", "autocapitalize": "characters", "spellcheck": "false"}
        ),
    )


class PersonForm(Form):
    """A new person: without a password they sign in by a code."""

    name = forms.CharField(
        label="Name",
        max_length=60,
        help_text="As it stands under what they record; its first letters sign for them.",
        widget=forms.TextInput(attrs={"autocomplete": "off"}),
    )
    role = forms.ChoiceField(
        label="What they may do",
        choices=[
            (Person.Role.GROWER, "Grower"),
            (Person.Role.VIEWER, "Viewer"),
            (Person.Role.OWNER, "Owner"),
        ],
        help_text="Growers record, viewers only read, owners also change people, places, taxa and timings.",
        widget=forms.RadioSelect,
        initial=Person.Role.GROWER,
    )
    password = forms.CharField(
        label="Password",
        required=False,
        max_length=LONGEST_PASSWORD,
        strip=False,
        help_text=NO_PASSWORD,
        widget=forms.PasswordInput(attrs={"autocomplete": "new-password"}),
    )


class PersonChangeForm(PersonForm):
    """A person on record. An empty password leaves theirs as it is."""

    def __init__(self, *args, **kwargs):
        super().__init__(*args, **kwargs)
        self.fields["password"].label = "New password"
        self.fields["password"].help_text = "Leave it empty to keep the one they have."

    def say_there_is_none(self) -> None:
        """Of a person who has no password to keep."""
        self.fields["password"].label = "Password"
        self.fields["password"].help_text = f"They have none. {NO_PASSWORD}"


class OwnPasswordForm(Form):
    """Asks for the password that somebody has, where they have one, and for the new one."""

    password_now = forms.CharField(
        label="Your password now",
        max_length=LONGEST_PASSWORD,
        error_messages={"required": "Write the password that you have now."},
        strip=False,
        widget=forms.PasswordInput(attrs={"autocomplete": "current-password"}),
    )
    password = forms.CharField(
        label="New password",
        max_length=LONGEST_PASSWORD,
        error_messages={"required": "Write a password."},
        strip=False,
        help_text="At least ten characters; a few words are easier to type than signs.",
        widget=forms.PasswordInput(attrs={"autocomplete": "new-password"}),
    )

    def __init__(self, *args, has_one: bool = True, **kwargs):
        super().__init__(*args, **kwargs)
        self.has_one = has_one
        if not has_one:
            del self.fields["password_now"]


class LeaveForm(Form):
    """Asks nothing but whether it is meant."""
