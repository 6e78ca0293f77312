"""Find the fastest operating point that keeps the margin to every limit, or the nearest one."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from functools import cached_property
from typing import Final, Literal

import numpy as np

from finishplan.formula import Array
from finishplan.planning.batch import batches
from finishplan.planning.closing_in import Point, close_in
from finishplan.planning.operation import Evaluation, Operation
from finishplan.process.limits import TOUCHING, Limit, highest_utilisation, kept_and_held, most_used_first

Verdict = Literal["keeps the margin", "feasible, margin not kept", "not feasible"]

RANK: Final[Mapping[Verdict, int]] = {"keeps the margin": 0, "feasible, margin not kept": 1, "not feasible": 2}

VERDICTS: Final = tuple(sorted(RANK, key=RANK.__getitem__))
"""Verdicts by rank, which is the tier of a point."""

KEPT_AT_HAND: Final = 4_000_000
"""Numbers in as many bytes as the allocator learns from at most, 32 MB."""


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

    @cached_property
    def worst(self) -> float:
        """Largest utilisation of any limit."""
        return float(highest_utilisation(self.evaluation.limits))

    @property
    def broken(self) -> list[Limit]:
        """Limits this point breaks, worst first; with the verdict in the middle, those short of margin."""
        margin = self.margin if self.verdict == "feasible, margin not kept" else 0.0
        over = [limit for limit in self.evaluation.limits if float(highest_utilisation([limit], margin)) > 1 + TOUCHING]
        return most_used_first(over)


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
        Never empty: with no feasible point, the one whose limits are least exceeded in all.
    """
    (found,) = search_all([operation], margin)
    return found


def search_all(operations: Sequence[Operation], margin: float) -> list[Found]:
    """The same for many operations at once: those that differ in figures only share every evaluation.

    Parameters
    ----------
    operations : sequence of Operation
        Features under tools; equal ones are searched once.
    margin : float
        Share of every limit to be kept free.

    Returns
    -------
    list of Found
        One for each operation, as if it had been searched alone.
    """
    _let_freed_memory_stay()
    founds: dict[int, Found] = {}
    for batch, alike in batches(operations):
        for point, indexes in zip(close_in(batch, margin), alike, strict=True):
            evaluation = _at(operations[indexes[0]], point)
            founds |= {
                index: Found(operations[index], evaluation, VERDICTS[point.tier], margin, point.governing)
                for index in indexes
            }
    return [founds[index] for index in range(len(operations))]


def _let_freed_memory_stay() -> None:
    """Ask for much memory, unused, and give it back.

    From the size of what was given back the allocator of Linux learns how much free memory to keep at hand. Without
    it the arrays of every evaluation go back to the system and are fetched again page by page, a fifth of the
    time of a large job. Other allocators take no notice.
    """
    np.empty(KEPT_AT_HAND)


def _at(operation: Operation, point: Point) -> Evaluation:
    settings = {name: np.float64(value) for name, value in point.settings.items()}
    return operation.evaluate(settings, point.passes)


def _verdict(evaluation: Evaluation, margin: float) -> Verdict:
    keeps, holds = kept_and_held(evaluation.limits, margin)
    return "keeps the margin" if keeps else "feasible, margin not kept" if holds else "not feasible"
