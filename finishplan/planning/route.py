"""Short routes: an order of stations to pass with little way between them, some of them before others."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

import numpy as np
from numpy.typing import NDArray

Points = NDArray[np.float64]
Order = NDArray[np.intp]
Relation = NDArray[np.bool_]
"""Whether the one of the row comes before the one of the column."""

MOST_STARTS: Final = 12
"""First places that are tried; more change the route by little."""

IMPROVED_IN_ALL: Final = 400
"""Places of all the routes that are improved: few starts do for a long route, which has many ways to be improved."""

LONGEST_BLOCK: Final = 3
"""Places that are moved elsewhere together."""

LEAST_GAIN: Final = 1e-6
"""A way shorter by less than this is no gain [m]."""


def shortest_order(starts: Points, ends: Points) -> Order:
    """An order of runs with short moves between them.

    Parameters
    ----------
    starts, ends : (n, 2) array
        Where each run begins and ends [m]; runs keep their direction.

    Returns
    -------
    (n,) array of int
        Indices in order of travel. The route is open: it does not return to the first run.
    """
    moves, free = moves_between(starts, ends), np.zeros((len(starts), len(starts)), dtype=np.bool_)
    begun = [nearest_next(moves, free, first) for first in range(min(len(moves), MOST_STARTS))]
    return best_improved(begun, moves, free)


def best_improved(begun: Sequence[Order], moves: Points, before: Relation) -> Order:
    """The shortest route that comes of improving those that are the shortest as begun."""
    most = max(IMPROVED_IN_ALL // len(moves), 2)
    shortest = sorted(begun, key=lambda order: route_length(order, moves))[:most]
    return min((improved(order, moves, before) for order in shortest), key=lambda order: route_length(order, moves))


def moves_between(starts: Points, ends: Points) -> Points:
    """Way from the end of each run to the start of each [m]."""
    return np.asarray(np.linalg.norm(starts[None, :, :] - ends[:, None, :], axis=2), dtype=np.float64)


def route_length(order: Order, moves: Points) -> float:
    """Sum of the moves along an order."""
    return float(moves[order[:-1], order[1:]].sum())


def nearest_next(moves: Points, before: Relation, first: int) -> Order:
    """A route that goes on to the nearest place that may come next.

    `first` counts among the places that may come first, round and round.
    """
    order = np.empty(len(moves), dtype=np.intp)
    waiting_for = before.sum(axis=0)
    left = np.ones(len(moves), dtype=np.bool_)
    for position in range(len(moves)):
        ready = np.flatnonzero(left & (waiting_for == 0))
        nearest = int(np.argmin(moves[order[position - 1], ready])) if position else first % len(ready)
        order[position] = ready[nearest]
        left[order[position]] = False
        waiting_for = waiting_for - before[order[position]]
    return order


def improved(order: Order, moves: Points, before: Relation) -> Order:
    """Move short blocks of a route elsewhere and turn parts of it round, until nothing is gained.

    Parameters
    ----------
    order : (n,) array of int
        A route that keeps `before`; so does the one returned.
    moves : (n, n) array
        Way from each place to each [m].
    before : (n, n) array of bool
        Whether the place of the row comes before that of the column.

    Returns
    -------
    (n,) array of int
        A route no longer than the one given.
    """
    # An end of no way to anywhere, on both sides, makes the open route like any inner part of one.
    nowhere = len(order)
    padded = np.pad(moves, (0, 1))
    bound = np.pad(before, (0, 1))
    route = np.concatenate(([nowhere], order, [nowhere]))
    gained = True
    while gained:
        length = route_length(route, padded)
        for position in range(1, nowhere + 1):
            for size in range(1, min(LONGEST_BLOCK, nowhere + 1 - position) + 1):
                route = _moved(route, position, size, padded, bound)
        for position in range(1, nowhere):
            route = _turned(route, position, padded, bound)
        gained = route_length(route, padded) < length - LEAST_GAIN
    return route[1:-1]


def _moved(route: Order, position: int, size: int, moves: Points, before: Relation) -> Order:
    """Put the block at a position where it lengthens the rest of the route least."""
    block = route[position : position + size]
    rest = np.concatenate((route[:position], route[position + size :]))
    added = moves[rest[:-1], block[0]] + moves[block[-1], rest[1:]] - moves[rest[:-1], rest[1:]]
    enough = added[position - 1] - LEAST_GAIN
    if added.min() > enough:
        return route
    ahead = np.flatnonzero(before[rest[:position]][:, block].any(axis=1))
    behind = np.flatnonzero(before[block][:, rest[position:]].any(axis=0))
    earliest = int(ahead[-1]) if len(ahead) else 0
    latest = position + int(behind[0]) if len(behind) else len(added)
    best = earliest + int(np.argmin(added[earliest:latest]))
    return np.insert(rest, best + 1, block) if added[best] <= enough else route


def _turned(route: Order, position: int, moves: Points, before: Relation) -> Order:
    """Turn round the part from a position on that shortens the route most."""
    part, following, entry = route[position:-1], route[position + 1 :], route[position - 1]
    forth = np.cumsum(moves[part, following])
    back = np.concatenate(([0.0], np.cumsum(moves[part[1:], part[:-1]])))
    gain = moves[entry, part[0]] + forth - moves[entry, part] - back - moves[part[0], following]
    if gain.max() < LEAST_GAIN:
        return route
    in_order = np.triu(before[np.ix_(part, part)]).any(axis=0)
    free = int(np.argmax(in_order)) if in_order.any() else len(part)
    best = int(np.argmax(gain[:free]))
    if gain[best] < LEAST_GAIN:
        return route
    return np.concatenate((route[:position], part[: best + 1][::-1], route[position + best + 1 :]))
