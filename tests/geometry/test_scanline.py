"""Chords of horizontal lines, and which points of a grid lie inside."""

from __future__ import annotations

import numpy as np
import pytest
import shapely
from shapely.geometry import MultiPolygon, Polygon

from finishplan.geometry.scanline import chords, inside

DIAMOND = Polygon([(0, -1), (1, 0), (0, 1), (-1, 0)])
ISLANDS = MultiPolygon(
    [shapely.Point(0, 0).buffer(1.0).difference(shapely.box(-0.3, -0.2, 0.4, 0.5)), shapely.box(2, 0, 3, 1)]
)


def test_a_line_through_two_corners_is_cut_once() -> None:
    cut = chords(DIAMOND, np.array([-0.5, 0.0, 0.5]))
    assert cut.line.tolist() == [0, 1, 2]
    assert (cut.right - cut.left).tolist() == pytest.approx([1.0, 2.0, 1.0])


def test_a_line_along_an_edge_counts_with_what_lies_above_it() -> None:
    cut = chords(shapely.box(0, 0, 2, 1), np.array([0.0, 1.0]))
    assert cut.line.tolist() == [0]


def test_a_tip_touched_from_below_is_no_chord_with_length() -> None:
    cut = chords(DIAMOND, np.array([-1.0, 1.0]))
    assert (cut.right - cut.left).tolist() == [0.0]


def test_chords_have_the_lengths_the_geometry_library_finds() -> None:
    heights = np.linspace(-1.1, 1.1, 401)
    cut = chords(ISLANDS, heights)
    lengths = np.bincount(cut.line, cut.right - cut.left, minlength=heights.size)
    lines = shapely.linestrings([[(-5, y), (5, y)] for y in heights])
    assert lengths == pytest.approx(shapely.length(shapely.intersection(lines, ISLANDS)), abs=1e-12)


def test_grid_points_inside_are_those_the_geometry_library_finds() -> None:
    x, y = np.linspace(-1.2, 3.3, 157), np.linspace(-1.15, 1.25, 141)
    assert (inside(ISLANDS, x, y) == shapely.contains_xy(ISLANDS, *np.meshgrid(x, y))).all()
