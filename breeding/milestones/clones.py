from collections.abc import Iterable
from typing import Any


def clone_sex(spikes: Iterable[tuple[str, str]]) -> dict[str, Any]:
    """The sex of a clone from its spikes, each (sex, read from): open flowers decide over buds; both is contradictory.

    >>> clone_sex([("male", "buds"), ("female", "flowers")]), clone_sex([("male", "buds"), ("female", "buds")])
    ({'sex': 'female'}, {'sex': 'unclear'})
    """
    spikes = [(sex, source) for sex, source in spikes if sex]
    certain = {sex for sex, source in spikes if source == "flowers"}
    told = certain or {sex for sex, _ in spikes}
    if not told:
        return {"sex": ""}
    return {"sex": told.pop() if len(told) == 1 else "unclear"}
