"""Waypoints along a path."""

from __future__ import annotations

import math

import numpy as np
import pytest

from finishplan.geometry.waypoints import waypoints

CORNER = np.array([[0.0, 0.0], [0.1, 0.0], [0.1, 0.05]])


def test_waypoints_are_even_between_corners_and_lie_on_every_corner() -> None:
    placed = waypoints(CORNER, 0.03)
    assert placed.position[:, :2].tolist() == [
        pytest.approx(point)
        for point in [(0, 0), (0.025, 0), (0.05, 0), (0.075, 0), (0.1, 0), (0.1, 0.025), (0.1, 0.05)]
    ]
    assert placed.tangent[3:].tolist() == [[1, 0, 0], [0, 1, 0], [0, 1, 0], [0, 1, 0]]


def test_a_spacing_that_divides_the_length_is_met_exactly() -> None:
    assert len(waypoints(np.array([[0.0, 0.0], [0.3, 0.0]]), 0.1).position) == 4


def test_a_smooth_curve_is_resampled_over_its_own_points() -> None:
    angle = np.linspace(0, math.pi, 2001)
    placed = waypoints(0.1 * np.stack([np.cos(angle), np.sin(angle)], axis=1), 0.01)
    assert len(placed.position) == math.ceil(0.1 * math.pi / 0.01) + 1
    steps = np.linalg.norm(np.diff(placed.position, axis=0), axis=1)
    assert steps == pytest.approx(steps.mean(), rel=1e-4)
    radial = placed.position / np.linalg.norm(placed.position, axis=1)[:, None]
    assert np.einsum("ij,ij->i", radial, placed.tangent) == pytest.approx(0, abs=2e-3)


def test_directions_are_unit_vectors_and_the_tool_stands_upright() -> None:
    placed = waypoints(CORNER + 0.3, 0.007)
    assert np.linalg.norm(placed.tangent, axis=1) == pytest.approx(1)
    assert (placed.normal == [0, 0, 1]).all()
    assert (placed.position[:, 2] == 0).all()


@pytest.mark.parametrize("spacing", [0.0, -1.0, math.inf, math.nan])
def test_a_spacing_must_be_above_zero(spacing: float) -> None:
    with pytest.raises(ValueError, match="spacing must be above zero"):
        waypoints(CORNER, spacing)
