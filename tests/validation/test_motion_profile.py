"""Feed profile against a linear programme and numerical integration.

Origin of all: library. The squared speed is the greatest function below its caps whose slope stays
within twice the acceleration; scipy.optimize.linprog finds it without the running minima under test.
The curvature of the ellipse is its textbook closed form (Bronshtein et al., Handbook of Mathematics,
plane curves), not the one estimated from points.
"""

from __future__ import annotations

import numpy as np
import pytest
from scipy.integrate import quad, solve_ivp
from scipy.optimize import linprog
from scipy.sparse import diags_array, vstack
from scipy.special import ellipe

from finishplan.physics import corner_feed, feed_profile, ramp_length

LONG, SHORT = 40e-3, 4e-3
FEED, ALONG, ACROSS = 0.15, 1.5, 2.5


def ellipse(angle: np.ndarray) -> np.ndarray:
    return np.stack([LONG * np.cos(angle), SHORT * np.sin(angle)], axis=1)


def ellipse_cap(angle: np.ndarray) -> np.ndarray:
    """Greatest squared speed on the ellipse by feed and curvature."""
    radius = (LONG**2 * np.sin(angle) ** 2 + SHORT**2 * np.cos(angle) ** 2) ** 1.5 / (LONG * SHORT)
    return np.minimum(FEED**2, ACROSS * radius)


def evenly_spaced_angles(start: float, end: float, count: int) -> np.ndarray:
    """Parameters of points at equal distances along the ellipse."""
    angle = np.linspace(start, end, 200 * count)
    length = np.concatenate(([0.0], np.cumsum(np.hypot(*np.diff(ellipse(angle), axis=0).T))))
    return np.interp(np.linspace(0, length[-1], count), length, angle)


def greatest_squared_speed(cap: np.ndarray, lengths: np.ndarray) -> np.ndarray:
    rises = diags_array([-np.ones(lengths.size), np.ones(lengths.size)], offsets=[0, 1], shape=(lengths.size, cap.size))
    solved = linprog(
        -np.ones(cap.size),
        A_ub=vstack([rises, -rises]),
        b_ub=np.tile(2 * ALONG * lengths, 2),
        bounds=np.stack([np.zeros(cap.size), cap], axis=1),
        method="highs",
    )
    assert solved.success
    return np.asarray(solved.x)


def test_open_path_from_rest_to_rest() -> None:
    angle = evenly_spaced_angles(-1.0, 4.0, 801)
    points = ellipse(angle)
    lengths = np.hypot(*np.diff(points, axis=0).T)
    cap = ellipse_cap(angle)
    cap[[0, -1]] = 0.0
    wanted = np.sqrt(greatest_squared_speed(cap, lengths))
    profile = feed_profile(points, FEED, ALONG, ACROSS)
    # curvature from points 0.15 mm apart, on a curve whose smallest radius is 0.4 mm
    assert profile.speed == pytest.approx(wanted, rel=0.02, abs=1e-6)
    assert profile.time == pytest.approx(float((2 * lengths / (wanted[1:] + wanted[:-1])).sum()), rel=2e-3)


def test_closed_path() -> None:
    angle = evenly_spaced_angles(0.3, 0.3 + 2 * np.pi, 1201)
    points = ellipse(angle)
    lengths = np.hypot(*np.diff(points, axis=0).T)
    laps = greatest_squared_speed(np.tile(ellipse_cap(angle)[:-1], 3), np.tile(lengths, 3)[:-1])
    wanted = np.sqrt(laps[1200:2400])
    profile = feed_profile(points[:-1], FEED, ALONG, ACROSS, closed=True)
    assert profile.speed[:-1] == pytest.approx(wanted, rel=0.02)
    assert profile.slowest == pytest.approx(wanted.min(), rel=0.02)
    assert profile.ratio[:-1] == pytest.approx(FEED / wanted, rel=0.02)
    # chords of 0.14 mm cut the ends of the ellipse short
    assert profile.position[-1] == pytest.approx(4 * LONG * ellipe(1 - (SHORT / LONG) ** 2), rel=1e-4)


def test_uneven_caps_and_steps() -> None:
    """A zigzag of random turns on unevenly spaced points, with the profile's own caps at every point."""
    rng = np.random.default_rng(11)
    lengths = rng.uniform(0.5e-3, 3e-3, 300)
    heading = np.cumsum(rng.uniform(-0.4, 0.4, 300))
    points = np.concatenate(
        (np.zeros((1, 2)), np.cumsum(lengths[:, None] * np.stack([np.cos(heading), np.sin(heading)], axis=1), axis=0))
    )
    turn = np.abs(np.diff(heading))
    radius = (lengths[1:] + lengths[:-1]) / (4 * np.sin(turn / 2))
    cap = np.concatenate(([0.0], np.minimum(FEED**2, ACROSS * radius), [0.0]))
    wanted = greatest_squared_speed(cap, lengths)
    # tolerance of the solver
    assert feed_profile(points, FEED, ALONG, ACROSS).speed ** 2 == pytest.approx(wanted, rel=1e-6, abs=1e-9)


def test_time_once_around_by_integration() -> None:
    """scipy.integrate.quad of ds/v over an ellipse so slow that only curvature and feed limit it."""
    gentle = 1e4

    def time_per_angle(at: float) -> float:
        metric = np.hypot(LONG * np.sin(at), SHORT * np.cos(at))
        return float(metric / np.sqrt(ellipse_cap(np.asarray(at))))

    once, _ = quad(time_per_angle, 0, 2 * np.pi, limit=400)
    angle = evenly_spaced_angles(0, 2 * np.pi, 4001)
    assert feed_profile(ellipse(angle)[:-1], FEED, gentle, ACROSS, closed=True).time == pytest.approx(once, rel=2e-3)


def test_ramp_length_by_integration() -> None:
    """scipy.integrate.solve_ivp of constant acceleration until the feed is reached."""

    def feed_reached(_: float, state: np.ndarray) -> float:
        return float(state[1] - FEED)

    feed_reached.terminal = True
    run = solve_ivp(lambda _, state: [state[1], ALONG], (0, 1), [0.0, 0.0], events=feed_reached, rtol=1e-10)
    assert ramp_length(FEED, ALONG) == pytest.approx(run.y_events[0][0][0], rel=1e-8)


def test_corner_feed_by_the_acceleration_of_a_turning_point() -> None:
    """numpy.gradient, twice, of the places of a point on a circle run at the corner feed."""
    radius = 5e-3
    speed = corner_feed(radius, ACROSS)
    time = np.linspace(0, 1e-2, 20_001)
    place = radius * np.stack([np.cos(speed * time / radius), np.sin(speed * time / radius)])
    twice = np.gradient(np.gradient(place, time, axis=1), time, axis=1)
    # the ends of a difference are less accurate
    assert np.hypot(*twice)[10:-10] == pytest.approx(np.full(19_981, ACROSS), rel=1e-4)
