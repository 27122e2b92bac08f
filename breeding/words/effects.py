"""What a change of a timing would do, in sentences. Pure."""

from __future__ import annotations

from typing import Any

from breeding.words.ages import plural
from breeding.words.learned import days_words


def effect_words(effect: Any) -> list[str]:
    """``effect`` as ``breeding.rounds.preview`` works it out."""
    told = [window_words(effect.now, effect.then), asked_words(effect), moved_words(effect)]
    return [*told, looks_words(effect.spent_now, effect.spent_then)] if effect.spent_then else told


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


def looks_words(now: Any, then: Any) -> str:
    """
    >>> class Now: looks, lost = 12.04, 0.0019
    >>> class Then: looks, lost = 8.6, 0.0098
    >>> looks_words(Now, Then)
    'Each would be looked at 8.6 times until it is seen, and 1.0% be lost unseen; now it is 12.0 times and 0.19%.'
    """
    then_words, now_words = (f"{one.looks:.1f} times" for one in (then, now))
    return (
        f"Each would be looked at {then_words} until it is seen, and {lost_words(then.lost)} be lost unseen; "
        f"now it is {now_words} and {lost_words(now.lost)}."
    )


def lost_words(share: float) -> str:
    """A share with the digits that tell it from another.

    >>> [lost_words(share) for share in (0.0019, 0.0098, 0.0961, 0)]
    ['0.19%', '1.0%', '10%', 'none']
    """
    percent = share * 100
    digits = 2 if percent < 0.95 else 1 if percent < 9.5 else 0
    return f"{percent:.{digits}f}%" if percent >= 0.005 else "none"
