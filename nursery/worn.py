"""Tags whose print fades: when they are asked for again, and which are in use at all."""

from datetime import timedelta

WORN_AHEAD = timedelta(days=30)
"""So long before its print is expected to be gone, a tag is offered for another: our choice, a month of evenings."""
