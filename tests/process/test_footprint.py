"""Footprints and their means over cells."""

from __future__ import annotations

import math
from collections.abc import Callable

import numpy as np
import pytest

from finishplan.process.footprint import BeltContact, Field, cell_means, gaussian_pad, orbital_pad, spinning_disc

CELL = (1e-3, 1e-3)


def test_means_add_up_to_one_and_keep_the_order_of_rows_and_columns() -> None:
    means = cell_means(BeltContact(0.020, 0.006).pressure, (12, 5), CELL)
    assert means.shape == (11, 25)
    assert means.sum() == pytest.approx(1)
    assert np.count_nonzero(means.sum(axis=0)) == 21
    assert np.count_nonzero(means.sum(axis=1)) == 7


def test_a_cell_cut_by_the_rim_counts_by_its_share() -> None:
    means = cell_means(BeltContact(0.002, 0.002).pressure, (1, 1), CELL) * 4
    assert means.tolist() == [[0.25, 0.5, 0.25], [0.5, 1.0, 0.5], [0.25, 0.5, 0.25]]


@pytest.mark.parametrize(
    ("field", "second_moment"),
    [
        pytest.param(orbital_pad(0.03).pressure, 0.03**2 / 4, id="even disc"),
        pytest.param(spinning_disc(0.03).speed, None, id="speed has no rim"),
        pytest.param(gaussian_pad(0.006).pressure, 0.006**2, id="normal distribution"),
    ],
)
def test_the_spread_is_that_of_the_shape(field: Callable[[Field, Field], Field], second_moment: float | None) -> None:
    if second_moment is None:
        assert field(np.array([0.0, 0.03]), np.zeros(2)).tolist() == [0.0, 1.0]
        return
    means = cell_means(field, (43, 43), CELL)
    offset = np.arange(-43, 44) * 1e-3
    assert (means.sum(axis=0) * offset**2).sum() == pytest.approx(second_moment + CELL[0] ** 2 / 12, rel=1e-3)
    assert (means.sum(axis=1) * offset).sum() == pytest.approx(0, abs=1e-15)


def test_a_disc_slides_in_proportion_to_the_distance_from_its_centre() -> None:
    x = np.array([0.0, 0.01, 0.03])
    assert spinning_disc(0.02).speed(x, 0 * x).tolist() == [0.0, 0.5, 1.5]
    assert spinning_disc(0.02).pressure(x, 0 * x).tolist() == [1.0, 1.0, 0.0]


def test_a_belt_turns_with_its_direction_of_travel() -> None:
    belt = BeltContact(0.01, 0.05, math.radians(90))
    assert belt.reach == pytest.approx((0.025, 0.005))
    assert belt.pressure(np.array([0.02, 0.0]), np.array([0.0, 0.02])).tolist() == [1.0, 0.0]
    assert belt.speed(np.array([0.02]), np.array([0.0])).tolist() == [1.0]


def test_a_footprint_that_removes_nothing_is_refused() -> None:
    with pytest.raises(ValueError, match="removes nothing"):
        cell_means(lambda x, y: 0 * x * y, (3, 3), CELL)
