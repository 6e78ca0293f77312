"""Slow places of drawn paths, and what they do to edges under cutters and abrasives."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from typing import Any

import numpy as np
import pytest

from finishplan import physics
from finishplan.geometry import Chain
from finishplan.job import LoadedJob
from finishplan.planning.corners import corner_effect
from finishplan.planning.edge_abrasion_operation import EdgeAbrasion, edge_abrasion
from finishplan.planning.motion import Motion, motion_of
from finishplan.planning.outline import Outline
from finishplan.planning.search import Found, search
from finishplan.planning.travel import ratio_along, travel
from finishplan.process.edge_abrasion import EdgeAbrasionSetting, predict_edge_abrasion
from finishplan.reference import grit

SIDE, FEED, RADIUS = 0.2, 0.2, 5e-3
EDGE = """
[[edge]]
name = "rim"
length = "800 mm"
burr = { height = "0.2 mm", root_thickness = "0.1 mm" }
edge_break = { lower = "0.2 mm", upper = "1.2 mm" }
"""


@pytest.fixture
def motion(load: Callable[[], LoadedJob]) -> Motion:
    """Along 3 m/s2, across 2 m/s2."""
    return motion_of(load())


def outline(points: Any, *, closed: bool) -> Outline:
    path = np.asarray(points, dtype=float)
    length = float(np.hypot(*np.diff(path, axis=0).T).sum())
    return Outline((Chain(path, length, closed, np.inf, 0),), drawn=True)


SQUARE = outline([[0, 0], [SIDE, 0], [SIDE, SIDE], [0, SIDE], [0, 0]], closed=True)


class TestSlowPlaces:
    def test_every_corner_of_a_square_is_one(self, motion: Motion) -> None:
        way = travel(SQUARE, FEED, motion, RADIUS)
        places = {(place.x, place.y) for place in way.slow_places}
        assert places == {(0.0, 0.0), (SIDE, 0.0), (SIDE, SIDE), (0.0, SIDE)}
        for place in way.slow_places:
            # v = sqrt(a_n r), and the section goes with the feed over it
            assert place.speed == pytest.approx(np.sqrt(2.0 * RADIUS))
            assert place.over_work == pytest.approx(FEED / np.sqrt(2.0 * RADIUS))
            assert place.turn == pytest.approx(np.pi / 2)
        assert way.slowest == pytest.approx(np.sqrt(2.0 * RADIUS))

    def test_an_open_path_has_none_at_its_ends(self, motion: Motion) -> None:
        way = travel(outline([[0, 0], [SIDE, 0], [SIDE, SIDE]], closed=False), FEED, motion, RADIUS)
        assert [(place.x, place.y) for place in way.slow_places] == [(SIDE, 0.0)]
        assert travel(outline([[0, 0], [SIDE, 0]], closed=False), FEED, motion, RADIUS).slow_places == ()

    def test_a_path_slow_all_round_is_one_place(self, motion: Motion) -> None:
        angle = np.linspace(0, 2 * np.pi, 181)
        points = 10e-3 * np.stack([np.cos(angle), np.sin(angle)], axis=1)
        points[-1] = points[0]
        circle = outline(points, closed=True)
        (place,) = travel(circle, FEED, motion, RADIUS).slow_places
        assert place.speed == pytest.approx(np.sqrt(2.0 * 10e-3), rel=1e-3)

    def test_a_feed_the_corners_bear_meets_none(self, motion: Motion) -> None:
        assert travel(SQUARE, 0.09, motion, RADIUS).slow_places == ()

    def test_the_worst_comes_first(self, motion: Motion) -> None:
        bent = outline([[0, 0], [SIDE, 0], [2 * SIDE, 0.12], [2 * SIDE, 2 * SIDE]], closed=False)
        ratios = [place.over_work for place in travel(bent, 0.5, motion, RADIUS).slow_places]
        assert ratios == sorted(ratios, reverse=True)


class TestAbrasiveCorner:
    """Under a set force the section goes with the dwell, so that force times dwell holds it."""

    @pytest.fixture
    def found(self, sanding: Callable[..., LoadedJob]) -> Found:
        loaded = sanding(more=EDGE)
        belt = next(entry for entry in loaded.cell.abrasive if entry.name == "belt 50")
        return search(edge_abrasion(loaded, 0, belt, grit("P120")), 0.2)

    def test_the_break_grows_and_the_force_told_holds_it(self, found: Found, motion: Motion) -> None:
        operation = found.operation
        assert isinstance(operation, EdgeAbrasion)
        feed = float(found.settings["feed"])
        slow = replace(travel(SQUARE, 1.3 * feed, motion, 0.9 * feed**2 / 2.0), slowest=feed)
        slow = replace(slow, slow_places=tuple(replace(place, speed=feed / 1.5) for place in slow.slow_places))
        corner = corner_effect(operation, found, slow, motion)
        assert corner is not None
        assert corner.held is not None
        nominal = float(found.evaluation.predictions["nominal"].leg)
        assert corner.leg > nominal
        at = EdgeAbrasionSetting(
            found.settings["spindle_speed"], np.float64(feed / 1.5), np.float64(corner.held.force), found.passes
        )
        assert float(predict_edge_abrasion(operation.conditions, at).leg) == pytest.approx(corner.held.leg)
        least = float(operation.conditions.mount.force_min)
        assert corner.held.leg == pytest.approx(nominal, rel=5e-3) or corner.held.force == pytest.approx(least)

    def test_treatments_keep_the_programmed_feed(self, found: Found, motion: Motion) -> None:
        operation, feed = found.operation, float(found.settings["feed"])
        assert isinstance(operation, EdgeAbrasion)
        tight = 0.25 * feed**2 / motion.normal_acceleration
        large = outline(10 * SQUARE.chains[0].points, closed=True)
        corner = corner_effect(operation, found, travel(large, feed, motion, tight), motion)
        assert corner is not None
        quicker = replace(motion, normal_acceleration=corner.acceleration * 1.001)
        assert travel(large, feed, quicker, tight).slow_places == ()
        assert travel(large, feed, motion, corner.radius * 1.001).slow_places == ()
        assert corner.deviation == pytest.approx(corner.radius * (np.sqrt(2) - 1))


def test_between_two_corners_the_tool_comes_up_to_its_feed() -> None:
    """Standstill at both corners of a long straight: v^2 = 2 a s, up to the feed."""
    path = np.array([[0.0, 0.1], [0.0, 0.0], [0.4, 0.0], [0.4, 0.1]])
    feed, acceleration = 0.2, 2.0
    profile = physics.feed_profile(path, feed, acceleration, 2.0, corner_radius=0.0)
    along = 0.1 + np.array([0.0, 0.0025, 0.01, 0.2, 0.39, 0.4])
    with np.errstate(divide="ignore"):
        found = feed / ratio_along(profile, along, feed, acceleration)
    assert found == pytest.approx([0.0, 0.1, 0.2, 0.2, 0.2, 0.0], abs=1e-9)


def test_an_open_end_is_passed_at_the_feed() -> None:
    profile = physics.feed_profile(np.array([[0.0, 0.0], [0.4, 0.0]]), 0.2, 2.0, 2.0)
    assert ratio_along(profile, np.array([0.0, 0.2, 0.4]), 0.2, 2.0) == pytest.approx(1.0)


def test_a_curve_holds_its_speed_between_its_points() -> None:
    """On an arc of 20 mm radius the speed is sqrt(a_n R) all along, not only at the points it is drawn by."""
    angles = np.linspace(0, np.pi, 60)
    arc = 0.02 * np.stack([np.sin(angles), 1 - np.cos(angles)], axis=1)
    profile = physics.feed_profile(arc, 0.5, 3.0, 1.0)
    along = np.linspace(0.02, 0.04, 50)
    assert 0.5 / ratio_along(profile, along, 0.5, 3.0) == pytest.approx(np.sqrt(0.02), rel=2e-3)
