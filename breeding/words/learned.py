"""What was learned of a step, in a grower's words. Pure."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date

from breeding.words.ages import day_words, plural

LEVELS = {"taxon": "this kind of plant", "clone": "this mother", "spike": "this spike"}
OF_SPIKES = {"clone": "this clone"}
NOT_LEARNED = {
    "take": "A reading of take says whether pods swell, not since when they do, and it is only asked for in this "
    "window. So nothing is learned of it: the window is used as it stands.",
    "crowded": "No act tells when a pot was potted on. So nothing is learned of it: the window is used as it stands.",
}
AS_IT_STANDS = "An owner wants this window used as it stands, so the log does not change it."
NOTHING_YET = "Nothing is learned yet: the window above is used as it stands until the records say more."
FAILED = "The last reckoning failed or is not done yet, so an earlier one is used. The server's log says more."
RULE = (
    "The window says what to expect before anything is seen. The nursery's own log learns on top of it: the more was "
    "seen, the less the window counts. What was recorded up to last midnight counts."
)


def days_words(low: float, high: float) -> str:
    """
    >>> days_words(95.6, 128.2)
    '96 to 128'
    """
    return f"{round(low)} to {round(high)}"


def shift_words(factor: float) -> str:
    """A factor on days, as people say it.

    >>> [shift_words(factor) for factor in (0.92, 1.0, 1.004, 1.3)]
    ['8% sooner', 'the same', 'the same', '30% later']
    """
    percent = round(abs(factor - 1) * 100)
    if percent == 0:
        return "the same"
    return f"{percent}% {'later' if factor > 1 else 'sooner'}"


def shift_with_interval(factor: float, low: float, high: float) -> str:
    """
    >>> shift_with_interval(0.92, 0.85, 1.01)
    '8% sooner (15% sooner to 1% later)'
    """
    return f"{shift_words(factor)} ({shift_words(low)} to {shift_words(high)})"


def learned_words(n: int, came: int, things: tuple[str, str]) -> str:
    """From how much it was learned: what came, and what was only waited for.

    >>> learned_words(14, 12, ("section", "sections"))
    'from 14 sections: 12 were seen to come, 2 only waited for'
    """
    waited = f", {n - came} only waited for" if n > came else ""
    return f"from {plural(n, *things)}: {came} {'was' if came == 1 else 'were'} seen to come{waited}"


def outside_words(days: int, came: bool) -> str:
    """
    >>> outside_words(475, True), outside_words(1, True)
    ('475 days: far outside what the others here took', '1 day: far outside what the others here took')
    """
    return f"{plural(days, 'day', 'days')}{'' if came else ' and not come'}: far outside what the others here took"


def never_words(never: float, things: tuple[str, str]) -> str:
    """
    >>> never_words(0.083, ("pot", "pots"))
    'About 8 in 100 pots never come.'
    """
    return f"About {round(never * 100)} in 100 {things[1]} never come." if round(never * 100) else ""


def percent(share: float) -> str:
    return f"{round(share * 100)}%"


def held_words(share: float, low: float, high: float) -> str:
    """
    >>> held_words(0.78, 0.7, 0.84)
    '78% (70% to 84%)'
    """
    return f"{percent(share)} ({percent(low)} to {percent(high)})"


def observed_words(came: int, waiting: int, since: date, today: date, things: tuple[str, str]) -> str:
    """What was held against its prediction, and how.

    >>> observed_words(31, 9, date(2026, 3, 1), date(2026, 11, 25), ("section", "sections"))
    '40 sections that began after 1 Mar, 31 of which came so far, each held against what was known before it began.'
    """
    return (
        f"{plural(came + waiting, *things)} that began after {day_words(since, today)}, {came} of which came so far, "
        "each held against what was known before it began."
    )


def left_out_words(times: Sequence[str]) -> str:
    """
    >>> left_out_words(["heat, 3 Mar"])
    'One time is left out of what is learned: heat, 3 Mar.'
    """
    if not times:
        return "No time is left out of what is learned."
    count = "One time is" if len(times) == 1 else f"{len(times)} times are"
    return f"{count} left out of what is learned: {'; '.join(times)}."
