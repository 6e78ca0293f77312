"""Ellipses and splines as edge pieces: length by quadrature, points within the flattening tolerance.

Both are parametric curves that are smooth between known parameter values; one routine measures
either. The length is converged to 1e-10 of itself, which is far below what a drawing holds.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from functools import cached_property
from itertools import pairwise
from typing import Final, Protocol

import numpy as np
from scipy.interpolate import BSpline

from finishplan.geometry.piece import FLATTENING, REACH, Piece, Points, ShapeError, usable

_NODES, _WEIGHTS = np.polynomial.legendre.leggauss(10)
_CONVERGED: Final = 1e-10
_HALVINGS: Final = 40
_SAMPLES: Final = np.linspace(0.0, 1.0, 33)
_FEWEST_STEPS: Final = 8
_MOST_POINTS: Final = 200_000


class Curve(Protocol):
    """A plane curve over a parameter, smooth between consecutive `breaks`."""

    @property
    def breaks(self) -> Points:
        """Ascending parameter values; the first and last are the ends."""

    def derivatives(self, parameter: Points) -> tuple[Points, Points, Points]:
        """Position and its first two derivatives, each of the parameter's shape plus a last axis of 2."""


@dataclass(frozen=True, eq=False)
class Ellipse:
    """The elliptic arc centre + cos(t) major + sin(t) minor [m], for t over `sweep` from `start` [rad]."""

    centre: Points
    major: Points
    minor: Points
    start: float
    sweep: float

    @cached_property
    def breaks(self) -> Points:
        """The ends and the axis points between them, where the curvature has its extremes."""
        end = self.start + self.sweep
        quadrants = np.arange(math.ceil(self.start / (math.pi / 2)), end / (math.pi / 2)) * (math.pi / 2)
        inside = quadrants[(quadrants > self.start + 1e-9) & (quadrants < end - 1e-9)]
        return np.concatenate([[self.start], inside, [end]])

    def derivatives(self, parameter: Points) -> tuple[Points, Points, Points]:
        cosine, sine = np.cos(parameter)[..., None], np.sin(parameter)[..., None]
        outward = cosine * self.major + sine * self.minor
        return self.centre + outward, cosine * self.minor - sine * self.major, -outward


@dataclass(frozen=True, eq=False)
class Spline:
    """A B-spline, rational where the weights differ, over its knots from `low` to `high`."""

    control_points: Points
    weights: Points
    knots: Points
    degree: int
    low: float
    high: float

    @cached_property
    def breaks(self) -> Points:
        inside = self.knots[(self.knots > self.low) & (self.knots < self.high)]
        return np.unique(np.concatenate([[self.low], inside, [self.high]]))

    @cached_property
    def _weighted(self) -> BSpline[np.float64]:
        columns = np.column_stack([self.control_points * self.weights[:, None], self.weights])
        return BSpline(self.knots, columns, self.degree)

    def derivatives(self, parameter: Points) -> tuple[Points, Points, Points]:
        # Quotient rule on the weighted curve: point = top/weight.
        (top, weight), (top1, weight1), (top2, weight2) = (
            (value[..., :2], value[..., 2:]) for value in (self._weighted(parameter, nu=order) for order in range(3))
        )
        position = top / weight
        velocity = (top1 - weight1 * position) / weight
        acceleration = (top2 - 2 * weight1 * velocity - weight2 * position) / weight
        return position, velocity, acceleration

    def smooth_parts(self) -> list[Spline]:
        """The spline cut where a knot repeats so often that the direction may jump."""
        values, counts = np.unique(self.knots, return_counts=True)
        kinks = values[(counts >= self.degree) & (values > self.low) & (values < self.high)]
        ends = [self.low, *kinks.tolist(), self.high]
        return [replace(self, low=low, high=high) for low, high in pairwise(ends)]


def spline(control_points: Points, weights: Points, knots: Points, degree: int) -> Spline:
    """A checked spline over the whole range its knots allow; control points [m]."""
    count = len(control_points)
    points = usable(control_points)
    rule = "a spline with ascending knots, one more knot than control points and degree together, weights above zero"
    fits = degree >= 1 and count > degree and len(knots) == count + degree + 1 and len(weights) == count
    if not (fits and np.isfinite(knots).all() and np.isfinite(weights).all()):
        raise ShapeError(f"{count} control points, {len(knots)} knots, degree {degree}", rule)
    low, high = float(knots[degree]), float(knots[count])
    if (np.diff(knots) < 0).any() or high <= low or weights.min() <= 0:
        raise ShapeError("knots that run backwards or weights of zero", rule)
    return Spline(points, weights, knots, degree, low, high)


def curve_piece(curve: Curve) -> Piece:
    """The curve as a piece: length by quadrature, smallest radius from 33 points in every smooth span."""
    # The right end of a span is taken just inside it: at a knot the derivative belongs to the next span.
    low, high = curve.breaks[:-1, None], curve.breaks[1:, None]
    parameter = np.minimum(low + (high - low) * _SAMPLES, np.nextafter(high, low))
    _, velocity, acceleration = curve.derivatives(parameter)
    speed = np.hypot(velocity[..., 0], velocity[..., 1])
    points = usable(_flattened(curve, np.hypot(acceleration[..., 0], acceleration[..., 1]).max(axis=1)))
    return Piece(
        points,
        arc_length(curve),
        _smallest_radius(velocity, acceleration, speed),
        _direction(velocity[0, 0], points[1] - points[0], speed.max()),
        _direction(velocity[-1, -1], points[-1] - points[-2], speed.max()),
    )


def arc_length(curve: Curve) -> float:
    """Length [m]: Gauss-Legendre quadrature of the speed, halving only the spans that have not converged."""
    low, high = curve.breaks[:-1], curve.breaks[1:]
    coarse = _span_lengths(curve, low, high)
    scale, settled = coarse.sum(), 0.0
    for _ in range(_HALVINGS):
        middle = (low + high) / 2
        left, right = _span_lengths(curve, low, middle), _span_lengths(curve, middle, high)
        rough = np.abs(left + right - coarse) > _CONVERGED * scale
        settled += float((left + right)[~rough].sum())
        low, high = np.concatenate([low[rough], middle[rough]]), np.concatenate([middle[rough], high[rough]])
        coarse = np.concatenate([left[rough], right[rough]])
        if not rough.any():
            break
    return settled + float(coarse.sum())


def _span_lengths(curve: Curve, low: Points, high: Points) -> Points:
    half = (high - low)[:, None] / 2
    _, velocity, _ = curve.derivatives((high + low)[:, None] / 2 + half * _NODES)
    lengths: Points = (np.hypot(velocity[..., 0], velocity[..., 1]) * _WEIGHTS * half).sum(axis=1)
    return lengths


def _flattened(curve: Curve, acceleration: Points) -> Points:
    """Points at even parameter steps h per span; a chord leaves the curve by h^2 max|p''|/8 at most."""
    low, width = curve.breaks[:-1], np.diff(curve.breaks)
    steps = np.maximum(np.ceil(width * np.sqrt(acceleration / (8 * FLATTENING)) - 1e-6), _FEWEST_STEPS)
    if not steps.sum() < _MOST_POINTS:
        raise ShapeError(
            "a curve of extreme shape", f"a curve that {_MOST_POINTS} points follow within {FLATTENING * 1e3:g} mm"
        )
    counts = steps.astype(int)
    index = np.arange(counts.sum()) - np.repeat(np.cumsum(counts) - counts, counts)
    parameter = np.append(
        np.repeat(low, counts) + index * np.repeat(width / counts, counts),
        np.nextafter(curve.breaks[-1], curve.breaks[0]),
    )
    return curve.derivatives(parameter)[0]


def _smallest_radius(velocity: Points, acceleration: Points, speed: Points) -> float:
    """Smallest radius of curvature |p'|^3/|p' x p''| [m]; points where the curve stands still are left out."""
    cross = np.abs(velocity[..., 0] * acceleration[..., 1] - velocity[..., 1] * acceleration[..., 0])
    moving = speed > 1e-6 * speed.max()
    bent = moving & (cross * REACH > speed**3)
    return float((speed[bent] ** 3 / cross[bent]).min(initial=math.inf))


def _direction(velocity: Points, chord: Points, fastest: float) -> Points:
    """Unit tangent at an end; the first chord stands in where the curve starts from rest."""
    along = velocity if math.hypot(*velocity) > 1e-6 * fastest else chord
    size = math.hypot(*along)
    return along / size if size else along
