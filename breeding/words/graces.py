"""How long an open pod keeps its seed, in a grower's words. Pure."""

from __future__ import annotations

from breeding.words.ages import plural

RULE = (
    "From open to spilt: the round looks so often that few open pods spill unseen. Bare pods that were found open, not "
    "long after a look that found none open, say how long they keep: had they split or fallen by then, or not yet?"
)
BAGS = (
    "What splits in a bag keeps its seed there, so nothing is learned of bags. Pods that stood in a hot spell of the "
    "house log are left out too; where one is on, and until the next look after it, six days of every ten are reckoned "
    "with (our choice)."
)
NOTHING_YET = "No bare pods were found open within four weeks of such a look yet, so the days below are used as set."
AS_IT_STANDS = "An owner wants the window used as it stands, and these days with it."


def learned_words(n: int, split: int, longer: float) -> str:
    """
    >>> learned_words(12, 3, 1.8)
    'Learned from 12 sections found open, of which 3 had split or fallen: they keep 2 days longer than was expected.'
    >>> learned_words(1, 0, 0.2)
    'Learned from 1 section found open, of which none had split or fallen: they keep about as long as was expected.'
    """
    return (
        f"Learned from {plural(n, 'section', 'sections')} found open, of which {split or 'none'} had split or fallen: "
        f"they keep {shift_words(longer)} was expected."
    )


def shift_words(longer: float) -> str:
    """
    >>> shift_words(-1.2), shift_words(0.4)
    ('1 day less than', 'about as long as')
    """
    days = round(abs(longer))
    if not days:
        return "about as long as"
    return f"{plural(days, 'day', 'days')} {'longer' if longer > 0 else 'less'} than"
