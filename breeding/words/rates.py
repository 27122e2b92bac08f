"""What a cross gave, in numbers, each with the count of what was seen beside it. Pure; nothing is guessed or filled in.

A rate is only told from what was counted or read: sections nobody read and pots nobody counted are left out of it, and
the count beside it says how many were in.
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from statistics import median_low
from typing import Any

from breeding.words.ages import plural

SWOLLEN = frozenset({"third", "half", "most", "all"})


@dataclass(frozen=True)
class Rate:
    label: str
    value: str


@dataclass(frozen=True)
class Cut:
    """One harvest that counts: from which section, how many pods if counted, and which lot it became.

    ``exact`` says that its day is known to the day.
    """

    section: int | None
    lot: int
    pods: int | None
    exact: bool = True


def rates(sections: Sequence[Any], cuts: Sequence[Cut], lots: Sequence[Any], pots: Sequence[Any]) -> list[Rate]:
    """All that can be told of a cross from its own rows; what nobody saw is left away.

    A pot that was split off is no pot that was sown: what came up is told of the pot it came from.
    """
    lost = sum(pot.lost for pot in pots)
    pots = [pot for pot in pots if pot.split_from_id is None]
    told = [
        ("Take", _take(sections)),
        ("Pods", _pods(sections, cuts)),
        ("Pollination to harvest", _days_to_harvest(sections, cuts)),
        ("Seed", _seed(cuts, lots)),
        ("Pots up", f"{sum(pot.stage == 'up' for pot in pots)} of {plural(len(pots), 'pot')}" if pots else ""),
        ("Sown to first seedling", _days_to_seedling(pots)),
        ("Seedlings", _seedlings(pots)),
        ("Lost", plural(lost, "seedling")),
    ]
    return [Rate(label, value) for label, value in told if value and value != "0 seedlings"]


def percent(part: int, whole: int) -> str:
    """A whole percent, but never 0% or 100% of what is not none or all.

    >>> percent(1, 3), percent(1, 1000), percent(999, 1000), percent(0, 5)
    ('33%', 'under 1%', 'over 99%', '0%')
    """
    share = round(100 * part / whole)
    if share == 0 and part:
        return "under 1%"
    return "over 99%" if share == 100 and part < whole else f"{share}%"


def _take(sections: Sequence[Any]) -> str:
    read = [section for section in sections if section.take]
    took = sum(section.take in SWOLLEN for section in read)
    return f"{took} of {plural(len(read), 'section')} read had pods swelling" if read else ""


def _pods(sections: Sequence[Any], cuts: Sequence[Cut]) -> str:
    """Pods cut; per flower only from sections whose flowers, and every harvest, were counted and that are done."""
    counted = [cut.pods for cut in cuts if cut.pods is not None]
    if not counted:
        return ""
    told = f"{plural(sum(counted), 'pod')} cut in {plural(len(counted), 'counted harvest')}"
    whole = [one for one in sections if one.stage == "harvested" and one.flowers and _all_counted(one, cuts)]
    flowers = sum(one.flowers for one in whole)
    if not flowers:
        return told
    pods = sum(cut.pods or 0 for cut in cuts if cut.section in {one.pk for one in whole})
    return f"{told}; {pods:,} from {plural(flowers, 'flower')} ({plural(len(whole), 'section')} counted whole)"


def _all_counted(section: Any, cuts: Sequence[Cut]) -> bool:
    mine = [cut for cut in cuts if cut.section == section.pk]
    return bool(mine) and all(cut.pods is not None for cut in mine)


def _days_to_harvest(sections: Iterable[Any], cuts: Sequence[Cut]) -> str:
    """Only where both days are known to the day."""
    vague = {cut.section for cut in cuts if not cut.exact}
    days = [
        (one.harvested_on - one.day0_first).days
        for one in sections
        if one.harvested_on and one.day0_first and one.day0_first == one.day0_last and one.pk not in vague
    ]
    return _spread(days, "section")


def _seed(cuts: Sequence[Cut], lots: Sequence[Any]) -> str:
    told = [lot for lot in lots if lot.estimate is not None]
    wholes = {lot.pk for lot in told}
    estimated = [lot for lot in told if lot.split_from_id not in wholes]  # a part is in its whole's estimate
    if not estimated:
        return ""
    how = ", ".join(sorted({lot.estimate_from for lot in estimated if lot.estimate_from}))
    seeds = sum(lot.estimate for lot in estimated)
    words = f"{plural(seeds, 'seed')} in {plural(len(estimated), 'lot')}{f', {how}' if how else ''}"
    pods = {cut.lot: cut.pods for cut in cuts if cut.pods}
    with_pods = [lot for lot in estimated if lot.pk in pods]
    if not with_pods:
        return words
    number = sum(pods[lot.pk] for lot in with_pods)
    each = round(sum(lot.estimate for lot in with_pods) / number)
    return f"{words}; about {each:,} a pod, from {plural(number, 'pod')}"


def _days_to_seedling(pots: Iterable[Any]) -> str:
    """From the day sown to the first look that showed a seedling: the event itself came somewhat before."""
    days = [
        (pot.first_by - pot.sown_first).days
        for pot in pots
        if pot.first_by and pot.sown_first and pot.sown_first == pot.sown_last
    ]
    return _spread(days, "pot")


def _seedlings(pots: Sequence[Any]) -> str:
    """What each pot gave by its last count; of the seeds only where these were counted into the pot."""
    counted = [pot for pot in pots if pot.raised is not None]
    if not counted:
        return ""
    told = f"{sum(pot.raised for pot in counted):,} counted in {len(counted)} of {plural(len(pots), 'pot')}"
    with_seeds = [pot for pot in counted if pot.seeds]
    if not with_seeds:
        return told
    up, seeds = sum(pot.raised for pot in with_seeds), sum(pot.seeds for pot in with_seeds)
    return f"{told}; {percent(up, seeds)} of {plural(seeds, 'seed')} sown in {plural(len(with_seeds), 'pot')}"


def _spread(days: Sequence[int], what: str) -> str:
    """
    >>> _spread([41, 60, 43], "pot"), _spread([41], "pot"), _spread([], "pot")
    ('43 days (41 to 60), from 3 pots', '41 days, from 1 pot', '')
    """
    if not days:
        return ""
    middle = plural(median_low(days), "day")
    between = f" ({min(days)} to {max(days)})" if len(days) > 1 else ""
    return f"{middle}{between}, from {plural(len(days), what)}"
