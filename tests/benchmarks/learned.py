"""What learning costs the first request after midnight: 2,000 waits of each step that is learned, in 60 mothers.

``python -m tests.benchmarks.learned`` prints CPU seconds. Floor: the fits alone, without reading, hashing and keeping.
Target: what is added to the fits is under a tenth of them, and from the disk and from memory it is next to nothing.
"""

import os
import random
import tempfile
import time
from collections.abc import Callable
from datetime import date, timedelta
from uuid import uuid4

STEPS = {"ripe": 120, "spike_open": 37, "spike_over": 30, "germination": 56, "germination_old": 140}
WAITS, MOTHERS = 2000, 60
TODAY = date(2026, 7, 15)


def main() -> None:
    os.environ["DJANGO_SETTINGS_MODULE"] = "nursery.site.settings"
    with tempfile.TemporaryDirectory() as folder:
        os.environ["TEPAL_DATA"] = folder
        import django

        django.setup()
        _measure()


def _measure() -> None:
    from breeding.learning import fits
    from breeding.learning.gather import Records
    from breeding.learning.stamp import Stamp
    from breeding.rounds.expected import from_shipped, priors_of

    rows = [(None, from_shipped(step)) for step in STEPS]
    priors = [prior for prior in priors_of(rows) if prior.step in STEPS]
    records = Records({step: _waits(middle) for step, middle in STEPS.items()}, {})
    fits.PATIENCE = 600
    fits.records_until = lambda *_: records
    stamp = Stamp(TODAY, uuid4())
    alone = _seconds(lambda: [fits.fitted_now(prior, records.waits[prior.step]) for prior in priors])
    first = _seconds(lambda: fits.learned(stamp, priors))
    fits.forget()
    restarted = _seconds(lambda: fits.learned(stamp, priors))
    again = _seconds(lambda: fits.learned(stamp, priors))
    print(f"{len(priors)} steps of {WAITS:,} waits in {MOTHERS} mothers; CPU seconds")
    print(f"fits alone                       {alone:8.3f}")
    print(f"first request after midnight     {first:8.3f}   {first / alone:.2f}x the fits alone")
    print(f"first request after a restart    {restarted:8.3f}   {restarted / alone:.3f}x")
    print(f"any other request                {again:8.6f}")


def _waits(middle: int) -> list:
    from breeding.learning.waits import Wait

    drawn = random.Random(middle)
    shifts = [drawn.gauss(0, 0.12) for _ in range(MOTHERS)]
    found = []
    for turn in range(WAITS):
        mother = turn % MOTHERS
        days = middle * 2.718281828 ** (shifts[mother] + drawn.gauss(0, 0.1))
        start = TODAY - timedelta(days=drawn.randrange(10, 1200))
        looks = range(0, (TODAY - start).days, 7)
        before = [look for look in looks if look < days]
        after = next((look for look in looks if look >= days), None)
        if before[-1:] > [0] or after:
            seen = None if after is None else start + timedelta(days=after)
            not_yet = start + timedelta(days=before[-1])
            found.append(Wait(turn, start, start, not_yet, seen, mother // 4, 100 + mother, 1000 + turn // 3))
    return found


def _seconds(do: Callable[[], object]) -> float:
    before = time.process_time()
    do()
    return time.process_time() - before


if __name__ == "__main__":
    main()
