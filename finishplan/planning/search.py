"""Find the fastest operating point that keeps the margin to every limit, or the nearest one.

The search maps the forward model over a grid of spindle speed, feed and setting, then closes in on
the best cell a few times. It needs no slopes and meets no local traps finer than the first grid.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from itertools import product
from typing import Literal

import numpy as np

from finishplan.planning.operation import Evaluation, Operation, Range
from finishplan.process.edge_conditions import OperatingPoint
from finishplan.process.limits import Limit, highest_utilisation
from finishplan.units import MINUTE

Verdict = Literal["keeps the margin", "feasible, margin not kept", "not feasible"]

MOST_PASSES = 6
GRID = (8, 14, 14)
ZOOMS = (2.2, 1.5, 1.22, 1.1, 1.045, 1.02, 1.01)
SAME_TIME = 1.003
"""Times within this ratio count as equal; among them the point with the most room is taken."""

FASTER = 1.05
"""The governing limit is the one that stops the feed from rising by this ratio."""


@dataclass(frozen=True, eq=False)
class Found:
    """The point chosen for an operation and what speaks for and against it."""

    operation: Operation
    evaluation: Evaluation
    verdict: Verdict
    margin: float
    governing: str

    @property
    def point(self) -> OperatingPoint:
        return self.evaluation.point

    @property
    def broken(self) -> list[Limit]:
        """Limits this point breaks, worst first; with the verdict in the middle, those short of margin."""
        margin = self.margin if self.verdict == "feasible, margin not kept" else 0.0
        over = [limit for limit in self.evaluation.limits if float(highest_utilisation([limit], margin)) > 1 + 1e-9]
        return sorted(over, key=lambda limit: -float(limit.utilisation))


def search(operation: Operation, margin: float) -> Found:
    """Fastest point of an operation with the margin kept; without one, the nearest point.

    Parameters
    ----------
    operation : Operation
        The feature under a tool, with its ranges.
    margin : float
        Share of every limit to be kept free.

    Returns
    -------
    Found
        Never empty: with no feasible point, the one whose worst limit is least exceeded.
    """
    best: Evaluation | None = None
    for passes in range(1, MOST_PASSES + 1):
        if best is not None and _pace(best) >= operation.feed.high / passes:
            break
        candidate = _rounded(operation, _close_in(operation, passes, margin), margin)
        if best is not None and not _better(candidate, best, margin):
            break
        best = candidate
    assert best is not None
    return Found(operation, best, _verdict(best, margin), margin, _governing(operation, best, margin))


def _pace(evaluation: Evaluation) -> float:
    """Length finished per time, all passes counted [m/s]."""
    return float(evaluation.point.feed) / evaluation.point.passes


def _worst(evaluation: Evaluation, margin: float) -> float:
    return float(highest_utilisation(evaluation.limits, margin))


def _better(candidate: Evaluation, best: Evaluation, margin: float) -> bool:
    """Keeping the margin beats all; between two that keep it the faster, otherwise the less exceeded."""
    worst, best_worst = _worst(candidate, margin), _worst(best, margin)
    if worst <= 1 and best_worst <= 1:
        return _pace(candidate) > _pace(best) * SAME_TIME
    return worst < best_worst


def _close_in(operation: Operation, passes: int, margin: float) -> OperatingPoint:
    ranges = (operation.spindle_speed, operation.feed, operation.setting)
    chosen = _best_of_grid(operation, ranges, passes, margin)
    for ratio in ZOOMS:
        middles = (chosen.spindle_speed, chosen.feed, chosen.setting)
        nearer = tuple(whole.around(float(middle), ratio) for whole, middle in zip(ranges, middles, strict=True))
        chosen = _best_of_grid(operation, nearer, passes, margin)
    return chosen


def _best_of_grid(operation: Operation, ranges: tuple[Range, ...], passes: int, margin: float) -> OperatingPoint:
    points = _mesh(ranges, GRID, passes)
    worst = highest_utilisation(operation.evaluate(points).limits, margin)
    feed = points.feed
    kept = worst <= 1
    if kept.any():
        fastest = feed[kept].max()
        chosen = np.flatnonzero(kept & (feed * SAME_TIME >= fastest))
        index = chosen[np.argmin(worst[chosen])]
    else:
        index = int(np.argmin(worst))
    return OperatingPoint(points.spindle_speed[index], feed[index], points.setting[index], passes)


def _mesh(ranges: tuple[Range, ...], counts: tuple[int, ...], passes: int) -> OperatingPoint:
    axes = np.meshgrid(*(span.grid(count) for span, count in zip(ranges, counts, strict=True)), indexing="ij")
    speed, feed, setting = (axis.ravel() for axis in axes)
    return OperatingPoint(speed, feed, setting, passes)


def _rounded(operation: Operation, point: OperatingPoint, margin: float) -> Evaluation:
    """The point in figures a programmer types in; the best of the neighbouring round figures."""
    choices = [
        OperatingPoint(np.float64(speed), np.float64(feed), np.float64(setting), point.passes)
        for speed, feed, setting in product(
            _neighbours(point.spindle_speed, operation.spindle_speed, unit=1 / MINUTE),
            _neighbours(point.feed, operation.feed),
            _neighbours(point.setting, operation.setting),
        )
    ]
    best = operation.evaluate(choices[0])
    for choice in choices[1:]:
        candidate = operation.evaluate(choice)
        if _better(candidate, best, margin):
            best = candidate
    return best


def _neighbours(value: float, within: Range, unit: float = 1.0) -> list[float]:
    """The value with two digits, rounded down and up, inside its range.

    Two digits are the same in millimetres and newtons as in SI units; a rotation is rounded in
    its `unit` of one per minute.
    """
    step = 10.0 ** (np.floor(np.log10(value / unit)) - 1) * unit
    rounded = {float(rounding(value / step) * step) for rounding in (np.floor, np.ceil)}
    return sorted({min(max(candidate, within.low), within.high) for candidate in rounded})


def _verdict(evaluation: Evaluation, margin: float) -> Verdict:
    if _worst(evaluation, margin) <= 1:
        return "keeps the margin"
    return "feasible, margin not kept" if _worst(evaluation, 0.0) <= 1 else "not feasible"


def _governing(operation: Operation, best: Evaluation, margin: float) -> str:
    """Name of the limit that stops the feed from rising, or the worst limit of an infeasible point."""
    if _worst(best, margin) > 1:
        return max(best.limits, key=_share(margin)).name
    feed = np.float64(best.point.feed * FASTER)
    ranges = (operation.spindle_speed, Range(feed, feed), operation.setting)
    points = _mesh(ranges, (24, 1, 48), best.point.passes)
    limits = operation.evaluate(points).limits
    index = int(np.argmin(highest_utilisation(limits, margin)))
    shares = [np.broadcast_to(highest_utilisation([limit], margin), points.feed.shape)[index] for limit in limits]
    return limits[int(np.argmax(shares))].name


def _share(margin: float) -> Callable[[Limit], float]:
    return lambda limit: float(highest_utilisation([limit], margin))
