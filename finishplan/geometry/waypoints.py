"""Waypoints: places along a path with the direction of travel and the tool's approach."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from finishplan.geometry.chain import SHARP_TURN
from finishplan.geometry.piece import Points


@dataclass(frozen=True, eq=False)
class Waypoints:
    """Places along one path over a plane surface at z = 0.

    Attributes
    ----------
    along : (n,) array
        Distance along the path [m].
    position : (n, 3) array
        Where the tool touches [m].
    tangent : (n, 3) array
        Unit vectors in the direction of travel; at a sharp corner that of the way onward.
    normal : (n, 3) array
        Unit vectors from the surface to the tool; the tool comes in against them.
    """

    along: np.typing.NDArray[np.float64]
    position: Points
    tangent: Points
    normal: Points


def waypoints(path: Points, spacing: float) -> Waypoints:
    """Places along a path, evenly between its sharp corners and at every one of those.

    Parameters
    ----------
    path : (n, 2) array
        Points of a path [m].
    spacing : float
        Largest distance along the path from one waypoint to the next [m]. Between them the tool
        cuts a curve of radius r short by spacing^2/(8 r).

    Returns
    -------
    Waypoints
        From the first to the last point of the path.

    Raises
    ------
    ValueError
        A spacing that is not above zero.
    """
    if not 0 < spacing < math.inf:
        raise ValueError(f"waypoints: spacing must be above zero [m], given {spacing:g}")
    steps = np.diff(path, axis=0)
    lengths = np.hypot(*steps.T)
    at = np.concatenate([[0.0], np.cumsum(lengths)])
    places = _places(at[_corners(steps)], spacing)
    onward = np.clip(np.searchsorted(at, places, side="right") - 1, 0, len(steps) - 1)
    position = np.stack([np.interp(places, at, axis) for axis in path.T], axis=1)
    tangent = steps[onward] / lengths[onward, None]
    return Waypoints(places, _lifted(position), _lifted(tangent), np.tile([0.0, 0.0, 1.0], (len(places), 1)))


def _corners(steps: Points) -> np.typing.NDArray[np.intp]:
    """Numbers of the first point, the sharp corners and the last point."""
    before, after = steps[:-1], steps[1:]
    cross = before[:, 0] * after[:, 1] - before[:, 1] * after[:, 0]
    turn = np.abs(np.arctan2(cross, (before * after).sum(axis=1)))
    return np.concatenate([[0], np.flatnonzero(turn > SHARP_TURN) + 1, [len(steps)]])


def _places(corners: Points, spacing: float) -> Points:
    """Distances along the path: the corners, and between each two as many even parts as needed."""
    spans = np.diff(corners)
    parts = np.maximum(np.ceil(spans / spacing - 1e-9), 1).astype(np.intp)
    owner = np.repeat(np.arange(parts.size), parts)
    part = np.arange(owner.size) - np.repeat(np.cumsum(parts) - parts, parts)
    return np.append(corners[owner] + spans[owner] * part / parts[owner], corners[-1])


def _lifted(points: Points) -> Points:
    return np.column_stack([points, np.zeros(len(points))])
