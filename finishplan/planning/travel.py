"""Travel to a feature, along its chains and back: how fast, how long, and where the path itself slows the tool."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Final

import numpy as np

from finishplan import physics
from finishplan.physics.motion import CORNER_TURN
from finishplan.planning.motion import Motion
from finishplan.planning.outline import Outline
from finishplan.planning.search import Found

LEAST_OVER_WORK: Final = 1.02
"""Section over that at the programmed feed from which a place counts as slow."""


@dataclass(frozen=True)
class SlowPlace:
    """The slowest place of a stretch that the path slows: where [m], its speed [m/s], and the turn there [rad].

    `over_work` is the section removed there over that at the programmed feed, under a constant force.
    """

    x: float
    y: float
    speed: float
    over_work: float
    turn: float


@dataclass(frozen=True, eq=False)
class Travel:
    """Time once along every chain [s], the slowest speed the paths force [m/s], and the slow places, worst first."""

    time: float
    slowest: float
    slow_places: tuple[SlowPlace, ...]


def travel(outline: Outline, feed: float, motion: Motion, corner_radius: float) -> Travel:
    """Follow every chain of an outline once.

    Parameters
    ----------
    outline : Outline
        The chains.
    feed : float
        Programmed feed [m/s].
    motion : Motion
        Accelerations of the robot.
    corner_radius : float
        Radius on which the tool's centre turns a sharp corner [m].

    Returns
    -------
    Travel
        A feature known by its length alone has no slow places.
    """
    profiles = [feed_along(chain.points, feed, motion, corner_radius, closed=chain.closed) for chain in outline.chains]
    slow = [
        place
        for chain, profile in zip(outline.chains, profiles, strict=True)
        for place in _slow_places(chain.points, profile, feed, motion, closed=chain.closed)
    ]
    return Travel(
        time=sum(profile.time for profile in profiles),
        slowest=min(profile.slowest for profile in profiles),
        slow_places=tuple(sorted(slow, key=lambda place: -place.over_work)),
    )


def feed_along(
    points: np.ndarray, feed: float, motion: Motion, corner_radius: float, *, closed: bool
) -> physics.FeedProfile:
    """How fast a path is travelled by the robot of the cell."""
    return physics.feed_profile(
        points, feed, motion.acceleration, motion.normal_acceleration, closed, corner_radius=corner_radius
    )


def ratio_along(profile: physics.FeedProfile, along: np.ndarray, feed: float, acceleration: float) -> np.ndarray:
    """Programmed feed over the speed the path itself forces, at distances along it [m].

    Between two points the tool speeds up from the first and slows down to the second, as far as the stretch
    lets it.
    """
    before = np.clip(np.searchsorted(profile.position, along, side="right") - 1, 0, len(profile.between) - 1)
    since, left = along - profile.position[before], profile.position[before + 1] - along
    speed = feed / profile.ratio
    rising, falling = (
        np.sqrt(speed[place] ** 2 + 2 * acceleration * np.maximum(way, 0.0))
        for place, way in ((before, since), (before + 1, left))
    )
    return np.asarray(feed / np.minimum(np.minimum(rising, falling), profile.between[before]))


def slowed(slowest: float, feed: float) -> bool:
    """Whether the slowest speed of a path is below its feed by more than the arithmetic's last digits."""
    return slowest < feed * 0.999


def _slow_places(
    points: np.ndarray, profile: physics.FeedProfile, feed: float, motion: Motion, *, closed: bool
) -> Iterator[SlowPlace]:
    """The slowest place of every stretch between places where the tool is up to its feed."""
    ratio, turn = profile.ratio, _turns(points, closed=closed)
    slow = ratio > LEAST_OVER_WORK
    apart = _apart(slow, feed / ratio, turn, np.diff(profile.position), feed, motion)
    count = len(ratio) - 1 if closed else len(ratio)
    # a closed path is cut where the tool is up to its feed, so that no stretch is met in two pieces
    start = (int(np.argmax(apart)) + 1) % count if closed and apart.any() else 0
    order = np.roll(np.arange(count), -start)
    for stretch in np.split(order, np.flatnonzero(apart[order[:-1]]) + 1):
        if slow[stretch].any():
            index = int(stretch[np.argmax(ratio[stretch])])
            x, y = (float(value) for value in points[index])
            worst = float(ratio[index])
            yield SlowPlace(x, y, feed / worst, worst, float(turn[index]))


def _apart(
    slow: np.ndarray, speed: np.ndarray, turn: np.ndarray, lengths: np.ndarray, feed: float, motion: Motion
) -> np.ndarray:
    """Whether the tool is up to its feed between each point and the next: at one of them, or beyond a corner."""
    peak = np.sqrt((speed[:-1] ** 2 + speed[1:] ** 2) / 2 + motion.acceleration * lengths)
    beside_a_corner = np.maximum(turn[:-1], turn[1:]) >= CORNER_TURN
    return np.asarray(~slow[:-1] | ~slow[1:] | (beside_a_corner & (peak * LEAST_OVER_WORK > feed)))


def _turns(points: np.ndarray, *, closed: bool) -> np.ndarray:
    """Change of direction at every point of a path; none at open ends [rad]."""
    steps = np.diff(points, axis=0)
    steps = np.concatenate([steps[-1:], steps, steps[:1]])
    before, after = steps[:-1], steps[1:]
    turn = np.abs(np.arctan2(before[:, 0] * after[:, 1] - before[:, 1] * after[:, 0], (before * after).sum(axis=1)))
    if not closed:
        turn[[0, -1]] = 0.0
    return np.asarray(turn)


def return_time(outline: Outline, passes: int, motion: Motion) -> float:
    """Time to go back to the start of open runs between passes [s]."""
    back = sum(float(np.linalg.norm(chain.points[-1] - chain.points[0])) for chain in outline.chains)
    return (passes - 1) * back / motion.air_speed


def approach_speed(found: Found) -> float:
    """Approach speed the impact leaves, with the margin, and no more than practice allows [m/s]."""
    conditions = found.operation.conditions
    allowed = float(found.evaluation.predictions["nominal"].approach_speed) * (1 - found.margin)
    return min(allowed, float(conditions.rules.approach_speed_max))
