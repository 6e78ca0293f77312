"""Lines, arcs and bulges: exact lengths, and points that keep within the flattening tolerance."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from finishplan.geometry.piece import FLATTENING, ShapeError, arc, bulged, straight


def test_a_line_has_the_length_of_its_diagonal_and_no_curvature() -> None:
    piece = straight((0.0, 0.0), (0.003, 0.004))
    assert piece.length == pytest.approx(0.005, rel=1e-15)
    assert piece.smallest_radius == math.inf
    assert piece.start_direction == pytest.approx([0.6, 0.8])


@given(radius=st.floats(1e-5, 100.0), start=st.floats(-10, 10), sweep=st.floats(1e-3, 2 * math.pi))
def test_points_of_an_arc_lie_on_it_and_its_chords_stay_within_the_tolerance(
    radius: float, start: float, sweep: float
) -> None:
    piece = arc((0.3, -0.2), radius, start, sweep)
    assert np.hypot(*(piece.points - [0.3, -0.2]).T) == pytest.approx(np.full(len(piece.points), radius), rel=1e-9)
    middles = (piece.points[1:] + piece.points[:-1]) / 2
    assert (radius - np.hypot(*(middles - [0.3, -0.2]).T)).max() <= FLATTENING * (1 + 1e-5)
    assert piece.length == radius * sweep


def test_a_small_arc_keeps_its_shape() -> None:
    """A circle smaller than the tolerance would otherwise become a point or a triangle."""
    assert len(arc((0.0, 0.0), 1e-5, 0.0, 2 * math.pi).points) == 37


@pytest.mark.parametrize("sweep", [math.pi / 2, math.pi / 2 * (1 - 1e-12), math.pi / 2 * (1 + 1e-12)])
def test_a_rounding_error_does_not_decide_the_count_of_points(sweep: float) -> None:
    assert len(arc((0.0, 0.0), 1e-3, 0.3, sweep).points) == 10


def test_an_arc_and_a_bulge_over_the_same_quarter_circle_agree() -> None:
    by_centre = arc((0.0, 0.0), 0.01, 0.0, math.pi / 2)
    by_bulge = bulged((0.01, 0.0), (0.0, 0.01), math.tan(math.pi / 8))
    assert by_bulge.length == pytest.approx(by_centre.length, rel=1e-14)
    assert by_bulge.smallest_radius == pytest.approx(0.01, rel=1e-14)
    assert by_bulge.points == pytest.approx(by_centre.points, abs=1e-15)
    assert by_bulge.start_direction == pytest.approx(by_centre.start_direction, abs=1e-14)
    assert by_bulge.end_direction == pytest.approx(by_centre.end_direction, abs=1e-14)


def test_a_clockwise_arc_travels_the_other_way() -> None:
    piece = arc((0.0, 0.0), 0.01, math.pi / 2, -math.pi / 2)
    assert piece.points[-1] == pytest.approx([0.01, 0.0], abs=1e-17)
    assert piece.start_direction == pytest.approx([1.0, 0.0], abs=1e-15)
    assert piece.end_direction == pytest.approx([0.0, -1.0], abs=1e-15)


@pytest.mark.parametrize("bulge", [1.0, -1.0, 3.0, 1e-3, -1e-6])
def test_the_length_of_a_bulge_is_radius_times_sweep(bulge: float) -> None:
    chord, sweep = 0.02, 4 * math.atan(abs(bulge))
    piece = bulged((0.0, 0.0), (chord, 0.0), bulge)
    assert piece.length == pytest.approx(chord / 2 / math.sin(sweep / 2) * sweep, rel=1e-12)


def test_a_bulge_that_leaves_its_chord_by_less_than_a_nanometre_is_straight() -> None:
    piece = bulged((0.0, 0.0), (0.02, 0.0), 1e-9)
    assert len(piece.points) == 2
    assert piece.smallest_radius == math.inf


@pytest.mark.parametrize(
    ("build", "given"),
    [
        (lambda: straight((0.0, math.nan), (1.0, 0.0)), "not a finite number"),
        (lambda: straight((0.0, 0.0), (1e6, 0.0)), "1e+06 m"),
        (lambda: bulged((0.0, 0.0), (1.0, 0.0), math.inf), "not a finite number"),
        (lambda: bulged((0.0, 0.0), (1.0, 0.0), 1e9), "an arc"),
        (lambda: arc((0.0, 0.0), 5e3, 0.0, 1.0), "5e+03 m"),
    ],
)
def test_numbers_that_are_no_drawing_are_refused(build: object, given: str) -> None:
    assert callable(build)
    with pytest.raises(ShapeError) as refused:
        build()
    assert given in refused.value.given
