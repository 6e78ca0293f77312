"""Sections of chamfers and rounds against polygon operations of a geometry library.

Origin: library. shapely cuts the corner of a wedge with a half plane, and rounds it by shrinking and
growing the wedge by the radius; the section removed is the difference of the areas.
"""

from __future__ import annotations

import numpy as np
import pytest
from shapely import LineString, Point, Polygon
from shapely.ops import split

from finishplan.physics import (
    bisector_depth,
    burr_area,
    chamfer_area,
    chamfer_depth,
    chamfer_leg,
    chamfer_width,
    round_area,
    round_radius,
)

ANGLES = [45.0, 60.0, 90.0, 120.0, 150.0]


def wedge(degrees: float, reach: float) -> Polygon:
    """A corner at the origin, one face along x, with sides long enough that the far end stays away."""
    angle = np.radians(degrees)
    return Polygon([(0, 0), (reach, 0), (reach * np.cos(angle), reach * np.sin(angle))])


@pytest.mark.parametrize("degrees", ANGLES)
def test_chamfer(degrees: float) -> None:
    leg, angle = 0.5, np.radians(degrees)
    ends = np.array([[1.0, 0.0], [np.cos(angle), np.sin(angle)]]) * leg
    along = ends[1] - ends[0]
    cut = LineString([ends[0] - along, ends[1] + along])
    corner = min(split(wedge(degrees, 5.0), cut).geoms, key=lambda part: part.distance(Point(0, 0)))
    # double precision of the polygon operations
    assert chamfer_area(leg, angle) == pytest.approx(corner.area, rel=1e-9)
    assert chamfer_width(leg, angle) == pytest.approx(LineString(ends).length, rel=1e-12)
    assert chamfer_depth(leg, angle) == pytest.approx(cut.distance(Point(0, 0)), rel=1e-9)
    assert bisector_depth(corner.area, angle) == pytest.approx(cut.distance(Point(0, 0)), rel=1e-9)
    assert chamfer_leg(corner.area, angle) == pytest.approx(leg, rel=1e-9)


@pytest.mark.parametrize("degrees", ANGLES)
def test_round(degrees: float) -> None:
    radius, angle = 0.2, float(np.radians(degrees))
    whole = wedge(degrees, 50.0)
    near = Point(0, 0).buffer(3.0)
    rounded = whole.buffer(-radius, join_style="mitre").buffer(radius, quad_segs=2000)
    removed = whole.difference(rounded).intersection(near).area
    # the library's arc has 2000 chords a quarter, which misses less than 1e-6 of the section
    assert round_area(radius, angle) == pytest.approx(removed, rel=1e-4)
    assert round_radius(removed, angle) == pytest.approx(radius, rel=1e-4)


def test_burr() -> None:
    height, root = 0.3, 0.1
    triangle = Polygon([(0, 0), (root, 0), (0.02, height)])
    box = Polygon([(0, 0), (root, 0), (root, height), (0, height)])
    assert burr_area(height, root) == pytest.approx(triangle.area, rel=1e-12)
    assert burr_area(height, root, "rectangular") == pytest.approx(box.area, rel=1e-12)
