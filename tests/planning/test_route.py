"""Order of runs against every permutation."""

from __future__ import annotations

from itertools import permutations

import numpy as np
import pytest

from finishplan.planning.route import route_length, shortest_order


def moves_between(starts: np.ndarray, ends: np.ndarray) -> np.ndarray:
    return np.linalg.norm(starts[None, :, :] - ends[:, None, :], axis=2)


def best_length(moves: np.ndarray) -> float:
    return min(route_length(np.array(order), moves) for order in permutations(range(len(moves))))


@pytest.mark.parametrize("count", [2, 3, 4, 5, 6, 7])
@pytest.mark.parametrize(
    ("closed", "at_most", "on_average"),
    [
        # moving single runs is a heuristic: with closed runs mostly the optimum, never far from it
        pytest.param(True, 1.15, 1.05, id="closed runs"),
        # open runs between random points are harder than any part
        pytest.param(False, 1.9, 1.2, id="open runs"),
    ],
)
def test_close_to_the_shortest_of_all_orders(closed: bool, at_most: float, on_average: float, count: int) -> None:
    random = np.random.default_rng(count)
    ratios = []
    for _ in range(20 if count < 7 else 5):
        starts = random.uniform(0, 1, (count, 2))
        ends = starts if closed else random.uniform(0, 1, (count, 2))
        moves = moves_between(starts, ends)
        order = shortest_order(starts, ends)
        assert sorted(order) == list(range(count))
        ratios.append(route_length(order, moves) / best_length(moves))
    assert np.mean(ratios) < on_average
    assert max(ratios) < at_most


def test_closed_runs_along_a_line_are_taken_in_order() -> None:
    at = np.array([[3.0, 0.0], [0.0, 0.0], [4.0, 0.0], [1.0, 0.0], [2.0, 0.0]])
    order = shortest_order(at, at)
    assert route_length(order, moves_between(at, at)) == pytest.approx(4.0)


def test_open_runs_keep_their_direction() -> None:
    """Two lines head to tail: going on from the first costs nothing, from the second 20."""
    starts, ends = np.array([[10.0, 0.0], [0.0, 0.0]]), np.array([[20.0, 0.0], [10.0, 0.0]])
    assert list(shortest_order(starts, ends)) == [1, 0]


def test_one_run_alone() -> None:
    at = np.array([[1.0, 2.0]])
    assert list(shortest_order(at, at)) == [0]


def test_length_of_an_order() -> None:
    moves = np.array([[0.0, 1.0, 5.0], [1.0, 0.0, 2.0], [5.0, 2.0, 0.0]])
    assert route_length(np.array([0, 1, 2]), moves) == 3.0
    assert route_length(np.array([1, 0, 2]), moves) == 6.0
