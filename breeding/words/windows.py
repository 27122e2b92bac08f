"""Pictures of windows: where each lies on an axis of days, and what came against what was predicted. Pure geometry."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import Any

WIDTH, ROW, TOP, BAR = 360, 36, 22, 12
LEFT, RIGHT = 8, 16
SQUARE, MARGIN = 200, 34
STEPS = (1, 2, 5, 10, 20, 25, 50, 100, 200, 250, 500, 1000)
MOST_TICKS = 6


@dataclass(frozen=True)
class Window:
    """One row of the picture: its name in parts, and its days."""

    name: Sequence[Any]
    low: float
    middle: float
    high: float
    given: bool = False


@dataclass(frozen=True)
class Bar:
    """A window in the picture's units; ``given`` ones were typed or shipped, the others are predicted."""

    name: Sequence[Any]
    words: str
    x: float
    y: float
    width: float
    middle: float
    given: bool

    @property
    def name_y(self) -> float:
        return self.y - 5

    @property
    def bottom(self) -> float:
        return self.y + BAR


@dataclass(frozen=True)
class Tick:
    x: float
    text: str


@dataclass(frozen=True)
class Windows:
    """Windows below each other on one axis of days."""

    width: int
    height: int
    bars: tuple[Bar, ...]
    ticks: tuple[Tick, ...]
    bar_height: int = BAR


def windows(rows: Iterable[Window]) -> Windows | None:
    """
    >>> chart = windows([Window((), 80, 139, 240, given=True), Window((), 96, 111, 128)])
    >>> [round(bar.x) for bar in chart.bars], [tick.text for tick in chart.ticks]
    ([120, 142], ['0', '50', '100', '150', '200'])
    """
    rows = list(rows)
    if not rows:
        return None
    longest = max(row.high for row in rows)
    scale = (WIDTH - LEFT - RIGHT) / longest
    step = next((step for step in STEPS if longest / step <= MOST_TICKS), STEPS[-1])
    days = range(0, math.floor(longest) + 1, step)
    bars = tuple(_bar(row, LEFT, scale, TOP + turn * ROW + ROW - BAR - 4) for turn, row in enumerate(rows))
    ticks = tuple(Tick(round(LEFT + day * scale, 1), str(day)) for day in days)
    return Windows(WIDTH, TOP + ROW * len(rows) + 4, bars, ticks)


def _bar(row: Window, left: float, scale: float, y: float) -> Bar:
    x, middle, end = (round(left + days * scale, 1) for days in (row.low, row.middle, row.high))
    words = f"day {round(row.low)} to {round(row.high)}, middle {round(row.middle)}"
    return Bar(row.name, words, x, y, round(end - x, 1), middle, row.given)


@dataclass(frozen=True)
class Dot:
    """What had come by when a share was predicted, with its interval as a line."""

    x: float
    y: float
    low: float
    high: float
    words: str


@dataclass(frozen=True)
class Square:
    """Predicted shares from left to right, seen ones from bottom to top; on the diagonal they are the same."""

    size: int
    left: int
    bottom: int
    right: int
    top: int
    dots: tuple[Dot, ...]
    ticks: tuple[Tick, ...]


def square(held: Iterable[Any]) -> Square:
    """
    >>> class One: predicted, had_come, low, high = 0.5, 0.5, 0.4, 0.6
    >>> square([One]).dots[0].x - MARGIN == SQUARE / 2
    True
    """
    dots = tuple(
        Dot(_across(one.predicted), _up(one.had_come), _up(one.low), _up(one.high), _dot_words(one)) for one in held
    )
    ticks = tuple(Tick(_across(share), f"{round(share * 100)}%") for share in (0, 0.5, 1))
    return Square(SQUARE + 2 * MARGIN, MARGIN, int(_up(0)), int(_across(1)), int(_up(1)), dots, ticks)


def _dot_words(one: Any) -> str:
    return f"predicted {round(one.predicted * 100)}%, came {round(one.had_come * 100)}%"


def _across(share: float) -> float:
    return round(MARGIN + share * SQUARE, 1)


def _up(share: float) -> float:
    return round(10 + (1 - share) * SQUARE, 1)
