"""A choice out of a list, with the words that may be typed beside it."""

from django.db import models


def choice_words(told: models.Model, field: str) -> str:
    """What was chosen and what was typed: "steamed (twice)". Where that is "other", or nobody chose, the words alone.

    The words stand in the field of the same name with ``_words`` behind it.
    """
    words = getattr(told, f"{field}_words")
    if getattr(told, field) in ("other", "unknown"):
        return words
    chosen = getattr(told, f"get_{field}_display")()
    return f"{chosen} ({words})" if words else chosen
