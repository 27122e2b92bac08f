"""Days as they are typed at a desk; counted by hand on a calendar."""

from datetime import date

import pytest

from nursery.site.typed_day import TOLD, day_typed

TODAY = date(2026, 11, 27)


@pytest.mark.parametrize(
    ("typed", "day"),
    [
        ("2026-11-26", date(2026, 11, 26)),
        ("26 Nov", date(2026, 11, 26)),
        (" 26th  november ", date(2026, 11, 26)),
        ("26.11.", date(2026, 11, 26)),
        ("27.11", TODAY),
        ("28 Nov", date(2025, 11, 28)),
        ("29 Feb", date(2024, 2, 29)),
        ("Thu 26 Nov 2026", date(2026, 11, 26)),
        ("24.12.2027", date(2027, 12, 24)),
        ("Yesterday", date(2026, 11, 26)),
        ("today", TODAY),
    ],
)
def test_one_day(typed: str, day: date) -> None:
    assert day_typed(typed, TODAY) == day


@pytest.mark.parametrize(
    "typed", ["", "soon", "Nov 2026", "2026", "31 Feb", "32.1.2026", "3/4/2026", "about 9 Mar 2026", "?"]
)
def test_what_is_no_day_or_several_is_refused(typed: str) -> None:
    with pytest.raises(ValueError, match=TOLD):
        day_typed(typed, TODAY)
