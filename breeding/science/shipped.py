"""What a new nursery starts with: how long each step takes, until its own log knows better.

Every row says where it comes from and how strong that is. Strength: P a paper, G government or code, H one grower's
page, C common practice without a source, M from memory, unchecked. All of it can be edited; none of it is a law.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache

from breeding.science.grace import Grace
from breeding.science.timings import Timing

STRENGTHS = {
    "P": "a paper",
    "G": "government, code or extension text",
    "H": "one grower's page",
    "C": "common practice, no source",
    "M": "from memory, unchecked",
}


@dataclass(frozen=True)
class Shipped:
    """One step with the 80% window of its length, and how it is watched.

    ``low`` and ``high`` are days; ``grace_plain`` and ``grace_bagged`` are days from the event to the loss of what
    it is watched for; ``risk`` is the accepted share of things lost like that, from start to end; ``longest_gap`` is
    days.
    """

    step: str
    words: str
    low: int
    high: int
    grace_plain: int
    grace_bagged: int
    risk: float
    longest_gap: int
    source: str
    strength: str
    note: str

    @property
    def timing(self) -> Timing:
        return Timing(self.low, self.high)


SHIPPED = (
    Shipped(
        step="spike_open",
        words="spike seen to first open flower",
        low=28,
        high=49,
        grace_plain=7,
        grace_bagged=7,
        risk=0.05,
        longest_gap=10,
        source="Out of the leaf sheath to the first open flower took 28 to 49 days in one wild species "
        "(J. Trop. Forest Sci. 12(2):377-387, 2000).",
        strength="P",
        note="Looking every ten days at the least is our choice. A spike that is seen late opens sooner than this.",
    ),
    Shipped(
        step="spike_over",
        words="first open flower to spike over",
        low=21,
        high=42,
        grace_plain=7,
        grace_bagged=7,
        risk=0.2,
        longest_gap=7,
        source="A female spike is receptive for about 30 days, best in the first 14, in one wild species "
        "(J. Trop. Forest Sci. 12(4):635-642, 2000).",
        strength="P",
        note="The paper gives about 30 days; the window around it is our choice. From memory: a single flower is "
        "receptive for 7 to 14 days.",
    ),
    Shipped(
        step="take",
        words="pollination to a take that can be read",
        low=35,
        high=49,
        grace_plain=14,
        grace_bagged=14,
        risk=0.2,
        longest_gap=14,
        source="Take is best judged by swelling, five to seven weeks after pollination; from memory.",
        strength="M",
        note="Brown stigmas are a hint only: unpollinated ones brown with age too. A late reading loses little.",
    ),
    Shipped(
        step="ripe",
        words="pollination to the first ripe pod",
        low=80,
        high=240,
        grace_plain=6,
        grace_bagged=21,
        risk=0.005,
        longest_gap=28,
        source="Warm easy hybrids 80 to 130 days, cool highlanders 150 to 240; from memory. In the wild 20 to 26 weeks "
        "for one species (J. Trop. Forest Sci. 12(2):377-387, 2000).",
        strength="M",
        note="Sources differ, so the wider window is shipped. Winter adds up to a third. An open pod keeps about 6 to "
        "10 days, a bagged one 3 to 4 weeks; both from memory, one in ten keeps shorter than stands here.",
    ),
    Shipped(
        step="turning",
        words="first pod turning to the first ripe pod",
        low=5,
        high=21,
        grace_plain=6,
        grace_bagged=21,
        risk=0.005,
        longest_gap=28,
        source="Ripening runs along a section over one to three weeks; from memory.",
        strength="M",
        note="Somewhat less than one week is shipped, as the wider window. Grace, risk and longest gap of pods are "
        "those of the step from pollination to the first ripe pod.",
    ),
    Shipped(
        step="germination",
        words="sown to first seedling, fresh seed",
        low=28,
        high=112,
        grace_plain=14,
        grace_bagged=14,
        risk=0.1,
        longest_gap=28,
        source="Fresh seed in a good greenhouse comes up in about eight weeks; common practice, no source.",
        strength="C",
        note="Other growers say 2 to 12 weeks; one species on leaf-mould had half up at eight weeks. A pot is never "
        "closed by itself: it is asked about at 3, 6 and 12 months.",
    ),
    Shipped(
        step="germination_old",
        words="sown to first seedling, old seed",
        low=56,
        high=365,
        grace_plain=14,
        grace_bagged=14,
        risk=0.1,
        longest_gap=28,
        source="Older seed, or other conditions, may take up to a year; common practice, no source.",
        strength="C",
        note="For seed of unknown age too. A pot is never closed by itself: it is asked about at 3, 6 and 12 months.",
    ),
    Shipped(
        step="crowded",
        words="first seedling to potting on",
        low=274,
        high=486,
        grace_plain=30,
        grace_bagged=30,
        risk=0.2,
        longest_gap=90,
        source="A pot is crowded after about a year, the large shading the small; common practice, no source.",
        strength="C",
        note="Nine to sixteen months around a year is our choice. Potting on earlier helps.",
    ),
)

GRACE_REACHES = {"ripe": (10 / 6, 28 / 21)}
"""By step, plain and bagged: one in ten keeps longer than so many times the days in its row, one in ten shorter than
those. An open pod keeps about 6 to 10 days, a bagged one 3 to 4 weeks (from memory).
"""
NO_REACH = (1.0, 1.0)
"""Of other steps nothing is known of how their grace differs."""


@lru_cache(maxsize=1024)
def graces(step: str, days: int, *, bagged: bool) -> Grace:
    """How a grace of so many days, which one in ten does not reach, differs from one thing to the next.

    >>> graces("ripe", 6, bagged=False).days[-1], graces("germination", 14, bagged=False)
    (15, Grace(days=(14,), shares=(1.0,)))
    """
    return Grace.between(days, days * GRACE_REACHES.get(step, NO_REACH)[bagged]) if days else Grace.of(0)


_BY_STEP = {row.step: row for row in SHIPPED}


def shipped(step: str) -> Shipped:
    """The row of one step.

    Raises:
        ValueError: no such step; the message lists them.

    >>> round(shipped("germination").timing.median)
    56
    """
    if step not in _BY_STEP:
        raise ValueError(f"No timing is shipped for “{step}”; there is one for {', '.join(_BY_STEP)}.")
    return _BY_STEP[step]
