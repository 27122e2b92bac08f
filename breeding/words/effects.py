"""What a change of a timing would do, in sentences. Pure."""

from __future__ import annotations

from typing import Any

from breeding.words.ages import plural
from breeding.words.learned import days_words


def effect_words(effect: Any) -> list[str]:
    """``effect`` as ``breeding.rounds.preview`` works it out."""
    return [window_words(effect.now, effect.then), asked_words(effect), moved_words(effect)]


def window_words(now: Any, then: Any) -> str:
    """With what the log says on top."""
    return f"Expected is {_window(then)}; now it is {_window(now)}."


def _window(one: Any) -> str:
    return f"day {days_words(one.low, one.high)}, middle {one.middle} ({one.learned_from})"


def asked_words(effect: Any) -> str:
    """
    >>> class Some: asked_now, asked_then = 38, 41
    >>> asked_words(Some)
    'Today the round would ask for 41 things; now it asks for 38.'
    """
    if effect.asked_now == effect.asked_then:
        return f"Today the round would ask for {plural(effect.asked_now, 'thing')}, as it does now."
    return f"Today the round would ask for {plural(effect.asked_then, 'thing')}; now it asks for {effect.asked_now}."


def moved_words(effect: Any) -> str:
    """
    >>> class Some: sooner, later, same = 12, 0, 245
    >>> moved_words(Some)
    'Of what is open, 12 would be asked sooner and 0 later; 245 stay on their day.'
    """
    if effect.sooner == effect.later == 0:
        return "Nothing that is open would be asked on another day."
    moved = f"{effect.sooner} would be asked sooner and {effect.later} later"
    return f"Of what is open, {moved}; {effect.same} stay on their day."
