"""What stands beside a box for a tag's number that was typed wrongly."""

from django import template
from django.forms import BoundField

from nursery.forms.base import TagNumberField
from nursery.site.cards.parts import Row
from nursery.site.meant import meant_rows
from nursery.typed_tags import leads_nowhere

register = template.Library()


@register.simple_tag
def meant_by(field: BoundField) -> list[Row]:
    """Tags that may be meant by a number that leads nowhere, of those that this box asks for."""
    if not isinstance(field.field, TagNumberField) or not field.errors:
        return []
    typed = str(field.value() or "")
    return meant_rows(typed, field.field.which) if leads_nowhere(typed) else []
