"""Identities, inverses and limits of the edge geometry."""

from __future__ import annotations

from collections.abc import Callable

import numpy as np
import pytest

from finishplan.physics import (
    bisector_area,
    bisector_depth,
    burr_area,
    chamfer_area,
    chamfer_depth,
    chamfer_leg,
    chamfer_width,
    round_area,
    round_radius,
)

SQUARE = np.pi / 2
ANGLES = np.radians([20.0, 60.0, 90.0, 120.0, 175.0])
LEGS = np.array([[1e-5], [4e-4], [2e-3]])


def test_square_edge() -> None:
    leg = 5e-4
    assert chamfer_area(leg, SQUARE) == pytest.approx(leg**2 / 2, rel=1e-15)
    assert chamfer_width(leg, SQUARE) == pytest.approx(leg * np.sqrt(2), rel=1e-15)
    assert chamfer_depth(leg, SQUARE) == pytest.approx(leg / np.sqrt(2), rel=1e-15)
    assert round_area(leg, SQUARE) == pytest.approx(leg**2 * (1 - np.pi / 4), rel=1e-12)


def test_leg_is_the_inverse_of_area() -> None:
    assert chamfer_leg(chamfer_area(LEGS, ANGLES), ANGLES) == pytest.approx(np.broadcast_to(LEGS, (3, 5)), rel=1e-14)


def test_radius_is_the_inverse_of_area() -> None:
    assert round_radius(round_area(LEGS, ANGLES), ANGLES) == pytest.approx(np.broadcast_to(LEGS, (3, 5)), rel=1e-14)


def test_depth_and_area_along_the_bisector_are_inverses() -> None:
    assert bisector_depth(bisector_area(LEGS, ANGLES), ANGLES) == pytest.approx(
        np.broadcast_to(LEGS, (3, 5)), rel=1e-14
    )


def test_depth_of_the_section_of_a_chamfer_is_the_chamfer_depth() -> None:
    assert bisector_depth(chamfer_area(LEGS, ANGLES), ANGLES) == pytest.approx(chamfer_depth(LEGS, ANGLES), rel=1e-14)


def test_half_width_and_depth_are_the_sides_of_the_triangle() -> None:
    assert chamfer_area(LEGS, ANGLES) == pytest.approx(
        chamfer_width(LEGS, ANGLES) * chamfer_depth(LEGS, ANGLES) / 2, rel=1e-14
    )
    assert np.hypot(chamfer_width(LEGS, ANGLES) / 2, chamfer_depth(LEGS, ANGLES)) == pytest.approx(
        np.broadcast_to(LEGS, (3, 5)), rel=1e-14
    )


def test_round_removes_less_than_the_chamfer_between_its_tangent_points() -> None:
    tangent_leg = LEGS / np.tan(ANGLES / 2)
    assert np.all(round_area(LEGS, ANGLES) < chamfer_area(tangent_leg, ANGLES))


def test_round_on_a_nearly_flat_edge_keeps_its_precision() -> None:
    half_turn = 1e-3
    series = half_turn**3 / 3 + 2 * half_turn**5 / 15
    assert round_area(1.0, np.pi - 2 * half_turn) == pytest.approx(series, rel=1e-8)


def test_triangular_burr_is_half_of_the_rectangular_one() -> None:
    assert burr_area(3e-4, 1e-4) == pytest.approx(1.5e-8, rel=1e-15)
    assert burr_area(3e-4, 1e-4, "rectangular") == 2 * burr_area(3e-4, 1e-4, "triangular")


def test_nothing_removed_at_zero() -> None:
    assert chamfer_leg(0.0, SQUARE) == round_radius(0.0, SQUARE) == bisector_depth(0.0, SQUARE) == 0.0
    assert burr_area(0.0, 1e-4) == 0.0


def test_arrays_equal_scalars() -> None:
    for function in (chamfer_area, chamfer_leg, chamfer_depth, chamfer_width, bisector_depth, bisector_area):
        assert function(LEGS, ANGLES)[1, 3] == function(float(LEGS[1, 0]), float(ANGLES[3]))
        assert np.ndim(function(4e-4, SQUARE)) == 0


@pytest.mark.parametrize(
    ("call", "message"),
    [
        (lambda: chamfer_leg(-1e-8, 1.0), r"chamfer_leg: area must be at least 0 \[m\^2\], given -1e-08"),
        (lambda: chamfer_depth(1e-3, 0.0), r"chamfer_depth: included_angle must be between 0.001 and 3.14059 \[rad\]"),
        (lambda: round_radius(1e-8, np.pi), r"round_radius: included_angle must be between 0.001 and 3.14059 \[rad\]"),
        (lambda: burr_area(-1e-3, 1e-4), r"burr_area: height must be at least 0 \[m\], given -0.001"),
        (
            lambda: burr_area(1e-3, 1e-4, "round"),
            "burr_area: shape must be one of triangular, rectangular, given 'round'",
        ),
    ],
)
def test_refuses_what_is_no_edge(call: Callable[[], object], message: str) -> None:
    with pytest.raises(ValueError, match=f"^{message}"):
        call()
