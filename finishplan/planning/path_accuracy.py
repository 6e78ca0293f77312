"""How accurate the robot has to be for the settings planned: what the limits leave once it is less accurate.

A limit on the path accuracy alone does not tell. Position errors also change the stroke a device needs, the
force of a spring, the depth of a rigid tool and with them break, load and heat, so that the steps are put
under robots less accurate than theirs until a limit loses its margin.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from functools import cache
from typing import Final

from finishplan.job import LoadedJob
from finishplan.planning.better_robot import with_robot
from finishplan.planning.feature import Step
from finishplan.planning.search import Found
from finishplan.process.limits import TOUCHING, highest_utilisation

MOST_LOOKS: Final = 60
"""Looks at other accuracies at most; a few do where nothing jumps."""

FAR_OVER: Final = 1.0
"""Excess beyond which it no longer matters by how much a limit loses its margin."""


@dataclass(frozen=True)
class Accuracy:
    """A path accuracy, half-width [m], and the feature and the limit that leave no more; None for that on itself."""

    half_width: float
    feature: str
    limit: str | None


def least_accuracy(loaded: LoadedJob, works: Sequence[tuple[str, Sequence[Step]]], start: Accuracy) -> Accuracy:
    """The largest path error under which every step keeps its margin at the settings planned.

    Parameters
    ----------
    loaded : LoadedJob
        The job with its cell.
    works : sequence of feature name and steps
        The steps planned.
    start : Accuracy
        What the limits on the path accuracy itself leave; the result is no larger.

    Returns
    -------
    Accuracy
        Limits that even a perfect robot would not hold are not asked of it.
    """
    asked = start
    for feature, steps in works:
        for step in steps:
            asked = _closer(loaded, feature, step.found, asked)
    return asked


def _closer(loaded: LoadedJob, feature: str, found: Found, asked: Accuracy) -> Accuracy:
    """What a step leaves of an accuracy, found with few looks: most steps leave it as it is."""

    @cache
    def shares(half_width: float) -> Mapping[str, float]:
        other = found.operation.again(with_robot(loaded, path_accuracy=half_width))
        limits = other.evaluate(found.settings, found.passes).limits
        return {limit.name: float(highest_utilisation([limit], found.margin)) for limit in limits}

    lost = [name for name, share in shares(asked.half_width).items() if share > 1 + TOUCHING]
    lost = [name for name in lost if shares(0.0)[name] <= 1 + TOUCHING]
    if not lost:
        return asked

    def excess(half_width: float) -> tuple[float, str]:
        there = shares(half_width)
        return max((min(there[name] - 1, FAR_OVER), name) for name in lost)

    half_width, limit = _touching(excess, asked.half_width)
    return Accuracy(half_width, feature, limit)


def _touching(excess: Callable[[float], tuple[float, str]], high: float) -> tuple[float, str]:
    """Where the excess passes zero between none and a width that has some, by false position with halved ends."""
    low, (under, _), (over, limit), risen = 0.0, excess(0.0), excess(high), False
    for _ in range(MOST_LOOKS):
        middle = (low * over - high * under) / (over - under)
        there, limit = excess(middle)
        if abs(there) <= TOUCHING or not low < middle < high:
            return middle, limit
        if there > 0:
            under, high, over, risen = under if risen else under / 2, middle, there, False
        else:
            over, low, under, risen = over / 2 if risen else over, middle, there, True
    return low, limit
