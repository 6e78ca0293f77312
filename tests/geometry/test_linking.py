"""Ways between two points inside a polygon."""

from __future__ import annotations

import math

import numpy as np
import pytest
import shapely
from hypothesis import given
from hypothesis import strategies as st
from shapely.geometry import Polygon

from finishplan.geometry.linking import TOLERANCE, Border, Ways, length_of

PLATE = shapely.box(0, 0, 1, 1)
HOLED = PLATE.difference(shapely.box(0.4, 0.3, 0.6, 0.6))
WEST, EAST = np.array([0.0, 0.5]), np.array([1.0, 0.5])


def test_a_way_is_straight_where_nothing_is_in_between() -> None:
    starts, ends = np.array([WEST, WEST, WEST]), np.array([EAST, [1.0, 1.0], [0.4, 0.5]])
    assert Ways.within(HOLED).straight(starts, ends).tolist() == [False, True, True]


def test_a_way_goes_around_a_hole_by_its_shorter_side() -> None:
    way = Ways.within(HOLED).around(WEST, EAST)
    assert length_of(way) == pytest.approx(1.0 + 2 * 0.1, abs=1e-7)
    assert way[:, 1].max() == pytest.approx(0.6)
    assert (way[0] == WEST).all()
    assert (way[-1] == EAST).all()


def test_a_way_goes_around_one_hole_after_another() -> None:
    two = HOLED.difference(shapely.box(0.7, 0.45, 0.8, 0.8))
    assert length_of(Ways.within(two).around(WEST, EAST)) == pytest.approx(1.0 + 2 * 0.1 + 2 * 0.05, abs=1e-7)
    assert length_of(Ways.within(two).around(EAST, WEST)) == pytest.approx(1.0 + 2 * 0.1 + 2 * 0.05, abs=1e-7)


def test_a_way_follows_the_outer_border_around_a_notch() -> None:
    notched = PLATE.difference(shapely.box(0.4, 0.2, 0.6, 1.0))
    assert length_of(Ways.within(notched).around(WEST, EAST)) == pytest.approx(1.0 + 2 * 0.3, abs=1e-7)


@pytest.mark.parametrize(("start", "end"), [((0.1, 0.0), (0.0, 0.1)), ((0.0, 0.1), (0.1, 0.0))])
def test_the_shorter_way_along_a_border_may_pass_its_first_point(
    start: tuple[float, float], end: tuple[float, float]
) -> None:
    border = Border(Polygon([(0, 0), (1, 0), (1, 1), (0, 1)]).exterior)
    way = border.way(np.array(start), np.array(end))
    assert way == pytest.approx(np.array([start, (0.0, 0.0), end]), abs=1e-12)


def test_once_around_a_border_begins_and_ends_at_the_nearest_place() -> None:
    around = Border(PLATE.exterior).around(np.array([0.3, -1.0]))
    assert around[0].tolist() == pytest.approx([0.3, 0.0])
    assert around[-1].tolist() == pytest.approx([0.3, 0.0])
    assert length_of(around) == pytest.approx(4.0)
    assert len(around) == 6


@given(st.integers(0, 2**32 - 1), st.integers(1, 8))
def test_a_way_never_leaves_the_polygon(seed: int, holes: int) -> None:
    random = np.random.default_rng(seed)
    spots = [shapely.Point(*random.uniform(0, 1, 2)).buffer(random.uniform(0.02, 0.2)) for _ in range(holes)]
    largest = max(shapely.get_parts(PLATE.difference(shapely.union_all(spots))), key=lambda part: part.area)
    on_border = [
        np.asarray(largest.exterior.interpolate(share, normalized=True).coords[0]) for share in random.uniform(0, 1, 2)
    ]
    way = Ways.within(largest).around(*on_border)
    assert shapely.LineString(way).difference(largest.buffer(3 * TOLERANCE)).length < 1e-12
    assert length_of(way) >= math.dist(*on_border) - 1e-12
    assert way[0] == pytest.approx(on_border[0])
    assert way[-1] == pytest.approx(on_border[1])
