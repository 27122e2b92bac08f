"""A share of what was counted, with the interval that its number of counts allows."""

from __future__ import annotations

import math
from statistics import NormalDist


def wilson(hits: float, n: float, level: float = 0.8) -> tuple[float, float]:
    """The interval in which the true share lies, told from ``hits`` out of ``n``; the whole of (0, 1) where n is 0.

    Source: Wilson 1927, J. Am. Stat. Assoc. 22:209-212.

    >>> [round(end, 3) for end in wilson(8, 10, 0.95)]
    [0.49, 0.943]
    """
    if n <= 0:
        return 0.0, 1.0
    z = NormalDist().inv_cdf((1 + level) / 2)
    share, more = hits / n, z * z / n
    middle = (share + more / 2) / (1 + more)
    half = z / (1 + more) * math.sqrt(share * (1 - share) / n + more / (4 * n))
    return max(middle - half, 0.0), min(middle + half, 1.0)
