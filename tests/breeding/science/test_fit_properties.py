"""What holds of a fit whatever the log holds: few drawn logs each, small ones, and always the same."""

import numpy as np
import pytest
from hypothesis import Phase, given, settings
from hypothesis import strategies as st

from breeding.science.fitted import Fit
from breeding.science.phenology import Waits, fit
from breeding.science.timings import Timing

PODS = Timing(80, 240)
FEW = settings(max_examples=8, deadline=None, derandomize=True, phases=(Phase.generate,))
COLUMNS = tuple(Waits.__dataclass_fields__)
START, GROUPS = 740_000, st.tuples(st.integers(-1, 2), st.integers(-1, 3), st.integers(-1, 4))
"""Day numbers of our time; a group of -1 is not known."""


@st.composite
def sane_waits(draw, fewest=1, most=8, ages=(40, 300)):
    """Rows that a careful nursery may hold: seen within a fortnight, or still waited for."""
    rows = []
    for _ in range(draw(st.integers(fewest, most))):
        start, age, gap = START + draw(st.integers(0, 900)), draw(st.integers(*ages)), draw(st.integers(1, 14))
        seen = start + age + gap if draw(st.integers(0, 4)) else np.nan
        rows.append((start, start, start + age, seen, *draw(GROUPS)))
    return rows


any_day = st.one_of(st.integers(0, 60), st.integers(0, 3_000_000), st.just(START))
any_wait = st.tuples(any_day, any_day, any_day, st.one_of(any_day, st.just(np.nan)), GROUPS)


def waits(rows):
    return Waits(*np.array(rows, dtype=float).reshape(-1, 7).T)


def fitted(rows, **more):
    return fit(waits(rows), shipped=PODS, **more)


def medians(found: Fit):
    return [found.predicted(*ids).law.median for ids in ((), (0,), (0, 0), (1, 1, 1), (9, 9, 9))]


@FEW
@given(st.lists(any_wait, max_size=12), st.booleans())
def test_whatever_days_a_log_holds_its_law_can_be_used(drawn, may_never):
    """Tiny intervals, ages of thousands of years, starts after the end, vague by a lifetime, all still waited for."""
    found = fitted([(*row[:4], *row[4]) for row in drawn], may_never=may_never)
    law = found.predicted(0, 0, 0).law
    assert 0 < law.low < law.median < law.high < np.inf and 0 <= law.never < 1
    assert 0 <= law.survival(law.high) <= law.survival(law.low) <= 1
    assert law.quantile_after(5000, 0.01) >= 5000
    assert all(0 < group.low <= group.shift <= group.high < np.inf for group in found.groups("clone"))
    assert Fit.from_json(found.to_json()) == found


@FEW
@given(sane_waits())
def test_what_is_only_waited_for_is_still_the_shipped_window(rows):
    waiting = [(*row[:3], np.nan, *row[4:]) for row in rows]
    assert fitted(waiting) == Fit(0, PODS.window())


@FEW
@given(sane_waits(), st.randoms(use_true_random=False))
def test_shuffled_rows_give_the_same(rows, chance):
    shuffled = list(rows)
    chance.shuffle(shuffled)
    assert fitted(shuffled) == fitted(rows)


@FEW
@given(sane_waits(fewest=2), st.integers(-400_000, 400_000))
def test_another_calendar_changes_nothing(rows, days):
    moved = [(*(day + days for day in row[:4]), *row[4:]) for row in rows]
    assert medians(fitted(moved)) == pytest.approx(medians(fitted(rows)), rel=1e-5)


@FEW
@given(sane_waits(fewest=2))
def test_longer_waits_give_longer_medians(rows):
    """All waits half as long again, each from its own first day."""
    longer = [(row[0], row[1], *(row[0] + 1.5 * (day - row[0]) for day in row[2:4]), *row[4:]) for row in rows]
    before, after = fitted(rows), fitted(longer)
    if before.n:
        assert all(later > sooner for later, sooner in zip(medians(after), medians(before), strict=True))


@FEW
@given(sane_waits(fewest=2, ages=(110, 170)))
def test_the_same_seen_twice_leaves_less_doubt_of_the_middle(rows):
    """Of one spike's own; of the nursery's, one spike says little. All about as was believed: what surprises makes
    every spread wider, the more so the oftener it is seen."""
    of_one = [(*row[:3], row[2] + 7, 1, 1, 1) for row in rows]
    once, twice = fitted(of_one), fitted(of_one + of_one)
    assert twice.n == 2 * once.n
    assert twice.known[-1].level == "spike" and twice.known[-1].var < once.known[-1].var


@pytest.mark.parametrize(("not_yet", "seen"), [(99, 100), (0, 1), (0, 700_000), (699_999, 700_000)])
def test_one_look_gives_a_law_between_the_shipped_and_what_was_seen(not_yet, seen):
    law = fitted([(START, START, START + not_yet, START + seen, 1, 2, 3)]).predicted(1, 2, 3).law
    between = sorted([PODS.median, min(max(PODS.median, not_yet), seen)])
    assert between[0] * 0.999 <= law.median <= between[1] * 1.001 and law.low < law.high < np.inf


def test_two_thousand_looks_of_sixty_mothers_give_each_its_law():
    draw = np.random.default_rng(11)
    clone = np.sort(np.arange(2000) % 60)
    age = np.exp(draw.normal(4.7, 0.15, 60)[clone] + draw.normal(0, 0.1, 2000))
    start = START + draw.integers(0, 900, 2000)
    not_yet = start + np.floor(age / 7) * 7
    found = fit(Waits(start, start, not_yet, not_yet + 7, clone // 4, clone, np.arange(2000) // 3), shipped=PODS)
    means = [np.exp(np.log(age[clone == one]).mean()) for one in range(60)]
    assert [found.predicted(one // 4, one).law.median for one in range(60)] == pytest.approx(means, rel=0.05)
