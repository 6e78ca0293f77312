"""Pieces of an edge: smooth runs such as a line or an arc, with exact length and end directions.

Drawings are taken apart into pieces first; `finishplan.geometry.chain` puts them together again.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final, TypeAlias

import numpy as np
from numpy.typing import ArrayLike, NDArray

from finishplan.errors import FinishplanError

Points: TypeAlias = NDArray[np.float64]
Point: TypeAlias = Sequence[float] | Points

FLATTENING: Final = 1e-5
"""Largest distance between a curve and the polyline that stands for it [m]."""

COINCIDENT: Final = 1e-7
"""Points closer than this are one point; anything shorter has no length [m]."""

REACH: Final = 1e3
"""Largest coordinate accepted, and the radius from which a curve counts as straight [m]."""

_LARGEST_STEP: Final = math.radians(10)
"""Largest turn between two points of a flattened arc, so that small arcs keep their shape [rad]."""

_STRAIGHT_SAGITTA: Final = 1e-9
"""A bulge that leaves its chord by less than this is drawn as the chord [m]."""


class ShapeError(FinishplanError):
    """An entity that is no usable edge. Carries the parts of a fault; the drawing reader completes them."""

    def __init__(self, given: str, wanted: str, write: str = "") -> None:
        self.given, self.wanted, self.write = given, wanted, write
        super().__init__(f"given {given}; wanted {wanted}")


@dataclass(frozen=True, eq=False)
class Piece:
    """One smooth run of an edge.

    Attributes
    ----------
    points : (n, 2) array
        Points along the run, flattened within 0.01 mm [m].
    length : float
        Length of the run itself, not of its points [m].
    smallest_radius : float
        Smallest radius of curvature, infinite for a straight run [m].
    start_direction, end_direction : (2,) arrays
        Unit vectors along the run at its ends.
    """

    points: Points
    length: float
    smallest_radius: float
    start_direction: Points
    end_direction: Points

    @property
    def closed(self) -> bool:
        """Whether the run ends where it starts."""
        return bool(np.hypot(*(self.points[-1] - self.points[0])) <= COINCIDENT)


def usable(numbers: ArrayLike) -> Points:
    """The numbers as a float array; coordinates [m] that are not finite or too large are refused."""
    array = np.asarray(numbers, dtype=float)
    if not np.isfinite(array).all():
        raise ShapeError("a coordinate or dimension that is not a finite number", "finite numbers")
    if np.abs(array).max(initial=0.0) > REACH:
        raise ShapeError(
            f"a coordinate or dimension of {np.abs(array).max():.3g} m",
            f"everything within {REACH:g} m of the origin",
            "a drawing moved to the origin, in its right unit",
        )
    return array


def straight(start: Point, end: Point) -> Piece:
    """The line from `start` to `end` [m]."""
    points = usable(np.array((start, end), dtype=float))
    span = points[1] - points[0]
    length = math.hypot(*span)
    direction = span / length if length else span
    return Piece(points, length, math.inf, direction, direction)


def arc(centre: Point, radius: float, start_angle: float, sweep: float) -> Piece:
    """The circular arc of a centre and radius [m], anticlockwise for a positive sweep [rad]."""
    middle = usable((centre[0], centre[1], radius))[:2]
    angles = start_angle + np.linspace(0.0, sweep, 1 + _arc_steps(radius, sweep))
    points = middle + radius * np.stack([np.cos(angles), np.sin(angles)], axis=1)
    turn = math.copysign(1.0, sweep)
    return Piece(
        usable(points),
        radius * abs(sweep),
        radius,
        turn * _unit(start_angle + math.pi / 2),
        turn * _unit(start_angle + sweep + math.pi / 2),
    )


def bulged(start: Point, end: Point, bulge: float) -> Piece:
    """The circular arc over a chord [m]; bulge = tan(sweep/4), positive where the arc runs anticlockwise.

    The points are reckoned from the start along the chord and never from the centre, which for a
    flat arc lies too far off to be subtracted without loss.
    """
    first, last = usable(np.array((start, end), dtype=float))
    chord = last - first
    width = math.hypot(*chord)
    if not math.isfinite(bulge):
        raise ShapeError("a bulge that is not a finite number", "finite numbers")
    if abs(bulge) * width / 2 < _STRAIGHT_SAGITTA:
        return straight(first, last)
    sweep = 4 * math.atan(bulge)
    radius = width * (1 + bulge * bulge) / (4 * abs(bulge))
    heading = math.atan2(chord[1], chord[0])
    turned = np.linspace(0.0, sweep, 1 + _arc_steps(radius, sweep))
    reach = 2 * radius * np.sin(np.abs(turned) / 2)
    bearing = heading - sweep / 2 + turned / 2
    points = first + reach[:, None] * np.stack([np.cos(bearing), np.sin(bearing)], axis=1)
    points[-1] = last
    return Piece(
        usable(points),
        radius * abs(sweep),
        radius if radius < REACH else math.inf,
        _unit(heading - sweep / 2),
        _unit(heading + sweep / 2),
    )


def _arc_steps(radius: float, sweep: float) -> int:
    """Chords needed: each leaves the arc by the flattening tolerance at most and turns 10 degrees at most.

    The small allowance keeps a rounding error in the sweep from deciding the count, so that the
    same arc drawn in two ways gets the same points.
    """
    if radius > 0 and radius * abs(sweep) > 10 * REACH:
        raise ShapeError(f"an arc {radius * abs(sweep):.3g} m long", f"everything within {REACH:g} m of the origin")
    by_sagitta = 4 * math.asin(math.sqrt(min(1.0, FLATTENING / (2 * radius)))) if radius > 0 else math.inf
    return max(1, math.ceil(abs(sweep) / min(by_sagitta, _LARGEST_STEP) - 1e-6))


def _unit(angle: float) -> Points:
    return np.array([math.cos(angle), math.sin(angle)])
