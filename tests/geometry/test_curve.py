"""Ellipses and splines against closed forms, special functions and dense quadrature from scipy."""

from __future__ import annotations

import math
from itertools import pairwise

import numpy as np
import pytest
from scipy.integrate import quad
from scipy.interpolate import BSpline
from scipy.special import ellipe, ellipeinc

from finishplan.geometry.curve import Ellipse, Spline, curve_piece, spline
from finishplan.geometry.piece import FLATTENING, Points, ShapeError

QUADRATIC = np.array([0.0, 0, 0, 1, 1, 1])


def ellipse(major: float, minor: float, start: float = 0.0, sweep: float = 2 * math.pi) -> Ellipse:
    return Ellipse(np.array([0.1, 0.2]), np.array([major, 0.0]), np.array([0.0, minor]), start, sweep)


def plain_spline(points: list[tuple[float, float]], knots: Points, degree: int) -> Spline:
    return spline(np.array(points), np.ones(len(points)), knots, degree)


@pytest.mark.parametrize("ratio", [1.0, 0.8, 0.3, 0.05, 1e-3])
def test_perimeter_of_an_ellipse_is_the_complete_elliptic_integral(ratio: float) -> None:
    """scipy.special.ellipe (library): perimeter 4 a E(m), m = 1 - (b/a)^2."""
    piece = curve_piece(ellipse(0.05, 0.05 * ratio))
    assert piece.length == pytest.approx(4 * 0.05 * ellipe(1 - ratio**2), rel=1e-9)
    assert piece.closed


def test_part_of_an_ellipse_is_the_incomplete_elliptic_integral() -> None:
    """scipy.special.ellipeinc (library); the amplitude counts from the minor axis."""
    start, end, ratio = 0.3, 2.9, 0.4
    expected = 0.05 * np.diff(ellipeinc(np.array([start, end]) - math.pi / 2, 1 - ratio**2))[0]
    assert curve_piece(ellipse(0.05, 0.05 * ratio, start, end - start)).length == pytest.approx(expected, rel=1e-9)


def test_smallest_radius_of_an_ellipse_lies_at_the_end_of_its_major_axis() -> None:
    """Radius of curvature b^2/a there, a^2/b at the other axis."""
    assert curve_piece(ellipse(0.05, 0.02)).smallest_radius == pytest.approx(0.02**2 / 0.05, rel=1e-12)
    elsewhere = curve_piece(ellipse(0.05, 0.02, 0.1234, 6.0))
    assert elsewhere.smallest_radius == pytest.approx(0.02**2 / 0.05, rel=1e-12)
    near_minor = curve_piece(ellipse(0.05, 0.02, math.pi / 2, 1e-6))
    assert near_minor.smallest_radius == pytest.approx(0.05**2 / 0.02, rel=1e-6)


@pytest.mark.parametrize(
    "curve",
    [
        ellipse(0.05, 0.02),
        spline(
            np.array([(0.0, 0.0), (0.02, 0.05), (0.04, -0.05), (0.06, 0.01)]),
            np.array([1.0, 3.0, 0.4, 1.0]),
            np.array([0.0, 0, 0, 0, 1, 1, 1, 1]),
            3,
        ),
    ],
    ids=["ellipse", "rational spline"],
)
def test_derivatives_are_the_limits_of_differences(curve: Ellipse | Spline) -> None:
    parameter, step = np.linspace(0.05, 0.95, 10), 1e-5
    before, here, after = (curve.derivatives(parameter + shift) for shift in (-step, 0.0, step))
    assert here[1] == pytest.approx((after[0] - before[0]) / (2 * step), rel=1e-6, abs=1e-9)
    assert here[2] == pytest.approx((after[1] - before[1]) / (2 * step), rel=1e-6, abs=1e-8)


def test_chords_of_an_ellipse_stay_within_the_tolerance() -> None:
    """Signed distance to the ellipse from its implicit equation, to first order."""
    points = curve_piece(ellipse(0.2, 0.03)).points - [0.1, 0.2]
    x, y = ((points[1:] + points[:-1]) / 2).T
    level = (x / 0.2) ** 2 + (y / 0.03) ** 2 - 1
    gradient = 2 * np.hypot(x / 0.2**2, y / 0.03**2)
    assert np.abs(level / gradient).max() <= FLATTENING


def test_length_of_a_parabola_in_closed_form() -> None:
    """A quadratic span with control points (-1,0), (0,1), (1,0): arc length of y = (1 - x^2)/2 over 2."""
    piece = curve_piece(plain_spline([(-1.0, 0.0), (0.0, 1.0), (1.0, 0.0)], QUADRATIC, 2))
    assert piece.length == pytest.approx(math.sqrt(2) + math.asinh(1.0), rel=1e-12)
    assert piece.smallest_radius == pytest.approx(1.0, rel=1e-12)
    assert piece.start_direction == pytest.approx([math.sqrt(0.5), math.sqrt(0.5)])
    assert piece.end_direction == pytest.approx([math.sqrt(0.5), -math.sqrt(0.5)])


def test_a_rational_spline_draws_a_circle_exactly() -> None:
    """Quarter circle with middle weight cos 45 degrees."""
    weights = np.array([1.0, math.sqrt(0.5), 1.0])
    piece = curve_piece(spline(np.array([(0.04, 0.0), (0.04, 0.04), (0.0, 0.04)]), weights, QUADRATIC, 2))
    assert piece.length == pytest.approx(0.04 * math.pi / 2, rel=1e-10)
    assert piece.smallest_radius == pytest.approx(0.04, rel=1e-9)
    assert np.hypot(*piece.points.T) == pytest.approx(np.full(len(piece.points), 0.04), rel=1e-12)


def test_length_of_a_free_cubic_spline_against_dense_quadrature() -> None:
    """scipy.integrate.quad (library) over each span of scipy's own derivative spline."""
    generator = np.random.default_rng(20)
    points = generator.uniform(0, 0.1, (12, 2))
    knots = np.concatenate([np.zeros(4), np.sort(generator.uniform(0.1, 0.9, 8)), np.ones(4)])
    slope = BSpline(knots, points, 3).derivative()
    spans = np.unique(knots)
    expected = sum(
        quad(lambda t: math.hypot(*slope(t)), low, high, epsabs=1e-13, limit=500)[0] for low, high in pairwise(spans)
    )
    piece = curve_piece(spline(points, np.ones(12), knots, 3))
    assert piece.length == pytest.approx(expected, rel=1e-9)
    dense = BSpline(knots, points, 3)(np.linspace(0, 1, 20_001))
    distance = np.abs(dense[:, None] - piece.points[None, ::50]).sum(axis=2).min(axis=0)
    assert distance.max() < 2 * FLATTENING


def test_a_periodic_spline_runs_over_the_inner_knots_only() -> None:
    square = [(0.0, 0.0), (0.01, 0.0), (0.01, 0.01), (0.0, 0.01)]
    piece = curve_piece(plain_spline([*square, *square[:3]], np.arange(11.0), 3))
    assert piece.closed
    assert piece.start_direction == pytest.approx(piece.end_direction, abs=1e-9)
    assert piece.points.min() > 0
    assert piece.points.max() < 0.01


def test_a_spline_is_cut_where_its_direction_may_jump() -> None:
    knots = np.array([0.0, 0, 0, 0.5, 0.5, 1, 1, 1])
    whole = plain_spline([(0.0, 0.0), (0.01, 0.0), (0.02, 0.0), (0.02, 0.01), (0.02, 0.02)], knots, 2)
    along, up = (curve_piece(part) for part in whole.smooth_parts())
    assert along.length + up.length == pytest.approx(0.04, rel=1e-12)
    assert along.end_direction == pytest.approx([1.0, 0.0])
    assert up.start_direction == pytest.approx([0.0, 1.0])
    assert along.smallest_radius == math.inf


def test_a_spline_of_degree_one_is_its_polygon() -> None:
    corners = [(0.0, 0.0), (0.03, 0.0), (0.03, 0.04)]
    parts = plain_spline(corners, np.array([0.0, 0, 1, 2, 2]), 1).smooth_parts()
    assert [curve_piece(part).length for part in parts] == pytest.approx([0.03, 0.04], rel=1e-12)


def test_a_spline_that_starts_from_rest_takes_its_direction_from_the_first_chord() -> None:
    piece = curve_piece(plain_spline([(0.0, 0.0), (0.0, 0.0), (0.02, 0.02)], QUADRATIC, 2))
    assert piece.start_direction == pytest.approx([math.sqrt(0.5), math.sqrt(0.5)])
    assert piece.length == pytest.approx(0.02 * math.sqrt(2), rel=1e-9)
    assert piece.smallest_radius == math.inf


def test_a_spline_with_a_turning_point_on_itself_still_converges() -> None:
    """Out and back along a line: speed |2 - 6t| within the span, length 2 (1/3 + 4/3) of a third."""
    piece = curve_piece(plain_spline([(0.0, 0.0), (1.0, 0.0), (-1.0, 0.0)], QUADRATIC, 2))
    assert piece.length == pytest.approx(1 / 3 + 4 / 3, rel=1e-8)


@pytest.mark.parametrize(
    ("points", "weights", "knots", "degree", "given"),
    [
        ([(0.0, 0.0), (1.0, 0.0)], [1.0, 1.0], [0.0, 0, 0, 1, 1, 1], 2, "2 control points, 6 knots, degree 2"),
        ([(0.0, 0.0)] * 3, [1.0, 1.0, 0.0], [0.0, 0, 0, 1, 1, 1], 2, "weights of zero"),
        ([(0.0, 0.0)] * 3, [1.0, 1.0, 1.0], [0.0, 0, 0, 1, 1, 0.5], 2, "knots that run backwards"),
        ([(0.0, 0.0)] * 3, [1.0, 1.0, 1.0], [0.0] * 6, 2, "knots that run backwards"),
        ([(0.0, 0.0), (math.nan, 0.0)], [1.0, 1.0], [0.0, 0, 1, 1], 1, "not a finite number"),
        ([(0.0, 0.0), (2e3, 0.0)], [1.0, 1.0], [0.0, 0, 1, 1], 1, "2e+03 m"),
    ],
)
def test_an_unsound_spline_is_refused(
    points: list[tuple[float, float]], weights: list[float], knots: list[float], degree: int, given: str
) -> None:
    with pytest.raises(ShapeError) as refused:
        spline(np.array(points), np.array(weights), np.array(knots), degree)
    assert given in refused.value.given


def test_a_curve_that_no_reasonable_number_of_points_follows_is_refused() -> None:
    weights = np.array([1.0, 1e-9, 1.0])
    with pytest.raises(ShapeError, match="points follow within"):
        curve_piece(spline(np.array([(0.0, 0.0), (900.0, 900.0), (900.0, -900.0)]), 1 / weights, QUADRATIC, 2))
