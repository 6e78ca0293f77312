"""How fast a whole path is travelled, within feed, curvature and acceleration."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import ArrayLike, NDArray

from finishplan.formula import INFINITY
from finishplan.physics.motion.corners import corner_feed, section_ratio

Floats = NDArray[np.float64]

CORNER_TURN: Final = float(np.pi / 6)
"""Turn at one point of the path from which it counts as a corner, not as part of an arc."""


@dataclass(frozen=True, eq=False)
class FeedProfile:
    """How fast a path is really travelled.

    Attributes
    ----------
    position : array
        Length of path up to each point [m].
    speed : array
        Speed at each point, from rest to rest on an open path [m/s].
    ratio : array
        `section_ratio` at each point [1]. It counts what the path itself forces: an edge is entered
        and left on lead-in moves, so the rest at the ends lengthens the time but not the ratio.
    between : array
        Highest speed from each point to the next: the feed, or what a curved stretch leaves of it [m/s].
    slowest : float
        Lowest speed the path itself forces [m/s].
    time : float
        Time from end to end, or once around [s].
    """

    position: Floats
    speed: Floats
    ratio: Floats
    between: Floats
    slowest: float
    time: float


def feed_profile(
    points: ArrayLike,
    feed: float,
    tangential_acceleration: float,
    normal_acceleration: float,
    closed: bool = False,
    corner_radius: float = INFINITY,
) -> FeedProfile:
    """Fastest travel along a path within feed, curvature and acceleration.

    At every point v <= min(vf, sqrt(a_n r)), with r the radius of the circle through the point and
    its neighbours. Between points the speed may rise as far as acceleration and the limits at both
    ends of the stretch allow, so a straight line needs no points but its ends.

    Parameters
    ----------
    points : array_like, shape (n, d)
        Points of the path in order; arcs as chords, about equally long [m].
    feed : float
        Programmed feed vf [m/s].
    tangential_acceleration : float
        Acceleration and braking along the path [m/s2].
    normal_acceleration : float
        Acceleration a_n across the path [m/s2].
    closed : bool
        Whether the path returns to its first point and runs on without a stop; the first point is
        added at the end where it is not there yet.
    corner_radius : float
        Radius to which the controller rounds turns of 30 degrees and more at one point, 0 for a full
        stop; without it a corner is as round as its neighbouring points are far away [m].

    Returns
    -------
    FeedProfile
        Position, speed and ratio per point, slowest speed and time.

    Raises
    ------
    ValueError
        Fewer than two points, neighbours at the same place, or a feed or acceleration of zero.

    Notes
    -----
    The speed limit is the greatest function below the caps whose square rises and falls by no more
    than 2 a per length: the lower envelope of the cones 2 a |s - s_j| on the caps, found with two
    running minima. For unevenly spaced points on an arc the radius comes out smaller than the
    circle's by the cosine of half the difference of the two chords' half angles; unlike the
    circle's it stays right for a path that turns back on itself.
    """
    _refuse_standstill(
        feed=feed, tangential_acceleration=tangential_acceleration, normal_acceleration=normal_acceleration
    )
    if not corner_radius >= 0:
        raise ValueError(f"feed_profile: corner_radius must be at least 0 [m], given {corner_radius:g}")
    steps = np.diff(_checked(points, closed), axis=0)
    lengths = _lengths(steps)
    position = np.concatenate(([0.0], np.cumsum(lengths)))
    radius, is_corner = _radii(steps, lengths, closed)
    radius = np.where(is_corner, np.minimum(radius, corner_radius), radius)
    at_point = np.minimum(feed, corner_feed(radius, normal_acceleration)) ** 2
    gain = 2 * tangential_acceleration
    rolling = (_around if closed else _reachable)(at_point, lengths, gain)
    from_ends = INFINITY if closed else gain * np.minimum(position, position[-1] - position)
    squared = np.minimum(rolling, from_ends)
    # a corner slows the tool at one point, a curved stretch along the whole of it
    beside = np.where(is_corner, feed * feed, at_point)
    between = np.maximum(beside[:-1], beside[1:])
    times = _times(squared, lengths, between, tangential_acceleration)
    speed_of_path = np.sqrt(rolling)
    return FeedProfile(
        position,
        np.sqrt(squared),
        section_ratio(feed, speed_of_path),
        np.sqrt(between),
        float(speed_of_path.min()),
        float(times.sum()),
    )


def _refuse_standstill(**limits: float) -> None:
    for name, value in limits.items():
        if not 0 < value < INFINITY:
            raise ValueError(f"feed_profile: {name} must be above 0 and finite, given {value:g}")


def _checked(points: ArrayLike, closed: bool) -> Floats:
    path = np.asarray(points, dtype=float)
    if path.ndim != 2 or len(path) < 2:
        raise ValueError(f"feed_profile: points must be two or more rows of coordinates [m], given shape {path.shape}")
    if not np.all(np.isfinite(path)):
        raise ValueError("feed_profile: points must be finite [m], given nan or inf among them")
    if closed and not np.array_equal(path[0], path[-1]):
        path = np.concatenate((path, path[:1]))
    return path


def _lengths(steps: Floats) -> Floats:
    lengths = np.sqrt(np.einsum("ij,ij->i", steps, steps))
    if not np.all(lengths > 0):
        index = int(np.argmin(lengths))
        raise ValueError(
            f"feed_profile: neighbouring points must differ, given points {index} and {index + 1} at the same place"
        )
    return np.asarray(lengths)


def _radii(steps: Floats, lengths: Floats, closed: bool) -> tuple[Floats, NDArray[np.bool_]]:
    """Radius of the path at its points, and which of them are corners. Open ends are straight."""
    heading = steps / lengths[:, None]
    if closed:
        heading = np.concatenate((heading[-1:], heading, heading[:1]))
        lengths = np.concatenate((lengths[-1:], lengths, lengths[:1]))
    change = np.diff(heading, axis=0)
    # the difference of two unit vectors is twice the sine of half the turn between them
    half_turn_sine = np.sqrt(np.einsum("ij,ij->i", change, change)) / 2
    with np.errstate(divide="ignore"):
        radius = (lengths[:-1] + lengths[1:]) / (4 * half_turn_sine)
    is_corner = half_turn_sine >= np.sin(CORNER_TURN / 2)
    if closed:
        return radius, is_corner
    return np.pad(radius, 1, constant_values=INFINITY), np.pad(is_corner, 1, constant_values=False)


def _reachable(cap: Floats, lengths: Floats, gain: float) -> Floats:
    """Greatest squared speed below the cap that changes by no more than `gain` per length."""
    run = gain * np.concatenate(([0.0], np.cumsum(lengths)))
    forward = run + np.minimum.accumulate(cap - run)
    backward = np.minimum.accumulate((forward + run)[::-1])[::-1] - run
    return np.maximum(backward, 0.0)


def _around(cap: Floats, lengths: Floats, gain: float) -> Floats:
    """`_reachable` for a closed path: cut where the cap is lowest, which no other point can lower."""
    start = int(np.argmin(cap[:-1]))
    opened = np.roll(cap[:-1], -start)
    opened = np.append(opened, opened[0])
    squared = np.roll(_reachable(opened, np.roll(lengths, -start), gain)[:-1], start)
    return np.append(squared, squared[0])


def _times(squared: Floats, lengths: Floats, between: Floats, acceleration: float) -> Floats:
    """Time over each stretch: speed up to a peak, hold it, slow down to the speed at the far point."""
    before, after = squared[:-1], squared[1:]
    peak_squared = np.minimum(between, (before + after) / 2 + acceleration * lengths)
    peak_squared = np.maximum(peak_squared, np.maximum(before, after))
    peak = np.sqrt(peak_squared)
    speeds = np.sqrt(squared)
    changing = (2 * peak - speeds[:-1] - speeds[1:]) / acceleration
    held = lengths - (peak_squared - (before + after) / 2) / acceleration
    return np.asarray(changing + np.maximum(held, 0.0) / peak)
