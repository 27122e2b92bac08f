"""Rows for the rules, made by hand: what a test leaves out is nothing, and days are told as "n days before DAY"."""

from datetime import UTC, date, datetime, time, timedelta
from typing import Any

from breeding.rounds.books import Books, Next
from breeding.rounds.rows import FadingRow, PollenRow, PotRow, RoutineRow, Row, SectionRow, SeedRow, SowingRow, SpikeRow
from breeding.rounds.rules import nexts_for

DAY = date(2026, 7, 15)
EMPTY: dict[str, Any] = {
    "last_seen": "",
    "stage": "",
    "position": "",
    "sex": "",
    "tie": "",
    "take": "",
    "words": "",
    "storage": "unknown",
    "amount": "",
    "bagged": False,
    "order": 1,
    "cross_id": 1,
    "none_readings": 0,
    "quarantine": "",
}


def before(days: int) -> date:
    return DAY - timedelta(days=days)


def spike(**facts: Any) -> SpikeRow:
    return _row(SpikeRow, facts)


def section(**facts: Any) -> SectionRow:
    """Pollinated on one day, ``day0`` days ago, and not looked at since unless the test says so."""
    if "day0" in facts:
        day = before(facts.pop("day0"))
        facts = {"day0_first": day, "day0_last": day, "last_look": day, "open_after": day} | facts
    return _row(SectionRow, {"stage": "pollinated"} | facts)


def lot(**facts: Any) -> PollenRow:
    return _row(PollenRow, facts)


def seed(**facts: Any) -> SeedRow:
    return _row(SeedRow, {"stage": "waiting"} | facts)


def pot(**facts: Any) -> PotRow:
    """Sown on one day, ``sown`` days ago, from seed ripe ``ripe`` days ago."""
    if "sown" in facts:
        day = before(facts.pop("sown"))
        facts = {"sown_first": day, "sown_last": day, "first_after": day} | facts
    if "ripe" in facts:
        facts["ripe_first"] = before(facts.pop("ripe"))
    return _row(PotRow, {"stage": "sown"} | facts)


def routine(**facts: Any) -> RoutineRow:
    """Something done every day, from 60 days before DAY on."""
    return _row(RoutineRow, {"words": "mist", "rule": "FREQ=DAILY", "starts": before(60)} | facts)


def fading(*prints: tuple[int, int], place: int | None = 1, later_until: date | None = None) -> FadingRow:
    """Tags at one place, each print told by how many days before DAY it was gone, and on how many tags it is."""
    told = tuple((before(days), count) for days, count in prints)
    return FadingRow(place or 0, place, later_until, told)


def sowing(**facts: Any) -> SowingRow:
    """Planned for DAY with five pots, two of which are sown, unless the test says otherwise."""
    counts = {"pots_planned": 5, "pots_sown": 2, "pots_cleared": 0}
    return _row(SowingRow, {"stage": "part_sown", "planned_for": DAY} | counts | facts)


def next_of(kind: str, row: Row, day: date = DAY, books: Books | None = None) -> Next | None:
    """The next task of one kind, or None."""
    found = [one for one in nexts_for(row, books or Books(), day) if one.kind == kind]
    assert len(found) <= 1
    return found[0] if found else None


def due_in(kind: str, row: Row, day: date = DAY, books: Books | None = None) -> int | None:
    """Days from DAY to the next task of one kind; None where there is none."""
    found = next_of(kind, row, day, books)
    return None if found is None else (found.due - DAY).days


def _row(kind: type, facts: dict[str, Any]) -> Any:
    made = datetime.combine(before(facts.pop("made", 0)), time(12), UTC)
    usual = {name: EMPTY.get(name) for name in kind._fields}
    unknown = facts.keys() - usual.keys()
    assert not unknown, f"{kind.__name__} has no {unknown}"
    return kind(**usual | {"pk": 1, "made_at": made.isoformat()} | facts)
