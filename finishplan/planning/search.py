"""Find the fastest operating point that keeps the margin to every limit, or the nearest one.

The search maps the forward model over a grid of the operation's settings, then closes in on the
best cell a few times. It needs no slopes and meets no local traps finer than the first grid.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from itertools import product
from typing import Literal

import numpy as np

from finishplan.formula import Array
from finishplan.planning.operation import Axis, Evaluation, Operation, Range, mesh
from finishplan.process.limits import Limit, highest_utilisation

Verdict = Literal["keeps the margin", "feasible, margin not kept", "not feasible"]

ZOOMS = (2.2, 1.5, 1.22, 1.1, 1.045, 1.02, 1.01)
SAME_TIME = 1.003
"""Times within this ratio count as equal; among them the point with the most room is taken."""

SAME_ROOM = 0.005
"""Worst utilisations within this count as equal; among them the fastest is taken after all."""

FASTER = 1.05
"""The governing limit is the one that stops the pace from rising by this ratio."""


@dataclass(frozen=True, eq=False)
class Found:
    """The point chosen for an operation and what speaks for and against it."""

    operation: Operation
    evaluation: Evaluation
    verdict: Verdict
    margin: float
    governing: str

    @property
    def settings(self) -> Mapping[str, Array]:
        return self.evaluation.settings

    @property
    def passes(self) -> int:
        return self.evaluation.passes

    @property
    def worst(self) -> float:
        """Largest utilisation of any limit."""
        return float(highest_utilisation(self.evaluation.limits))

    @property
    def broken(self) -> list[Limit]:
        """Limits this point breaks, worst first; with the verdict in the middle, those short of margin."""
        margin = self.margin if self.verdict == "feasible, margin not kept" else 0.0
        over = [limit for limit in self.evaluation.limits if float(highest_utilisation([limit], margin)) > 1 + 1e-9]
        return sorted(over, key=lambda limit: -float(limit.utilisation))


def with_limits(found: Found, limits: Sequence[Limit]) -> Found:
    """The same point judged by further limits, which were worked out for it alone."""
    evaluation = replace(found.evaluation, limits=[*found.evaluation.limits, *limits])
    verdict = _verdict(evaluation, found.margin)
    worst = max(evaluation.limits, key=lambda limit: float(highest_utilisation([limit], found.margin)))
    governing = found.governing if verdict == found.verdict else worst.name
    return replace(found, evaluation=evaluation, verdict=verdict, governing=governing)


def search(operation: Operation, margin: float) -> Found:
    """Fastest point of an operation with the margin kept; without one, the nearest point.

    Parameters
    ----------
    operation : Operation
        The feature under a tool, with its axes.
    margin : float
        Share of every limit to be kept free.

    Returns
    -------
    Found
        Never empty: with no feasible point, the one whose worst limit is least exceeded.
    """
    first, *more = operation.pass_counts
    best = _best_with(operation, first, margin)
    for passes in more:
        if float(best.pace) >= operation.fastest_pace(passes):
            break
        candidate = _best_with(operation, passes, margin)
        if not _better(candidate, best, margin):
            break
        best = candidate
    return Found(operation, best, _verdict(best, margin), margin, _governing(operation, best, margin))


def _best_with(operation: Operation, passes: int, margin: float) -> Evaluation:
    return _rounded(operation, _close_in(operation, passes, margin), passes, margin)


def _worst(evaluation: Evaluation, margin: float) -> float:
    return float(highest_utilisation(evaluation.limits, margin))


def _better(candidate: Evaluation, best: Evaluation, margin: float) -> bool:
    """Keeping the margin beats all; between two that keep it the faster, otherwise the less exceeded."""
    worst, best_worst = _worst(candidate, margin), _worst(best, margin)
    if worst <= 1 and best_worst <= 1:
        return float(candidate.pace) > float(best.pace) * SAME_TIME
    return worst < best_worst


def _close_in(operation: Operation, passes: int, margin: float) -> dict[str, float]:
    ranges: Sequence[Range] = [axis.range for axis in operation.axes]
    chosen = _best_of_grid(operation, ranges, passes, margin)
    for ratio in ZOOMS:
        nearer = [axis.range.around(chosen[axis.name], ratio) for axis in operation.axes]
        chosen = _best_of_grid(operation, nearer, passes, margin)
    return chosen


def _best_of_grid(operation: Operation, ranges: Sequence[Range], passes: int, margin: float) -> dict[str, float]:
    points = mesh(operation.axes, ranges, [axis.count for axis in operation.axes])
    evaluation = operation.evaluate(points, passes)
    worst = highest_utilisation(evaluation.limits, margin)
    kept = worst <= 1
    if kept.any():
        fastest = evaluation.pace[kept].max()
        chosen = np.flatnonzero(kept & (evaluation.pace * SAME_TIME >= fastest))
        roomy = chosen[worst[chosen] <= worst[chosen].min() + SAME_ROOM]
        index = int(roomy[np.argmax(evaluation.pace[roomy])])
    else:
        index = int(np.argmin(worst))
    return {name: float(values[index]) for name, values in points.items()}


def _rounded(operation: Operation, point: Mapping[str, float], passes: int, margin: float) -> Evaluation:
    """The point in figures a programmer types in; the best of the neighbouring round figures."""
    neighbours = [_neighbours(point[axis.name], axis) for axis in operation.axes]
    best: Evaluation | None = None
    for values in product(*neighbours):
        settings = {axis.name: np.float64(value) for axis, value in zip(operation.axes, values, strict=True)}
        candidate = operation.evaluate(settings, passes)
        if best is None or _better(candidate, best, margin):
            best = candidate
    assert best is not None
    return best


def _neighbours(value: float, axis: Axis) -> list[float]:
    """The value with two digits, rounded down and up, inside its range.

    Two digits are the same in millimetres and newtons as in SI units; a rotation is rounded in
    its unit of one per minute.
    """
    step = 10.0 ** (np.floor(np.log10(value / axis.unit)) - 1) * axis.unit
    rounded = {float(rounding(value / step) * step) for rounding in (np.floor, np.ceil)}
    return sorted({min(max(candidate, axis.range.low), axis.range.high) for candidate in rounded})


def _verdict(evaluation: Evaluation, margin: float) -> Verdict:
    if _worst(evaluation, margin) <= 1:
        return "keeps the margin"
    return "feasible, margin not kept" if _worst(evaluation, 0.0) <= 1 else "not feasible"


def _governing(operation: Operation, best: Evaluation, margin: float) -> str:
    """Name of the limit that stops the pace from rising, or the worst limit of an infeasible point."""
    if _worst(best, margin) > 1:
        return max(best.limits, key=lambda limit: float(highest_utilisation([limit], margin))).name
    evaluation = operation.evaluate(operation.faster(best.settings, FASTER), best.passes)
    worst = np.where(evaluation.pace >= float(best.pace) * FASTER * (1 - 1e-9), 0.0, np.inf)
    worst = np.maximum(worst, highest_utilisation(evaluation.limits, margin))
    index = int(np.argmin(worst))
    shares = [np.broadcast_to(highest_utilisation([limit], margin), worst.shape)[index] for limit in evaluation.limits]
    return evaluation.limits[int(np.argmax(shares))].name
