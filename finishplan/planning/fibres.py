"""Where a trimmed path meets the fibres of a laminate at their worst.

The angle is counted from the way a tooth moves along the finished wall, into the part. A spindle that
turns clockwise, seen along its axis from the motor, has the part on the left of that way in climb and
in conventional travel alike, so only the line of the path matters and not the sense it is followed in.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import NDArray

from finishplan.geometry import Chain
from finishplan.planning.outline import Outline

WORST: Final = (np.pi / 2, 3 * np.pi / 4)
"""Angles at which fibres are bent and torn instead of cut: common practice, no published source [rad]."""

ROUNDING: Final = 1e-6
"""Angle within which a direction counts as the bound itself [rad]."""


@dataclass(frozen=True)
class WorstStretch:
    """How much of a path meets the fibres at their worst, and its longest piece: length and middle [m]."""

    share: float
    length: float
    middle: tuple[float, float]


def meeting_angle(fibre_angle: float, heading: NDArray[np.float64]) -> NDArray[np.float64]:
    """Angle at which a tooth meets fibres on a path that heads in a direction, 0 to pi [rad]."""
    return np.mod(fibre_angle - heading, np.pi)


def at_worst(meeting: NDArray[np.float64]) -> NDArray[np.bool_]:
    """Whether fibres are met at their worst."""
    return (meeting >= WORST[0] - ROUNDING) & (meeting <= WORST[1] + ROUNDING)


def worst_stretch(outline: Outline, fibre_angle: float) -> WorstStretch:
    """Share of a path at the worst angles, and the longest piece of it there."""
    pieces = [piece for chain in outline.chains for piece in _pieces(chain, fibre_angle)]
    longest = max(pieces, key=lambda piece: piece[0], default=(0.0, (0.0, 0.0)))
    return WorstStretch(sum(length for length, _ in pieces) / outline.length, *longest)


def _pieces(chain: Chain, fibre_angle: float) -> Iterator[tuple[float, tuple[float, float]]]:
    """Length and middle of every unbroken piece at the worst angles."""
    steps = np.diff(chain.points, axis=0)
    lengths = np.hypot(steps[:, 0], steps[:, 1])
    bad = at_worst(meeting_angle(fibre_angle, np.arctan2(steps[:, 1], steps[:, 0])))
    if chain.closed and bad[0] and bad[-1] and not bad.all():
        # a piece that crosses the start is one piece
        good = int(np.argmin(bad))
        order = np.roll(np.arange(bad.size), -good)
        steps, lengths, bad = steps[order], lengths[order], bad[order]
        start = chain.points[good]
    else:
        start = chain.points[0]
    places = start + np.concatenate([np.zeros((1, 2)), np.cumsum(steps, axis=0)])
    along = np.concatenate([[0.0], np.cumsum(lengths)])
    for first, last in np.flatnonzero(np.diff(np.concatenate([[0], bad.astype(int), [0]]))).reshape(-1, 2):
        middle = (along[first] + along[last]) / 2
        x, y = (float(np.interp(middle, along, places[:, axis])) for axis in (0, 1))
        yield float(along[last] - along[first]), (x, y)
