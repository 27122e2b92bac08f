"""What every page shows: the number of a thing, the initials people sign with, and icons."""

from functools import lru_cache
from typing import Any
from urllib.parse import urlencode

from django import template
from django.templatetags.static import static
from django.utils.html import format_html
from django.utils.safestring import SafeString

from nursery.cautions import brief_for

register = template.Library()
HALF_A_PHONE = 24
"""Letters that fit a choice of half a phone's width in two lines."""
LONGEST_IN_HALF = 10


@register.filter
def plate(number: object) -> str:
    """The number of a thing in groups of three from the left, as on its tag.

    >>> plate(208746), plate("2087461"), plate(None)
    ('208 746', '208 746 1', '')
    """
    digits = "" if number is None else str(number)
    return " ".join(digits[start : start + 3] for start in range(0, len(digits), 3))


@register.filter
def initials(name: object) -> str:
    """Up to three capitals to sign with: the first letter of each word.

    >>> initials("Moss Keeper"), initials("ada"), initials(None)
    ('MK', 'A', '')
    """
    words = "" if name is None else str(name)
    return "".join(word[0] for word in words.split()[:3]).upper()


@register.filter
def has_long_choices(field: Any) -> bool:
    """Whether the words of a field's choices need the whole width of a phone."""
    return any(len(str(choice.choice_label)) > HALF_A_PHONE for choice in field)


@register.filter
def has_long_word(label: object) -> bool:
    """Whether a word of an answer is too long for half a phone's width beside an icon, so that it would break.

    >>> has_long_word("Refrigerator"), has_long_word("Not ready yet")
    (True, False)
    """
    return any(len(word) > LONGEST_IN_HALF for word in str(label or "").split())


@register.simple_tag
def coming_back_to(url: str, page: str) -> str:
    """The address of a form, with the page on which to go on from there; as it is where none is known.

    >>> coming_back_to("/spikes/1/pollinate/?pollen=lot:3", "/#cool"), coming_back_to("/spikes/1/look/", None)
    ('/spikes/1/pollinate/?pollen=lot:3&next=%2F%23cool', '/spikes/1/look/')
    """
    return f"{url}{'&' if '?' in url else '?'}{urlencode({'next': page})}" if page else url


@register.filter
def brief(cautions: list[str]) -> str:
    """What stays visible of cautions that are folded away; empty where they should not be, being few or of no step."""
    return brief_for(list(cautions)) if len(cautions) > 2 else ""


@register.filter
def shortest(cautions: list[str]) -> str:
    """What stays visible of cautions where one tap does the step, be they ever so few; empty for those of no step."""
    return brief_for(list(cautions))


@register.simple_tag
def icon(name: str, title: str = "", more: str = "") -> SafeString:
    """A symbol of static/icons/sprite.svg; ``title`` is what it says where it stands alone, ``more`` more classes."""
    return _icon(name, title, more)


@lru_cache
def _icon(name: str, title: str, more: str) -> SafeString:
    """Kept, for a page shows a dozen."""
    role = format_html('role="img" aria-label="{}"', title) if title else SafeString('aria-hidden="true"')
    classes, url = f"icon {more}".rstrip(), static("icons/sprite.svg")
    return format_html('<svg class="{}" focusable="false" {}><use href="{}#{}"></use></svg>', classes, role, url, name)
