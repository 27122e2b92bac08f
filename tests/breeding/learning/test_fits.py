"""Fits are worked out once for the same records, kept on the disk, and never in the way of the round."""

import time
from collections.abc import Iterator
from dataclasses import replace
from datetime import date, timedelta
from pathlib import Path
from typing import Any
from uuid import uuid4

import pytest
from django.db import DatabaseError

from breeding.learning import fits
from breeding.learning.fits import NOTHING, Prior, learned
from breeding.learning.gather import STEPS, Records
from breeding.learning.stamp import Stamp
from breeding.learning.waits import Wait
from breeding.rounds.expected import Expectations, Expected, from_shipped, priors_of
from breeding.science.outside import fit_without_slips as real_fit

DAY = date(2026, 7, 15)
PRIOR = Prior("ripe", None, 80, 240)
LOWII = Prior("ripe", 3, 60, 90)


def _waits(middle: int, count: int = 6) -> list[Wait]:
    """So many sections of two mothers that were seen to open two days around this age."""
    found = []
    for turn in range(count):
        start = DAY - timedelta(days=400 - 9 * turn)
        seen = (start + timedelta(days=middle - 2), start + timedelta(days=middle + 2))
        found.append(Wait(turn, start, start, *seen, 3, 4 + turn % 2, 10 * (turn % 2) + turn // 4))
    return found


class Bench:
    """Records that a test changes, and how often they were read and fitted."""

    def __init__(self) -> None:
        self.waits, self.read, self.fitted = _waits(110), 0, 0
        self.breaks: Exception | None = None
        self.slow = 0.0

    def records(self, *_: Any) -> Records:
        self.read += 1
        if isinstance(self.breaks, (KeyError, DatabaseError)):
            raise self.breaks
        return Records(dict.fromkeys(STEPS, []) | {"ripe": self.waits}, {})

    def fit(self, *args: Any, **more: Any) -> Any:
        self.fitted += 1
        time.sleep(self.slow)
        if isinstance(self.breaks, ArithmeticError):
            raise self.breaks
        return real_fit(*args, **more)

    def middle(self, *priors: Prior) -> int | None:
        """The middle of what is expected the morning after these records were made, by a server just started."""
        fits.forget()
        found = learned(Stamp(DAY, uuid4()), priors or (PRIOR,)).of("ripe", None, kind=None, clone=None, spike=None)
        return None if found is None else round(found.law.median)


@pytest.fixture
def bench(settings: Any, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Iterator[Bench]:
    settings.LEARNED = tmp_path / "learned"
    made = Bench()
    monkeypatch.setattr(fits, "records_until", made.records)
    monkeypatch.setattr(fits, "fit_without_slips", made.fit)
    monkeypatch.setattr(fits, "PATIENCE", 60)
    yield made
    fits.forget()


def test_the_same_records_are_read_once_a_day_and_fitted_once(bench: Bench) -> None:
    stamp = Stamp(DAY, uuid4())
    first = learned(stamp, [PRIOR])
    assert learned(stamp, [PRIOR]) is first and (bench.read, bench.fitted) == (1, 1)
    assert bench.middle() == bench.middle() and (bench.read, bench.fitted) == (3, 1)  # from the disk
    before = bench.middle()
    bench.waits = _waits(150)
    assert bench.middle() > before + 20 and bench.fitted == 2


def test_another_window_is_another_question(bench: Bench) -> None:
    assert bench.middle(PRIOR._replace(low=300, high=500)) > bench.middle() and bench.fitted == 2


def test_where_nothing_was_recorded_nothing_is_read(bench: Bench) -> None:
    assert learned(Stamp(DAY), [PRIOR]) is NOTHING and bench.read == 0


@pytest.mark.parametrize("text", ["", "{", '{"key": 1}', "[]", '{"key": "k", "told": "{}"}'])
def test_a_broken_file_is_made_again(bench: Bench, settings: Any, text: str) -> None:
    before = bench.middle()
    [file] = settings.LEARNED.iterdir()
    whole = file.read_text()
    file.write_text(text.replace('"k"', whole.split('"')[3].join('""')))
    assert bench.middle() == before and bench.fitted == 2
    assert file.read_text() == whole


def test_a_fit_that_fails_leaves_the_last_good_one(bench: Bench, caplog: pytest.LogCaptureFixture) -> None:
    good = bench.middle()
    bench.waits, bench.breaks = _waits(150), ZeroDivisionError("no spread")
    assert bench.middle() == good
    assert "Learning ripe failed. What was learned last is used." in caplog.text
    assert learned(Stamp(DAY, uuid4()), [PRIOR]).failed == {"ripe"}


def test_where_none_was_ever_good_the_shipped_window_holds(bench: Bench) -> None:
    bench.breaks = ZeroDivisionError()
    assert bench.middle() is None
    assert Expectations((), learned(Stamp(DAY, uuid4()), [PRIOR])).of("ripe") == from_shipped("ripe")


def test_records_that_cannot_be_read_leave_the_last_good_one_but_a_database_must_say_so(bench: Bench) -> None:
    good = bench.middle()
    bench.breaks = KeyError("seen")
    assert bench.middle() == good
    bench.breaks = DatabaseError("gone")
    with pytest.raises(DatabaseError):
        bench.middle()


def test_a_slow_fit_is_not_waited_for_and_serves_once_it_is_done(
    bench: Bench, monkeypatch: pytest.MonkeyPatch, caplog: pytest.LogCaptureFixture
) -> None:
    good = bench.middle()
    bench.waits, bench.slow = _waits(150), 0.3
    monkeypatch.setattr(fits, "PATIENCE", 0.01)
    stamp = Stamp(DAY, uuid4())
    fits.forget()
    slow = learned(stamp, [PRIOR])
    assert round(slow.of("ripe", None, kind=None, clone=None, spike=None).law.median) == good
    assert "Learning ripe takes long." in caplog.text
    fits._aside.submit(int).result()  # one at a time: what was begun before is done
    assert round(learned(stamp, [PRIOR]).of("ripe", None, kind=None, clone=None, spike=None).law.median) > good + 20
    assert bench.fitted == 2


def test_a_disk_that_refuses_breaks_nothing(bench: Bench, settings: Any, tmp_path: Path) -> None:
    (tmp_path / "file").write_text("")
    settings.LEARNED = tmp_path / "file" / "learned"
    assert bench.middle() == bench.middle() and bench.fitted == 2


# --- what is expected of one thing ---


def test_the_levels_and_their_words(bench: Bench) -> None:
    row = from_shipped("ripe")
    expectations = Expectations([(None, row)], learned(Stamp(DAY, uuid4()), [PRIOR]))
    usual = [expectations.of("ripe", *ids).learned_from for ids in ((), (8, 9), (3,), (3, 4), (3, 4, 0), (3, 4, 99))]
    assert usual == [
        "from 6 sections here",
        "from 6 sections here",
        "from 6 sections of this species",
        "from 3 sections of this mother, 6 in all",
        "from 2 sections of this spike, 6 in all",
        "from 3 sections of this mother, 6 in all",
    ]
    here, mother = expectations.of("ripe"), expectations.of("ripe", 3, 4)
    assert mother is expectations.of("ripe", 3, 4, 99)  # thousands of things share a few rows
    assert mother.usual == f"usual is day {mother.low} to {mother.high}, middle {mother.middle} ({mother.learned_from})"
    assert mother.low < 110 < mother.high and mother.high - mother.low <= here.high - here.low
    assert (mother.risk, mother.grace_bagged, mother.said) == (row.risk, row.grace_bagged, row.said)
    assert expectations.of("take", 3, 4) == from_shipped("take")


def test_a_window_of_a_taxon_is_learned_on_top_of_by_what_is_of_it(bench: Bench) -> None:
    own = Expectations([(3, _row(LOWII))])
    bench.waits = [*_waits(110), *(wait._replace(taxon=7, clone=8) for wait in _waits(150))]
    rows = [(None, from_shipped("ripe")), (3, _row(LOWII))]
    found = Expectations(rows, learned(Stamp(DAY, uuid4()), priors_of(rows)))
    assert (found.of("ripe", 3).in_all, found.of("ripe", 7).in_all, found.of("ripe", 7).n) == (6, 12, 6)
    assert own.of("ripe", 3).middle < found.of("ripe", 3).middle


def test_a_window_that_stands_as_it_is_learns_nothing(bench: Bench) -> None:
    stands = Expectations([(None, from_shipped("ripe"))])
    row = _row(PRIOR, as_it_stands=True)
    assert [one.step for one in priors_of([(None, row)])].count("ripe") == 0
    found = Expectations([(None, row)], learned(Stamp(DAY, uuid4()), [PRIOR]))
    assert found.of("ripe", 3, 4) is row and stands.of("ripe", 3, 4).law is None


def _row(prior: Prior, **more: Any) -> Expected:
    return replace(from_shipped("ripe"), low=prior.low, high=prior.high, said="set here", **more)
