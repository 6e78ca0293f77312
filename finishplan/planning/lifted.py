"""An operation with some of its limits left out, to see what relieving them would buy."""

from __future__ import annotations

from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Any, Final

from finishplan.formula import Array
from finishplan.job import LoadedJob
from finishplan.planning.ledger import Ledger
from finishplan.planning.operation import Axis, Evaluation, Operation, Range
from finishplan.planning.search import Found, search

NEAR: Final = 2.5
"""Settings within this ratio of the planned ones are searched: further off it is another way of working."""

WIDER: Final = 2.0
"""The ends of an operation's axes stand for limits of their own, so that they give way by this ratio."""

ROUNDED: Final = 0.97
"""Round figures come as near to the end of what is searched as this share."""

LEAST_COUNT: Final = 12
"""Places along an axis of the first grid at least."""


@dataclass(frozen=True, eq=False)
class Lifted:
    """An operation of whose limits some are left out of the evaluation, and nothing else."""

    operation: Operation
    limits: Collection[str]

    @property
    def feature(self) -> str:
        return self.operation.feature

    @property
    def tool(self) -> str:
        return self.operation.tool

    @property
    def station(self) -> str:
        return self.operation.station

    @property
    def ledger(self) -> Ledger:
        return self.operation.ledger

    @property
    def axes(self) -> Sequence[Axis]:
        return self.operation.axes

    @property
    def pass_counts(self) -> Sequence[int]:
        return self.operation.pass_counts

    @property
    def conditions(self) -> Any:
        return self.operation.conditions

    @property
    def figures(self) -> tuple[type, tuple[str, ...], Any]:
        """Those of the operation, beside what tells them from others that do not stack."""
        return type(self.operation), tuple(sorted(self.limits)), self.operation.figures

    def with_figures(self, figures: tuple[type, tuple[str, ...], Any]) -> Lifted:
        """The same limits left out under other figures."""
        return replace(self, operation=self.operation.with_figures(figures[-1]))

    def evaluate(self, settings: Mapping[str, Array], passes: int) -> Evaluation:
        """Run the forward model and leave the limits out of what it is held against."""
        evaluation = self.operation.evaluate(settings, passes)
        return replace(evaluation, limits=[limit for limit in evaluation.limits if limit.name not in self.limits])

    def fastest_pace(self, passes: int) -> float:
        """As much faster as the axes are wider."""
        return self.operation.fastest_pace(passes) * WIDER

    def again(self, loaded: LoadedJob | None = None) -> Lifted:
        """The same built anew."""
        return replace(self, operation=self.operation.again(loaded))

    def faster(self, settings: Mapping[str, Array], ratio: float) -> Mapping[str, Array]:
        """The operation's own points that are faster."""
        return self.operation.faster(settings, ratio)


def search_lifted(found: Found, limits: Collection[str]) -> tuple[Found, str | None]:
    """The best point near the one found once some limits are lifted, judged by all of them again.

    Parameters
    ----------
    found : Found
        A point that keeps the margin.
    limits : collection of str
        Names of the limits to lift.

    Returns
    -------
    Found
        The point with every limit; those lifted tell how far they would have to go.
    str or None
        Name of the limit that stops the pace next; None where nothing does as far as was searched.
    """
    anew = found.operation.again()
    near = _near(anew, found)
    best = search(Lifted(near, limits), found.margin)
    evaluation = anew.evaluate(best.settings, best.passes)
    return replace(best, operation=anew, evaluation=evaluation), None if _at_an_end(best, found) else best.governing


def _at_an_end(best: Found, found: Found) -> bool:
    """Whether a setting went as far as was searched."""
    ratios = (float(best.settings[name]) / float(found.settings[name]) for name in found.settings)
    return any(max(ratio, 1 / ratio) > NEAR * ROUNDED for ratio in ratios)


def _near(operation: Any, found: Found) -> Operation:
    """The operation to be searched around a point only, beyond its own ranges where the point is near their ends.

    Every operation is a dataclass with its axes as a field.
    """
    near: Operation = replace(
        operation, axes=[_around(axis, float(found.settings[axis.name])) for axis in operation.axes]
    )
    return near


def _around(axis: Axis, middle: float) -> Axis:
    whole = axis.range
    near = Range(whole.low / WIDER, whole.high * WIDER).around(middle, NEAR)
    finer = near.low < near.high and near.high / near.low < whole.high / whole.low
    return replace(axis, range=near, count=LEAST_COUNT if finer else axis.count)
