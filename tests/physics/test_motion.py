"""Closed forms of travel along lines, arcs and polygons."""

from __future__ import annotations

import re
from typing import Any

import numpy as np
import pytest

from finishplan.physics import blend_deviation, corner_feed, feed_profile, feed_radius, ramp_length, section_ratio

FEED, ALONG, ACROSS = 0.1, 2.0, 3.0


def circle(radius: float, count: int = 720, turn: float = 2 * np.pi) -> np.ndarray:
    angle = np.linspace(0, turn, count, endpoint=turn < 2 * np.pi)
    return radius * np.stack([np.cos(angle), np.sin(angle)], axis=1)


class TestFormulas:
    def test_the_radius_that_keeps_a_feed(self) -> None:
        assert feed_radius(0.1, 2.0) == pytest.approx(5e-3, rel=1e-15)
        assert corner_feed(feed_radius(0.37, 1.7), 1.7) == pytest.approx(0.37, rel=1e-15)

    def test_corner_feed(self) -> None:
        assert corner_feed(5e-3, 2.0) == pytest.approx(0.1, rel=1e-15)
        assert corner_feed(np.inf, 2.0) == np.inf

    def test_ramp_length(self) -> None:
        assert ramp_length(np.array([0.1, 0.3]), np.array([1.0, 2.0])) == pytest.approx([5e-3, 22.5e-3], rel=1e-14)

    def test_blend_deviation(self) -> None:
        assert blend_deviation(5e-3, np.pi / 2) == pytest.approx(5e-3 * (np.sqrt(2) - 1), rel=1e-14)
        assert blend_deviation(5e-3, 0.0) == 0.0

    def test_section_ratio(self) -> None:
        assert section_ratio(0.1, np.array([0.1, 0.05, 0.0])) == pytest.approx([1.0, 2.0, np.inf])

    def test_refuse_what_has_no_meaning(self) -> None:
        with pytest.raises(ValueError, match=r"^ramp_length: acceleration must be at least 1e-12 \[m/s\^2\], given 0$"):
            ramp_length(0.1, 0.0)
        with pytest.raises(ValueError, match=r"^blend_deviation: turn_angle must be between 0 and 3.14059 \[rad\]"):
            blend_deviation(5e-3, np.pi)


class TestStraightLine:
    @pytest.mark.parametrize("count", [2, 3, 1001])
    def test_long_line_takes_its_length_over_feed_and_one_ramp_more(self, count: int) -> None:
        points = np.linspace([0.0, 0.0], [0.2, 0.1], count)
        length = np.hypot(0.2, 0.1)
        profile = feed_profile(points, FEED, ALONG, ACROSS)
        assert profile.time == pytest.approx(length / FEED + FEED / ALONG, rel=1e-9)
        assert profile.position[-1] == pytest.approx(length, rel=1e-14)
        assert profile.speed[0] == profile.speed[-1] == 0.0

    @pytest.mark.parametrize("count", [2, 3, 1001])
    def test_short_line_never_reaches_the_feed(self, count: int) -> None:
        length = 1e-3
        profile = feed_profile(np.linspace([0.0], [length], count), FEED, ALONG, ACROSS)
        assert profile.time == pytest.approx(2 * np.sqrt(length / ALONG), rel=1e-9)

    def test_speed_follows_the_ramp(self) -> None:
        profile = feed_profile(np.linspace([0.0], [0.05], 501), FEED, ALONG, ACROSS)
        ramp = np.minimum(np.sqrt(2 * ALONG * profile.position), FEED)
        assert profile.speed[:250] == pytest.approx(ramp[:250], rel=1e-9)
        assert profile.speed == pytest.approx(profile.speed[::-1], rel=1e-6, abs=1e-8)

    def test_rest_at_the_ends_does_not_count_as_slow_work(self) -> None:
        profile = feed_profile(np.linspace([0.0], [0.05], 501), FEED, ALONG, ACROSS)
        assert profile.slowest == pytest.approx(FEED, rel=1e-12)
        assert profile.ratio == pytest.approx(np.ones(501), rel=1e-12)


class TestArcs:
    def test_circle_is_run_at_its_corner_feed(self) -> None:
        radius = 1e-3
        profile = feed_profile(circle(radius), FEED, ALONG, ACROSS, closed=True)
        speed = np.sqrt(ACROSS * radius)
        assert profile.speed == pytest.approx(np.full(721, speed), rel=1e-9)
        assert profile.time == pytest.approx(2 * np.pi * radius / speed, rel=1e-5)
        assert profile.ratio == pytest.approx(np.full(721, FEED / speed), rel=1e-9)

    def test_wide_circle_is_run_at_the_feed(self) -> None:
        profile = feed_profile(circle(0.2), FEED, ALONG, ACROSS, closed=True)
        assert profile.slowest == pytest.approx(FEED, rel=1e-12)
        assert profile.time == pytest.approx(profile.position[-1] / FEED, rel=1e-12)

    def test_repeating_the_first_point_of_a_closed_path_changes_nothing(self) -> None:
        open_end, repeated = circle(1e-3), np.concatenate((circle(1e-3), circle(1e-3)[:1]))
        first, second = (feed_profile(points, FEED, ALONG, ACROSS, closed=True) for points in (open_end, repeated))
        assert first.time == second.time
        assert np.array_equal(first.speed, second.speed)

    def test_braking_for_an_arc_starts_on_the_line_before_it(self) -> None:
        radius = 0.5e-3
        line = np.linspace([-0.02, radius], [0.0, radius], 400, endpoint=False)
        angle = np.linspace(np.pi / 2, -np.pi / 2, 200)
        path = np.concatenate((line, radius * np.stack([np.cos(angle), np.sin(angle)], axis=1)))
        profile = feed_profile(path, FEED, ALONG, ACROSS)
        arc_speed = np.sqrt(ACROSS * radius)
        assert profile.slowest == pytest.approx(arc_speed, rel=1e-4)
        before = profile.position < 0.02
        braking = np.sqrt(arc_speed**2 + 2 * ALONG * (0.02 - profile.position[before]))
        away_from_start = profile.position[before] > 5e-3
        assert profile.speed[before][away_from_start] == pytest.approx(
            np.minimum(braking, FEED)[away_from_start], rel=3e-2
        )

    def test_start_of_a_closed_path_is_of_no_consequence(self) -> None:
        angle = np.linspace(0, 2 * np.pi, 900, endpoint=False)
        oval = np.stack([0.02 * np.cos(angle), 1e-3 * np.sin(angle)], axis=1)
        first = feed_profile(oval, FEED, ALONG, ACROSS, closed=True)
        second = feed_profile(np.roll(oval, 20, axis=0), FEED, ALONG, ACROSS, closed=True)
        assert second.time == pytest.approx(first.time, rel=1e-12)
        assert np.roll(first.speed[:-1], 20) == pytest.approx(second.speed[:-1], rel=1e-9)
        assert first.slowest < FEED

    def test_space_curve_is_run_as_its_plane_image_of_equal_curvature(self) -> None:
        flat = circle(1e-3)
        tilted = np.stack([flat[:, 0], flat[:, 1] * 0.6, flat[:, 1] * 0.8], axis=1)
        flat_profile = feed_profile(flat, FEED, ALONG, ACROSS, closed=True)
        tilted_profile = feed_profile(tilted, FEED, ALONG, ACROSS, closed=True)
        assert tilted_profile.time == pytest.approx(flat_profile.time, rel=1e-12)


class TestCorners:
    SQUARE = np.array([[0.0, 0.0], [0.1, 0.0], [0.1, 0.1], [0.0, 0.1]])

    def test_full_stop_at_every_corner(self) -> None:
        profile = feed_profile(self.SQUARE, FEED, ALONG, ACROSS, closed=True, corner_radius=0.0)
        assert profile.time == pytest.approx(4 * (0.1 / FEED + FEED / ALONG), rel=1e-12)
        assert profile.slowest == 0.0
        assert np.all(np.isinf(profile.ratio))

    def test_rounded_corner_is_run_at_its_corner_feed(self) -> None:
        profile = feed_profile(self.SQUARE, FEED, ALONG, ACROSS, closed=True, corner_radius=1e-3)
        corner = np.sqrt(ACROSS * 1e-3)
        assert profile.slowest == pytest.approx(corner, rel=1e-12)
        lost = (FEED - corner) ** 2 / (ALONG * FEED)
        assert profile.time == pytest.approx(4 * (0.1 / FEED + lost), rel=1e-12)

    def test_going_back_on_itself_is_the_sharpest_corner(self) -> None:
        points = np.array([[0.0], [0.01], [0.004]])
        sharp = feed_profile(points, 10.0, ALONG, ACROSS).ratio[1]
        straight = feed_profile(np.array([[0.0], [0.01], [0.016]]), 10.0, ALONG, ACROSS).ratio[1]
        assert sharp > straight

    def test_gentle_turns_are_not_corners(self) -> None:
        profile = feed_profile(circle(1e-3, 24), FEED, ALONG, ACROSS, closed=True, corner_radius=0.0)
        assert profile.slowest == pytest.approx(np.sqrt(ACROSS * 1e-3), rel=1e-9)


@pytest.mark.parametrize(
    ("arguments", "message"),
    [
        (
            ([[0.0, 0.0]], FEED, ALONG, ACROSS),
            "feed_profile: points must be two or more rows of coordinates [m], given shape (1, 2)",
        ),
        (
            ([[0.0, 0.0], [1.0, 0.0], [1.0, 0.0]], FEED, ALONG, ACROSS),
            "feed_profile: neighbouring points must differ, given points 1 and 2 at the same place",
        ),
        (
            ([[0.0], [np.nan]], FEED, ALONG, ACROSS),
            "feed_profile: points must be finite [m], given nan or inf among them",
        ),
        (([[0.0], [1.0]], 0.0, ALONG, ACROSS), "feed_profile: feed must be above 0 and finite, given 0"),
        (
            ([[0.0], [1.0]], FEED, np.inf, ACROSS),
            "feed_profile: tangential_acceleration must be above 0 and finite, given inf",
        ),
        (
            ([[0.0], [1.0]], FEED, ALONG, ACROSS, False, -1.0),
            "feed_profile: corner_radius must be at least 0 [m], given -1",
        ),
    ],
)
def test_refuses_what_is_no_path(arguments: tuple[Any, ...], message: str) -> None:
    with pytest.raises(ValueError, match=f"^{re.escape(message)}$"):
        feed_profile(*arguments)
