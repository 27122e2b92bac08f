"""The forms that all others are: what is wrong is told in our sentences."""

from typing import Any

from django import forms
from django.core.exceptions import ValidationError

from nursery.sentences import ours


class OurSentences(forms.BaseForm):
    """Says what Django finds in our words, also of fields that a form adds or changes while it is made."""

    def add_error(self, field: str | None, error: Any) -> None:
        super().add_error(field, self._told(field, error) if isinstance(error, ValidationError) else error)

    def _told(self, field: str | None, error: ValidationError) -> ValidationError:
        found = error.error_dict if hasattr(error, "error_dict") else {field: error.error_list}
        told = {name: [ours(one, self.fields.get(name)) for one in errors] for name, errors in found.items()}
        return ValidationError(told if hasattr(error, "error_dict") else told[field])


class Form(OurSentences, forms.Form):
    """Any form but those of a model."""
