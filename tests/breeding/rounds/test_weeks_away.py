"""Nobody looked for three weeks: all that fell due is asked for, what is most at risk first."""

from datetime import timedelta

import pytest

from breeding.rounds.books import Books
from breeding.rounds.rules import nexts_for
from tests.breeding.rounds.rows import DAY, before, pot, section, spike

AWAY = 21
ROWS = {
    "opened": section(
        day0=150, stage="opening", take="most", last_seen="opening", last_look=before(AWAY), open_by=before(AWAY)
    ),
    "turning": section(
        day0=140,
        stage="turning",
        take="most",
        last_seen="turning",
        last_look=before(AWAY),
        open_after=before(AWAY),
        turning_by=before(AWAY),
    ),
    "in its window": section(day0=140, stage="swelling", take="most", last_look=before(AWAY), open_after=before(AWAY)),
    "bagged": section(
        day0=140, stage="swelling", take="most", last_look=before(AWAY + 6), open_after=before(AWAY + 6), bagged=True
    ),
    "young": section(day0=60, stage="swelling", take="most", last_look=before(AWAY), open_after=before(AWAY)),
    "budding": spike(
        stage="buds", found_first=before(45), found_last=before(45), last_look=before(AWAY), open_after=before(AWAY)
    ),
    "silent": pot(sown=60, ripe=65, last_look=before(AWAY), first_after=before(AWAY)),
}


def _asked(row, day):
    """The most urgent of what is asked by a day, and the urgency of each kind."""
    return {one.kind: one.weigh(day) for one in nexts_for(row, Books(), day) if one.due <= day}


@pytest.mark.parametrize("name", ROWS)
def test_all_that_fell_due_is_asked_for(name):
    asked = _asked(ROWS[name], DAY)
    assert asked
    assert all(urgency >= 0 for urgency in asked.values())


def test_what_is_most_at_risk_comes_first():
    urgency = {name: max(_asked(row, DAY).values()) for name, row in ROWS.items()}
    assert urgency["opened"] > urgency["turning"] > urgency["in its window"] > urgency["young"] > 0
    assert urgency["in its window"] > urgency["bagged"]


@pytest.mark.parametrize("name", [name for name in ROWS if name != "opened"])
@pytest.mark.parametrize("away", [90, 400, 4000])
def test_nothing_is_forgotten_however_long_they_were_away(name, away):
    later = DAY + timedelta(days=away)
    now, then = _asked(ROWS[name], DAY), _asked(ROWS[name], later)
    assert now.keys() <= then.keys()
    assert max(then.values()) >= max(now.values())
