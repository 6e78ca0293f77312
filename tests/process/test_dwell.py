"""Dwell on the cells of a grid."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from hypothesis.extra.numpy import arrays

from finishplan.process.dwell import Dwell, DwellPath, Field, Grid, at_feed

GRID = Grid((0.0, 0.0), (1.0, 0.5), 12, 18)
"""Cells of 1 m x 0.5 m with centres at x = 0 to 11 m, y = 0 to 8.5 m."""


def path(*points: tuple[float, float], seconds: float = 1.0) -> DwellPath:
    return DwellPath(np.array(points), np.full(len(points) - 1, seconds))


def on_cells(paths: list[DwellPath]) -> Field:
    return Dwell.on(paths, GRID).on_cells()


def test_a_grid_lies_evenly_over_a_box_with_its_margin() -> None:
    grid = Grid.over((0.0, 10.0, 1.0, 10.55), (0.1, 0.1), (2, 1))
    assert (grid.columns, grid.rows) == (14, 8)
    assert grid.x[[2, 11]].tolist() == pytest.approx([0.05, 0.95])
    assert grid.y[[1, 6]].tolist() == pytest.approx([10.025, 10.525])


@pytest.mark.parametrize(
    ("cell", "message"),
    [
        ((0.0, 0.1), "above zero"),
        ((math.nan, 0.1), "above zero"),
        ((math.inf, 0.1), "above zero"),
        ((1e-5, 1e-5), "too many"),
    ],
)
def test_a_grid_needs_cells_of_a_sensible_size(cell: tuple[float, float], message: str) -> None:
    with pytest.raises(ValueError, match=message):
        Grid.over((0.0, 0.0, 1.0, 1.0), cell, (1, 1))


def test_a_path_through_the_centres_of_cells_counts_for_them_alone() -> None:
    held = on_cells([path((2.0, 1.0), (5.0, 1.0), seconds=3.0)])
    assert held[2, 2:6].tolist() == pytest.approx([0.5, 1.0, 1.0, 0.5])
    assert held.sum() == pytest.approx(3.0)


def test_a_path_between_two_rows_counts_for_both_by_nearness() -> None:
    held = on_cells([path((2.0, 1.1), (4.0, 1.1), seconds=2.0)])
    assert held[2, 2:5].tolist() == pytest.approx([0.4, 0.8, 0.4])
    assert held[3, 2:5].tolist() == pytest.approx([0.1, 0.2, 0.1])


def test_a_stay_counts_in_full() -> None:
    held = on_cells([path((3.25, 1.0), (3.25, 1.0), seconds=4.0)])
    assert held[2, 3:5].tolist() == pytest.approx([3.0, 1.0])


def test_what_lies_outside_the_grid_is_left_out() -> None:
    assert on_cells([path((-5.0, 1.0), (5.0, 1.0), seconds=10.0)]).sum() == pytest.approx(5.0)
    assert on_cells([path((20.0, 1.0), (30.0, 40.0))]).sum() == 0
    assert on_cells([]).shape == (18, 12)


@given(
    points=arrays(float, st.tuples(st.integers(2, 12), st.just(2)), elements=st.floats(0.01, 8.0)),
    seconds=st.floats(0.0, 100.0),
)
def test_time_and_its_centre_of_gravity_are_kept(points: np.ndarray, seconds: float) -> None:
    travelled = DwellPath(points, np.linspace(0.1, 1.0, len(points) - 1) * seconds)
    held = on_cells([travelled])
    middles = (points[1:] + points[:-1]) / 2
    assert held.min() >= -1e-15 * seconds
    assert held.sum() == pytest.approx(travelled.seconds.sum(), rel=1e-12, abs=1e-300)
    assert held.sum(axis=0) @ GRID.x == pytest.approx(travelled.seconds @ middles[:, 0], rel=1e-9, abs=1e-12)
    assert held.sum(axis=1) @ GRID.y == pytest.approx(travelled.seconds @ middles[:, 1], rel=1e-9, abs=1e-12)


def test_shares_are_those_of_many_short_stays() -> None:
    """The closed form against the midpoint rule with 200 000 stays along a slanting line."""
    start, end = np.array([1.3, 0.7]), np.array([9.1, 6.2])
    spots = start + (end - start) * ((np.arange(200_000) + 0.5) / 200_000)[:, None]
    stays = DwellPath(np.repeat(spots, 2, axis=0), np.resize([1.0 / 200_000, 0.0], 399_999))
    whole = on_cells([DwellPath(np.array([start, end]), np.array([1.0]))])
    assert np.abs(whole - on_cells([stays])).max() < 1e-6


def test_a_field_is_linear_between_the_centres() -> None:
    travelled = Dwell.on([path((1.3, 0.7), (9.1, 6.2))], GRID)
    plane = 3.0 + 2.0 * GRID.x[None, :] - GRID.y[:, None]
    assert travelled.seconds @ travelled.means_of(plane) == pytest.approx(3.0 + 2.0 * 5.2 - 3.45)
    assert travelled.means_of(plane).min() >= plane[2, 1]


def test_paths_at_a_feed_take_their_length_over_it() -> None:
    (travelled,) = at_feed([np.array([[0.0, 0.0], [3.0, 4.0], [3.0, 5.0]])], 0.5)
    assert travelled.seconds.tolist() == [10.0, 2.0]


def test_a_feed_must_be_above_zero() -> None:
    with pytest.raises(ValueError, match="feed must be above zero"):
        at_feed([], 0.0)
