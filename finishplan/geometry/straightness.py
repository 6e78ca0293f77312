"""Chains as a tool follows them that cannot turn: in straight runs, how far they bend, and beyond their ends."""

from __future__ import annotations

from dataclasses import replace
from itertools import pairwise
from typing import Final

import numpy as np
from numpy.typing import NDArray

from finishplan.geometry.chain import SHARP_TURN, Chain
from finishplan.geometry.piece import COINCIDENT

LOOKS: Final = 32
"""Places looked at within the reach."""


def straight_runs(chain: Chain) -> tuple[Chain, ...]:
    """A chain taken apart at its sharp corners, for a tool that cannot turn.

    Parameters
    ----------
    chain : Chain
        Open or closed.

    Returns
    -------
    tuple of Chain
        Open runs in order of travel, a closed chain from its first corner on; the chain itself where it
        has none.
    """
    points, corners = chain.points, np.flatnonzero(np.abs(_turns(chain)) > SHARP_TURN)
    if not corners.size:
        return (chain,)
    if chain.closed:
        points = np.concatenate([points[corners[0] : -1], points[: corners[0] + 1]])
        corners = corners[1:] - corners[0]
    parts = [points[first : last + 1] for first, last in pairwise([0, *corners.tolist(), len(points) - 1])]
    lengths = [float(np.linalg.norm(np.diff(part, axis=0), axis=1).sum()) for part in parts]
    # the exact length of the chain, shared as the flattened lengths are
    stretch = chain.length / sum(lengths)
    return tuple(
        Chain(part, length * stretch, False, chain.smallest_radius, 0)
        for part, length in zip(parts, lengths, strict=True)
    )


def sharp_turns(chain: Chain) -> tuple[int, int]:
    """Sharp corners of a chain that turn left, and those that turn right, in the direction it is drawn."""
    turns = _turns(chain)
    return int((turns > SHARP_TURN).sum()), int((turns < -SHARP_TURN).sum())


def _turns(chain: Chain) -> NDArray[np.float64]:
    """Change of direction at every point of a chain but its last, to the left above zero; none at an open end [rad]."""
    steps = np.diff(chain.points, axis=0)
    before = np.roll(steps, 1, axis=0)
    cross = before[:, 0] * steps[:, 1] - before[:, 1] * steps[:, 0]
    turn = np.arctan2(cross, (before * steps).sum(axis=1))
    if not chain.closed:
        turn[0] = 0.0
    return np.asarray(turn)


def departure(chain: Chain, reach: float) -> float:
    """How far a chain departs at most from the straight line between two of its places.

    Parameters
    ----------
    chain : Chain
        Without sharp corners.
    reach : float
        Half the distance along the chain between the two places [m].

    Returns
    -------
    float
        Greatest distance from the line, 0 where the chain is straight [m]; reach^2/(2 R) on an arc of a
        radius R that is large against the reach. Towards the ends of an open chain the line is shorter.
    """
    at = np.concatenate([[0.0], np.cumsum(np.hypot(*np.diff(chain.points, axis=0).T))])
    middle = np.linspace(0.0, at[-1], int(np.ceil(at[-1] / reach * LOOKS)) + 1)
    half = np.full_like(middle, min(reach, at[-1] / 2))
    if not chain.closed:
        half = np.minimum(half, np.minimum(middle, at[-1] - middle))
    there = _places(chain, at, middle[:, None] + half[:, None] * np.linspace(-1, 1, LOOKS + 1))
    line, away = there[:, -1:] - there[:, :1], there - there[:, :1]
    length = np.hypot(line[..., 0], line[..., 1])
    aside = np.abs(away[..., 0] * line[..., 1] - away[..., 1] * line[..., 0])
    return float((aside / np.maximum(length, COINCIDENT)).max())


def _places(chain: Chain, at: NDArray[np.float64], along: NDArray[np.float64]) -> NDArray[np.float64]:
    """Places at distances along a chain, around a closed one once more."""
    within = np.mod(along, at[-1]) if chain.closed else along
    return np.stack([np.interp(within, at, axis) for axis in chain.points.T], axis=-1)


def lengthened(chain: Chain, by: float) -> Chain:
    """An open chain carried on straight beyond both ends; a closed one as it is.

    Parameters
    ----------
    chain : Chain
        Any.
    by : float
        Length added at either end [m].

    Returns
    -------
    Chain
        The longer one.
    """
    if chain.closed:
        return chain
    first, last = (np.diff(ends, axis=0)[0] for ends in (chain.points[:2], chain.points[-2:]))
    start = chain.points[0] - by * first / np.hypot(*first)
    end = chain.points[-1] + by * last / np.hypot(*last)
    return replace(chain, points=np.concatenate([[start], chain.points, [end]]), length=chain.length + 2 * by)
