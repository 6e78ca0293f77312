"""Chains: loose pieces of edge joined end to end into the open and closed runs a tool follows.

Ends that coincide are joined first. Ends that then still lie free are joined across a gap no wider
than the gap tolerance. Where three or more ends meet nothing is joined: the branch splits the runs.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import NDArray
from scipy.sparse import coo_array
from scipy.sparse.csgraph import connected_components
from scipy.spatial import cKDTree

from finishplan.geometry.piece import COINCIDENT, Piece, Points

GAP: Final = 5e-5
"""Widest gap between two ends that are still taken as joined [m]."""

SHARP_TURN: Final = math.radians(20)
"""A vertex where the direction turns by more than this is a sharp corner [rad]."""


@dataclass(frozen=True, eq=False)
class Chain:
    """One run of edge from end to end, or once around.

    Attributes
    ----------
    points : (n, 2) array
        Points in order of travel, flattened within 0.01 mm; a closed chain repeats its first point last [m].
    length : float
        Sum of the lengths of the pieces, exact for lines and arcs; bridged gaps are not counted [m].
    closed : bool
        Whether the run ends where it starts.
    smallest_radius : float
        Smallest radius of curvature along the pieces, infinite where all are straight [m].
        A sharp corner is counted apart and does not make it zero.
    sharp_corners : int
        Vertices where the direction turns by more than 20 degrees.
    """

    points: Points
    length: float
    closed: bool
    smallest_radius: float
    sharp_corners: int


@dataclass(frozen=True)
class Joined:
    """What came of joining: the chains, and how many pieces were dropped as exact doubles of another."""

    chains: tuple[Chain, ...]
    duplicates_dropped: int


def join(pieces: Sequence[Piece], gap: float = GAP) -> Joined:
    """Drop exact doubles among the pieces and join the others end to end.

    Parameters
    ----------
    pieces : sequence of Piece
        In any order and direction. A piece that closes on itself is a chain of its own.
    gap : float, optional
        Widest gap between two free ends that is bridged [m].

    Returns
    -------
    Joined
        Chains in the order of their first piece, and the count of doubles dropped.
    """
    distinct = _without_duplicates(pieces)
    if not distinct:
        return Joined((), 0)
    meeting = _meeting_points(distinct, gap)
    runs = _runs(_partners(meeting))
    chains = tuple(_chain([(distinct[end >> 1], bool(end & 1)) for end in run], _closes(run, meeting)) for run in runs)
    return Joined(chains, len(pieces) - len(distinct))


def _clusters(points: Points, reach: float) -> NDArray[np.intp]:
    """Label points so that those within `reach` of each other, directly or through others, share a label.

    Coinciding points are first taken together, so that a heap of them costs no pair for each two.
    """
    _, first, cell = np.unique(np.round(points / (COINCIDENT / 4)), axis=0, return_index=True, return_inverse=True)
    pairs = cKDTree(points[first]).query_pairs(reach, output_type="ndarray")
    links = coo_array((np.ones(len(pairs)), (pairs[:, 0], pairs[:, 1])), shape=(len(first), len(first)))
    _, label = connected_components(links, directed=False)
    return np.asarray(label, dtype=np.intp)[cell.ravel()]


def _without_duplicates(pieces: Sequence[Piece]) -> list[Piece]:
    """The pieces without those that retrace an earlier one, in the same or the opposite direction."""
    if not pieces:
        return []
    groups: dict[int, list[Piece]] = {}
    kept = []
    for piece, group in zip(pieces, _clusters(_signatures(pieces), 4 * COINCIDENT).tolist(), strict=True):
        rivals = groups.setdefault(group, [])
        if not any(_same(piece, rival) for rival in rivals):
            rivals.append(piece)
            kept.append(piece)
    return kept


def _signatures(pieces: Sequence[Piece]) -> Points:
    """Seven lengths per piece that are equal for doubles in either direction and rarely otherwise [m]."""
    first = np.array([piece.points[0] for piece in pieces])
    last = np.array([piece.points[-1] for piece in pieces])
    middle = np.array(
        [(piece.points[len(piece.points) // 2] + piece.points[(len(piece.points) - 1) // 2]) / 2 for piece in pieces]
    )
    length = np.array([piece.length for piece in pieces])
    return np.column_stack([(first + last) / 2, middle, np.abs(last - first), length])


def _same(one: Piece, other: Piece) -> bool:
    if one.points.shape != other.points.shape:
        return False
    along, against = np.abs(one.points - other.points), np.abs(one.points - other.points[::-1])
    return bool(min(along.max(), against.max()) <= COINCIDENT)


def _meeting_points(pieces: Sequence[Piece], gap: float) -> NDArray[np.intp]:
    """Label every end with the point where it meets others; piece i has the ends 2i and 2i + 1."""
    ends = np.array([piece.points[[0, -1]] for piece in pieces]).reshape(-1, 2)
    closed = np.repeat([piece.closed for piece in pieces], 2)
    label = np.empty(len(ends), dtype=np.intp)
    # A closed piece meets nothing but itself: where it happens to start is no place on the part.
    label[closed] = -1 - np.flatnonzero(closed) // 2
    if not closed.all():
        label[~closed] = _clusters(ends[~closed], COINCIDENT)
    bridging = _free_ends(label, pieces, gap)
    if bridging.any():
        label[bridging] = len(ends) + _clusters(ends[bridging], gap)
    return np.unique(label, return_inverse=True)[1].ravel()


def _free_ends(label: NDArray[np.intp], pieces: Sequence[Piece], gap: float) -> NDArray[np.bool_]:
    """Ends that met nothing. A lone piece no longer than the gap stays out: its own ends would meet."""
    _, inverse, count = np.unique(label, return_inverse=True, return_counts=True)
    free = (count[inverse.ravel()] == 1).reshape(-1, 2)
    short = np.array([piece.length <= gap for piece in pieces])
    return np.asarray(free & ~(short & free.all(axis=1))[:, None]).ravel()


def _partners(meeting: NDArray[np.intp]) -> NDArray[np.intp]:
    """For every end the one it is joined to, or -1 where it lies free or at a branch."""
    order = np.argsort(meeting, kind="stable")
    _, first, count = np.unique(meeting[order], return_index=True, return_counts=True)
    one, other = order[first[count == 2]], order[first[count == 2] + 1]
    partner = np.full(len(meeting), -1, dtype=np.intp)
    partner[one], partner[other] = other, one
    return partner


def _runs(partner: NDArray[np.intp]) -> list[list[int]]:
    """Runs of pieces, each named by the end through which it is entered; first the open runs, then the loops."""
    follow = partner.tolist()
    used = [False] * (len(follow) // 2)
    tips = np.flatnonzero(partner < 0).tolist()
    runs = []
    for start in [*tips, *range(0, len(follow), 2)]:
        run, end = [], start
        while end >= 0 and not used[end >> 1]:
            used[end >> 1] = True
            run.append(end)
            end = follow[end ^ 1]
        if run:
            runs.append(run)
    return sorted(runs, key=lambda run: min(end >> 1 for end in run))


def _closes(run: Sequence[int], meeting: NDArray[np.intp]) -> bool:
    return bool(meeting[run[0]] == meeting[run[-1] ^ 1])


def _chain(run: Sequence[tuple[Piece, bool]], closed: bool) -> Chain:
    """The chain of pieces in order, each with whether it is travelled backwards."""
    parts = [piece.points[::-1] if backwards else piece.points for piece, backwards in run]
    points = np.concatenate([parts[0], *(part[1:] for part in parts[1:])])
    if closed:
        points[-1] = points[0]
    points.flags.writeable = False
    return Chain(
        points,
        math.fsum(piece.length for piece, _ in run),
        closed,
        min(piece.smallest_radius for piece, _ in run),
        _sharp_corners(run, closed),
    )


def _sharp_corners(run: Sequence[tuple[Piece, bool]], closed: bool) -> int:
    entering = np.array([-piece.end_direction if back else piece.start_direction for piece, back in run])
    leaving = np.array([-piece.start_direction if back else piece.end_direction for piece, back in run])
    onward = np.roll(entering, -1, axis=0)
    cross = leaving[:, 0] * onward[:, 1] - leaving[:, 1] * onward[:, 0]
    turn = np.abs(np.arctan2(cross, (leaving * onward).sum(axis=1)))
    joints = turn if closed else turn[:-1]
    return int((joints > SHARP_TURN).sum())
