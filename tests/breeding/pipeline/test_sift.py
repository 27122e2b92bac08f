"""Filters, order, totals and the axis, on lines made by hand."""

from datetime import date, timedelta

import pytest

from breeding.pipeline.axis import axis_for
from breeding.pipeline.lines import Line
from breeding.pipeline.parts import Window
from breeding.pipeline.shown import name_html, rows
from breeding.pipeline.sift import Choice, sifted, totals
from breeding.rounds.place_order import Walked
from nursery.names import NamePart

DAY = date(2026, 11, 25)
HOUSE, BENCH, TRAY = Walked(1, 0, "Warm", ""), Walked(2, 1, "Warm", "Bench 1"), Walked(3, 2, "Warm", "Bench 1, Tray")
OTHER = Walked(4, 3, "Warm", "Bench 12")
PLACES = {one.pk: one for one in (HOUSE, BENCH, TRAY, OTHER)}
RIPE = Window("ripe", DAY + timedelta(2), DAY + timedelta(20), DAY + timedelta(60))

PODS = Line(1, 1, "lowii × hamata", sub="section 1, blue tie", stages=frozenset({"pods", "seed"}), stage="seed",
            stage_words="pods ripening; seed waiting", start=DAY - timedelta(90), windows=(RIPE,), due=DAY, taxon_id=5,
            clone_id=8, where=frozenset({TRAY}), lots_open=2, may_open=True)  # fmt: skip
SILENT = Line(2, 2, "ampullaria × lowii", stages=frozenset({"silent"}), stage="silent", stage_words="0 of 4 pots up",
              late="nothing in 4 pots", wanted=60, due=DAY + timedelta(5), clone_id=9, where=frozenset({OTHER}),
              pots_open=4)  # fmt: skip
WISH = Line(3, 3, "veitchii × hamata", stages=frozenset({"wished"}), stage="wished", wanted=200)
ALL = [PODS, SILENT, WISH]


def chosen(**asked: str) -> list[int]:
    return [line.pk for line in sifted(ALL, Choice.of(asked), PLACES)]


@pytest.mark.parametrize(
    ("asked", "found"),
    [
        ({}, [1, 2, 3]),
        ({"stage": "pods"}, [1]),
        ({"stage": "seed"}, [1]),
        ({"late": "yes"}, [2]),
        ({"parent": "t5"}, [1]),
        ({"parent": "c9"}, [2]),
        ({"place": "1"}, [1, 2]),
        ({"place": "2"}, [1]),
        ({"place": "99"}, []),
        ({"q": "HAMATA"}, [1, 3]),
        ({"q": "hamata blue"}, [1]),
        ({"late": "yes", "stage": "pods"}, []),
        ({"stage": "x", "parent": "t", "place": "-1", "sort": "x", "late": "1"}, [1, 2, 3]),
        ({"place": "9" * 30, "parent": "c" + "9" * 30, "q": "\0"}, [1, 2, 3]),
        ({"sort": "cross"}, [2, 1, 3]),
        ({"sort": "-cross"}, [3, 1, 2]),
        ({"sort": "stage"}, [3, 1, 2]),
        ({"sort": "window"}, [1, 2, 3]),
        ({"sort": "-window"}, [1, 2, 3]),
        ({"sort": "-next"}, [2, 1, 3]),
        ({"sort": "wanted"}, [2, 3, 1]),
        ({"sort": "-wanted"}, [3, 2, 1]),
        ({"sort": "-wanted", "q": "hamata"}, [3, 1]),
    ],
)
def test_lines_are_chosen_and_ordered(asked: dict[str, str], found: list[int]):
    assert chosen(**asked) == found


def test_the_address_holds_the_choice():
    asked = {
        "stage": "pods",
        "parent": "c8",
        "place": "2",
        "late": "yes",
        "finished": "yes",
        "q": "a b",
        "sort": "-cross",
    }
    told = Choice.of(asked).query()
    assert told == "?stage=pods&parent=c8&place=2&late=yes&finished=yes&q=a+b&sort=-cross"


def test_totals_count_what_is_open():
    told = totals([*ALL, PODS._replace(pk=4, bagged=True)], spikes_open=4)
    assert (told.spikes_open, told.take, told.ripening, told.lots, told.pots) == (4, 0, 2, 4, 4)
    assert (told.may_open, told.not_bagged) == (2, 1)


def test_the_axis_fits_the_lines_and_cuts_off_what_is_too_far():
    axis = axis_for(ALL, DAY)
    assert (axis.start, axis.end) == (DAY - timedelta(100), DAY + timedelta(70))
    assert [tick.text for tick in axis.ticks] == ["Sep", "Oct", "Nov", "Dec", "Jan 2027"]
    assert axis.at(date(2027, 2, 1)) > 95, "of February only the first stroke would be seen"
    assert axis.past(PODS).x + axis.past(PODS).width == pytest.approx(axis.now, abs=0.02)
    [bar] = axis.windows(PODS)
    assert axis.now < bar.x < bar.middle < bar.x + bar.width < 100
    old = axis_for([PODS._replace(start=date(1990, 1, 1))], DAY)
    assert old.past(PODS).x > 0 == old.past(PODS._replace(start=date(1990, 1, 1))).x
    assert len(old.ticks) <= 9


def test_a_row_has_its_picture_in_words():
    [row] = rows([PODS._replace(wanted=1200)], axis_for(ALL, DAY))
    assert (row.window, row.wanted) == ("ripe 27 Nov to 24 Jan 2027, middle 15 Dec", "1,200")


def test_names_are_escaped():
    assert (
        name_html((NamePart("<b>&", "clone"),)) == '<span class="name"><b class="name__clone">&lt;b&gt;&amp;</b></span>'
    )
