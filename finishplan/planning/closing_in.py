"""Close in on the best operating point of every operation of a batch.

The forward model is mapped over a grid of the operations' settings, then over smaller and smaller grids
about the best point so far. It needs no slopes and meets no local traps finer than the first grid.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import NDArray

from finishplan.formula import Array
from finishplan.planning.batch import Batch, Numbers, Rows, Spans
from finishplan.planning.operation import Evaluation
from finishplan.process.limits import TOUCHING, Limit, crowding, excess, highest_utilisation, kept_and_held

ZOOMS: Final = (2.2, 1.8, 1.5, 1.3, 1.18, 1.1, 1.06, 1.03, 1.015, 1.008)
"""Reach of the later grids about the best point, as a ratio. It falls slowly, so that the points can follow a
limit that runs slantwise through the settings."""

SAME_TIME: Final = 1.003
"""Paces within this ratio count as equal; among them the point with the most room is taken."""

SAME_ROOM: Final = 0.02
"""Crowding within this of the least counts as equal; among them the fastest is taken after all."""

DIGITS: Final = (2, 3)
"""Digits of a setting: as few as the verdict bears."""

FASTER: Final = 1.05
"""The governing limit is the one that stops the pace from rising by this ratio."""

KEPT, HELD, BROKEN = range(3)
"""Tiers of a point: the margin kept, all limits held without it, or some broken; the ranks of the verdicts."""


@dataclass(frozen=True)
class Point:
    """What is settled of one operation: settings, passes, tier, and the limit that governs."""

    settings: Mapping[str, float]
    passes: int
    tier: int
    governing: str


def close_in(batch: Batch, margin: float) -> Iterator[Point]:
    """The fastest point that keeps the margin, or the one least short of it, for each operation in turn.

    Parameters
    ----------
    batch : Batch
        Operations that are evaluated at once.
    margin : float
        Share of every limit to be kept free.

    Yields
    ------
    Point
        In round figures.
    """
    first, *more = batch.pass_counts
    best, going = _best_with(batch, _first_look(batch, first, margin), margin), np.arange(len(batch))
    for passes in more:
        going = going[best.pace[going] < batch.fastest_pace(passes)[going]]
        if not going.size:
            break
        look = _first_look(batch.rows(going), passes, margin)
        # what was best with fewer passes may be a better start than a coarse grid
        start = _judged(batch.rows(going), best.of(going).exact, passes, margin)
        nearer = np.flatnonzero(_better(start, look))
        look.take(nearer, start.of(nearer))
        hopeful = np.flatnonzero(_within_reach(batch.rows(going), look, best.of(going)))
        going = going[hopeful]
        if not going.size:
            break
        candidate = _best_with(batch.rows(going), look.of(hopeful), margin)
        better = np.flatnonzero(_better(candidate, best.of(going)))
        going = going[better]
        best.take(going, candidate.of(better))
    for row, governing in enumerate(_governing(batch, best, margin)):
        settings = {name: float(values[row, 0]) for name, values in best.rounded.items()}
        yield Point(settings, int(best.passes[row]), int(best.tier[row]), governing)


@dataclass(eq=False)
class _Best:
    """The best points of a batch so far, a row for each operation: as found, and in round figures.

    `tier` is the rank of the verdict, `short` the sum of what exceeds the limits, with the margin where they are
    held without it; both are those of the round figures.
    """

    passes: Rows
    exact: dict[str, Numbers]
    rounded: dict[str, Numbers]
    pace: Numbers
    tier: Rows
    short: Numbers

    def of(self, rows: Rows) -> _Best:
        return _Best(
            self.passes[rows],
            {name: values[rows] for name, values in self.exact.items()},
            {name: values[rows] for name, values in self.rounded.items()},
            self.pace[rows], self.tier[rows], self.short[rows],
        )  # fmt: skip

    def take(self, rows: Rows, other: _Best) -> None:
        """Replace some of the rows."""
        self.passes[rows], self.pace[rows] = other.passes, other.pace
        self.tier[rows], self.short[rows] = other.tier, other.short
        for name in self.exact:
            self.exact[name][rows], self.rounded[name][rows] = other.exact[name], other.rounded[name]


def _better(candidate: _Best, best: _Best) -> NDArray[np.bool_]:
    """The better verdict; then the faster where the margin is kept, otherwise the less exceeded."""
    faster = candidate.pace > best.pace * SAME_TIME
    nearer = candidate.short < best.short * (1 - 1e-6)
    alike = np.where(candidate.tier == KEPT, faster, nearer)
    return np.where(candidate.tier == best.tier, alike, candidate.tier < best.tier)


def _first_look(batch: Batch, passes: int, margin: float) -> _Best:
    """The best points of grids over the whole ranges."""
    counts = [axis.count for axis in batch.axes]
    return _judged(batch, _best_of_grid(batch, batch.spans, counts, passes, margin), passes, margin)


def _within_reach(batch: Batch, look: _Best, best: _Best) -> NDArray[np.bool_]:
    """Whether closing in on a first look may still beat the best: it makes up for a step of its grid, not for more."""
    steps = [
        (span.high / span.low)[:, 0] ** (1 / max(axis.count - 1, 1))
        for axis, span in zip(batch.axes, batch.spans, strict=True)
    ]
    behind: NDArray[np.bool_] = (best.tier == KEPT) & (look.tier == KEPT) & (look.pace * np.max(steps, 0) < best.pace)
    return ~behind


def _best_with(batch: Batch, look: _Best, margin: float) -> _Best:
    """Close in on the points of a first look, and put them in round figures."""
    passes = int(look.passes[0])
    exact = _nearer(batch, look.exact, passes, margin)
    tier = _judged(batch, exact, passes, margin).tier
    fewest, *more = DIGITS
    best = _rounded(batch, exact, passes, fewest, margin)
    for digits in more:
        lost = np.flatnonzero(best.tier != tier)
        if lost.size:
            points = {name: values[lost] for name, values in exact.items()}
            best.take(lost, _rounded(batch.rows(lost), points, passes, digits, margin))
    return best


def _judged(batch: Batch, settings: dict[str, Numbers], passes: int, margin: float) -> _Best:
    """One point for each row, with its verdict."""
    evaluation = batch.evaluate(settings, passes)
    shape = (len(batch), 1)
    kept, holds = kept_and_held(evaluation.limits, margin)

    def column(values: Array) -> Array:
        return np.broadcast_to(values, shape)[:, 0].copy()

    return _Best(
        np.full(len(batch), passes),
        exact=settings,
        rounded=dict(settings),
        pace=column(evaluation.pace),
        tier=column(np.where(kept, KEPT, np.where(holds, HELD, BROKEN))),
        short=column(np.where(holds, excess(evaluation.limits, margin), excess(evaluation.limits))),
    )


def _nearer(batch: Batch, chosen: dict[str, Numbers], passes: int, margin: float) -> dict[str, Numbers]:
    # half as many as at first, and odd, so that the best point so far is one of them
    fewer = [axis.count // 2 | 1 for axis in batch.axes]
    for ratio in ZOOMS:
        nearer = [span.around(chosen[axis.name], ratio) for axis, span in zip(batch.axes, batch.spans, strict=True)]
        chosen = _best_of_grid(batch, nearer, fewer, passes, margin)
    return chosen


def _best_of_grid(
    batch: Batch, spans: Sequence[Spans], counts: Sequence[int], passes: int, margin: float
) -> dict[str, Numbers]:
    chosen: dict[str, list[Numbers]] = {axis.name: [] for axis in batch.axes}
    for rows, block in batch.blocks(int(np.prod(counts))):
        grids = [span.of(rows).grid(count) for span, count in zip(spans, counts, strict=True)]
        for name, values in _best_points(block, grids, passes, margin).items():
            chosen[name].append(values)
    return {name: np.concatenate(values) for name, values in chosen.items()}


def _best_points(batch: Batch, grids: Sequence[Numbers], passes: int, margin: float) -> dict[str, Numbers]:
    """Best of every combination of the grids, a row for each operation."""
    points = {axis.name: values for axis, values in zip(batch.axes, _spread(grids), strict=True)}
    index = _best_index(batch.evaluate(points, passes), next(iter(points.values())).shape, margin)
    return {name: np.take_along_axis(values, index[:, np.newaxis], axis=1) for name, values in points.items()}


def _spread(grids: Sequence[Numbers]) -> list[Numbers]:
    """Every combination of the columns of several arrays, row by row."""
    counts = [grid.shape[1] for grid in grids]
    shape = (len(grids[0]), *counts)
    lying = [
        grid.reshape(-1, *(count if axis == own else 1 for own, count in enumerate(counts)))
        for axis, grid in enumerate(grids)
    ]
    return [np.broadcast_to(grid, shape).reshape(len(grid), -1) for grid in lying]


def _best_index(evaluation: Evaluation, shape: tuple[int, ...], margin: float) -> Rows:
    """Best point of every row: the fastest that keeps the margin, or the one least short of it."""
    limits, pace = evaluation.limits, np.broadcast_to(evaluation.pace, shape)
    kept, holds = (np.broadcast_to(each, shape) for each in kept_and_held(limits, margin))
    index = np.empty(shape[0], dtype=np.intp)
    some = kept.any(axis=1)
    if some.any():
        index[some] = _roomiest(limits, pace, kept, margin)[some]
    if not some.all():
        index[~some] = _least_short(limits, pace, holds, margin)[~some]
    return index


def _roomiest(limits: Sequence[Limit], pace: Numbers, kept: NDArray[np.bool_], margin: float) -> Rows:
    """Of the fastest points that keep the margin, those with the most room, and the fastest of these."""
    fast = np.where(kept, pace, 0.0)
    chosen = kept & (fast * SAME_TIME >= fast.max(axis=1, keepdims=True))
    room = np.full(pace.shape, np.inf)
    room[chosen] = crowding(limits, margin, chosen)
    roomy = room <= room.min(axis=1, keepdims=True) + SAME_ROOM
    return _fastest(roomy & chosen, pace)


def _least_short(limits: Sequence[Limit], pace: Numbers, holds: NDArray[np.bool_], margin: float) -> Rows:
    """The point least short of what is asked; the fastest of those equally short by a limit no setting can mend."""
    short = np.broadcast_to(excess(limits), pace.shape)
    if holds.any():
        of_margin = np.where(holds, excess(limits, margin), np.inf)
        short = np.where(holds.any(axis=1, keepdims=True), of_margin, short)
    near = short <= short.min(axis=1, keepdims=True) + TOUCHING
    return _fastest(near, pace)


def _fastest(chosen: NDArray[np.bool_], pace: Numbers) -> Rows:
    index: Rows = np.argmax(np.where(chosen, pace, 0.0), axis=1)
    return index


def _rounded(batch: Batch, exact: dict[str, Numbers], passes: int, digits: int, margin: float) -> _Best:
    """The points in figures a programmer types in: the best of the round figures about them."""
    grids = [
        _round_figures(exact[axis.name], span, axis.unit, digits)
        for axis, span in zip(batch.axes, batch.spans, strict=True)
    ]
    judged = _judged(batch, _best_points(batch, grids, passes, margin), passes, margin)
    judged.exact = dict(exact)
    return judged


def _round_figures(value: Numbers, span: Spans, unit: float, digits: int) -> Numbers:
    """Round figures about a value, two below and two above, inside its range.

    Few digits are the same in millimetres and newtons as in SI units; a rotation is rounded in its
    unit of one per minute. Figures that begin with 1 go in half steps, which are as fine as the
    others are at 2.
    """
    step = 10.0 ** (np.floor(np.log10(value / unit)) - digits + 1) * unit
    step = np.where(value < 2 * step * 10 ** (digits - 1), step / 2, step)
    below = np.floor(value / step + TOUCHING)
    figures: Numbers = np.clip((below + np.arange(-1, 3)) * step, span.low, span.high)
    return figures


def _governing(batch: Batch, best: _Best, margin: float) -> list[str]:
    """Names of the limits that stop the pace from rising, or the worst limits of points short of the margin."""
    names = [""] * len(batch)
    for passes in np.unique(best.passes):
        for tell, chosen in ((_stopping, best.tier == KEPT), (_worst, best.tier != KEPT)):
            rows = np.flatnonzero((best.passes == passes) & chosen)
            if rows.size:
                told = tell(batch.rows(rows), best.of(rows), int(passes), margin)
                for row, name in zip(rows, told, strict=True):
                    names[row] = name
    return names


def _worst(batch: Batch, best: _Best, passes: int, margin: float) -> list[str]:
    """The limit each point exceeds most."""
    limits = batch.evaluate(best.rounded, passes).limits
    return _most_used(limits, (len(batch), 1), np.zeros(len(batch), dtype=np.intp), margin)


def _stopping(batch: Batch, best: _Best, passes: int, margin: float) -> list[str]:
    """The limit that stops each pace from rising, counted from the point before its settings were rounded."""
    names = []
    pace = np.broadcast_to(batch.evaluate(best.exact, passes).pace, (len(batch), 1))
    faster = batch.faster(best.exact, FASTER)
    shape = next(iter(faster.values())).shape
    for rows, block in batch.blocks(shape[1]):
        evaluation = block.evaluate({name: values[rows] for name, values in faster.items()}, passes)
        size = (len(block), shape[1])
        slower = np.broadcast_to(evaluation.pace, size) < pace[rows] * FASTER * (1 - TOUCHING)
        least = np.argmin(np.where(slower, np.inf, highest_utilisation(evaluation.limits, margin)), axis=1)
        names += _most_used(evaluation.limits, size, least, margin)
    return names


def _most_used(limits: Sequence[Limit], shape: tuple[int, int], index: Rows, margin: float) -> list[str]:
    """The limit used most at one point of every row; the first of those that are used alike."""
    places = index[:, np.newaxis]
    shares = [
        np.take_along_axis(np.broadcast_to(highest_utilisation([limit], margin), shape), places, axis=1)[:, 0]
        for limit in limits
    ]
    return [limits[each].name for each in np.argmax(shares >= np.max(shares, axis=0) * (1 - TOUCHING), axis=0)]
