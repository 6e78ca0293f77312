"""Find the fastest operating point that keeps the margin to every limit, or the nearest one.

The search maps the forward model over a grid of the operation's settings, then closes in on the
best cell a few times. It needs no slopes and meets no local traps finer than the first grid.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Final, Literal

import numpy as np

from finishplan.formula import Array
from finishplan.planning.operation import Axis, Evaluation, Operation, Range, mesh
from finishplan.process.limits import TOUCHING, Limit, crowding, excess, highest_utilisation

Verdict = Literal["keeps the margin", "feasible, margin not kept", "not feasible"]

RANK: Final[Mapping[Verdict, int]] = {"keeps the margin": 0, "feasible, margin not kept": 1, "not feasible": 2}

ZOOMS = (2.2, 1.5, 1.22, 1.1, 1.045, 1.02, 1.01)
FIRST_GRID = 2
"""The first grid is finer than the later ones by this factor along every axis."""

SAME_TIME = 1.003
"""Paces within this ratio count as equal; among them the point with the most room is taken."""

SAME_ROOM = 0.02
"""Crowding within this of the least counts as equal; among them the fastest is taken after all."""

DIGITS = (2, 3)
"""Digits of a setting: as few as the verdict bears."""

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
        over = [limit for limit in self.evaluation.limits if float(highest_utilisation([limit], margin)) > 1 + TOUCHING]
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
        if float(best.rounded.pace) >= operation.fastest_pace(passes):
            break
        candidate = _best_with(operation, passes, margin)
        if not _better(candidate.rounded, best.rounded, margin):
            break
        best = candidate
    verdict = _verdict(best.rounded, margin)
    return Found(operation, best.rounded, verdict, margin, _governing(operation, best, verdict, margin))


@dataclass(frozen=True, eq=False)
class _Best:
    """The best point of one number of passes: as found, and in round figures."""

    exact: Evaluation
    rounded: Evaluation


def _best_with(operation: Operation, passes: int, margin: float) -> _Best:
    exact = _close_in(operation, passes, margin)
    candidates = [_rounded(operation, exact, digits, margin) for digits in DIGITS]
    fewest = next((each for each in candidates if _tier(each, margin) == _tier(exact, margin)), candidates[-1])
    return _Best(exact, fewest)


def _worst(evaluation: Evaluation, margin: float) -> float:
    return float(highest_utilisation(evaluation.limits, margin))


def _tier(evaluation: Evaluation, margin: float) -> int:
    """0 with the margin kept, 1 feasible without it, 2 not feasible."""
    return RANK[_verdict(evaluation, margin)]


def _better(candidate: Evaluation, best: Evaluation, margin: float) -> bool:
    """The better verdict; then the faster where the margin is kept, otherwise the less exceeded."""
    tier = _tier(candidate, margin)
    if tier != _tier(best, margin):
        return tier < _tier(best, margin)
    if tier == RANK["keeps the margin"]:
        return float(candidate.pace) > float(best.pace) * SAME_TIME
    reserve = margin if tier == RANK["feasible, margin not kept"] else 0.0
    return float(excess(candidate.limits, reserve)) < float(excess(best.limits, reserve)) * (1 - 1e-6)


def _close_in(operation: Operation, passes: int, margin: float) -> Evaluation:
    counts = [axis.count for axis in operation.axes]
    whole = [axis.range for axis in operation.axes]
    chosen = _best_of_grid(operation, whole, [FIRST_GRID * count for count in counts], passes, margin)
    for ratio in ZOOMS:
        nearer = [axis.range.around(chosen[axis.name], ratio) for axis in operation.axes]
        chosen = _best_of_grid(operation, nearer, counts, passes, margin)
    return operation.evaluate({name: np.float64(value) for name, value in chosen.items()}, passes)


def _best_of_grid(
    operation: Operation, ranges: Sequence[Range], counts: Sequence[int], passes: int, margin: float
) -> dict[str, float]:
    points = mesh(operation.axes, ranges, counts)
    index = _best_index(operation.evaluate(points, passes), margin)
    return {name: float(values[index]) for name, values in points.items()}


def _best_index(evaluation: Evaluation, margin: float) -> int:
    """Best of an array of points: the fastest that keeps the margin, or the one least short of it."""
    kept = highest_utilisation(evaluation.limits, margin) <= 1 + TOUCHING
    if kept.any():
        pace = np.where(kept, evaluation.pace, 0.0)
        chosen = np.flatnonzero(pace * SAME_TIME >= pace.max())
        room = crowding(evaluation.limits, margin)[chosen]
        roomy = chosen[room <= room.min() + SAME_ROOM]
        return int(roomy[np.argmax(pace[roomy])])
    feasible = highest_utilisation(evaluation.limits) <= 1 + TOUCHING
    if feasible.any():
        return _nearest(np.where(feasible, excess(evaluation.limits, margin), np.inf), evaluation.pace)
    return _nearest(excess(evaluation.limits), evaluation.pace)


def _nearest(short: Array, pace: Array) -> int:
    """The point least short of what is asked; the fastest of those equally short by a limit no setting can mend."""
    return int(np.argmax(np.where(short <= short.min() + TOUCHING, pace, 0.0)))


def _rounded(operation: Operation, exact: Evaluation, digits: int, margin: float) -> Evaluation:
    """The point in figures a programmer types in: the best of the round figures about it."""
    steps = [_round_figures(float(exact.settings[axis.name]), axis, digits) for axis in operation.axes]
    spread = np.meshgrid(*steps, indexing="ij")
    points = {axis.name: values.ravel() for axis, values in zip(operation.axes, spread, strict=True)}
    index = _best_index(operation.evaluate(points, exact.passes), margin)
    return operation.evaluate({name: np.float64(values[index]) for name, values in points.items()}, exact.passes)


def _round_figures(value: float, axis: Axis, digits: int) -> list[float]:
    """Round figures about a value, two below and two above, inside its range.

    Few digits are the same in millimetres and newtons as in SI units; a rotation is rounded in its
    unit of one per minute. Figures that begin with 1 go in half steps, which are as fine as the
    others are at 2.
    """
    step = 10.0 ** (np.floor(np.log10(value / axis.unit)) - digits + 1) * axis.unit
    step /= 2 if value < 2 * step * 10 ** (digits - 1) else 1
    below = np.floor(value / step + TOUCHING)
    figures = {float((below + offset) * step) for offset in (-1, 0, 1, 2)}
    return sorted({min(max(figure, axis.range.low), axis.range.high) for figure in figures})


def _verdict(evaluation: Evaluation, margin: float) -> Verdict:
    if _worst(evaluation, margin) <= 1 + TOUCHING:
        return "keeps the margin"
    return "feasible, margin not kept" if _worst(evaluation, 0.0) <= 1 + TOUCHING else "not feasible"


def _governing(operation: Operation, best: _Best, verdict: Verdict, margin: float) -> str:
    """Name of the limit that stops the pace from rising, or the worst limit of a point short of the margin.

    The rise is counted from the point as found, before its settings were rounded.
    """
    if verdict != "keeps the margin":
        return max(best.rounded.limits, key=lambda limit: float(highest_utilisation([limit], margin))).name
    exact = best.exact
    evaluation = operation.evaluate(operation.faster(exact.settings, FASTER), exact.passes)
    slower = evaluation.pace < float(exact.pace) * FASTER * (1 - TOUCHING)
    index = int(np.argmin(np.where(slower, np.inf, highest_utilisation(evaluation.limits, margin))))
    shares = [np.broadcast_to(highest_utilisation([limit], margin), slower.shape)[index] for limit in evaluation.limits]
    return evaluation.limits[int(np.argmax(shares))].name
