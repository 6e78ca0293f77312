"""Figures worked out from figures of the tables, their bands carried along."""

from __future__ import annotations

import math
from dataclasses import replace

from finishplan.reference.value import GRADES, Value


def ends(figure: Value) -> tuple[float, float, float]:
    """Low end, value and high end [SI]; a figure without a band is its own low and high end."""
    low = figure.value if figure.low is None else figure.low
    high = figure.value if figure.high is None else figure.high
    return low, figure.value, high


def scaled(figure: Value, factor: float) -> Value:
    """A figure and its band times a factor."""
    low, value, high = (end * factor for end in ends(figure))
    return replace(figure, value=value, low=low, high=high)


def between(one: Value, other: Value, share: float) -> Value:
    """The figure at a share of the way from one to the other in logarithms, its band likewise."""
    low, value, high = (
        first ** (1 - share) * second**share for first, second in zip(ends(one), ends(other), strict=True)
    )
    return replace(one if share < 0.5 else other, value=value, low=low, high=high)


def product(figure: Value, ratio: Value) -> Value:
    """A figure times a ratio to it.

    The bands are taken as independent: the distances of their ends from the values, in logarithms,
    add as squares. Source and grade are those of the weaker of the two; a ratio of exactly 1 changes
    nothing.
    """
    if ends(ratio) == (1, 1, 1):
        return figure
    low, value, high = ends(figure)
    low_ratio, middle_ratio, high_ratio = ends(ratio)
    down = math.hypot(math.log(value / low), math.log(middle_ratio / low_ratio))
    up = math.hypot(math.log(high / value), math.log(high_ratio / middle_ratio))
    middle = value * middle_ratio
    weaker = max(figure, ratio, key=lambda given: GRADES.index(given.grade))
    return replace(
        figure,
        value=middle,
        low=middle * math.exp(-down),
        high=middle * math.exp(up),
        source=weaker.source,
        grade=weaker.grade,
        locator=f"{figure.locator}; times {ratio.path}, {ratio.locator}",
    )
