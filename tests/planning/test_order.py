"""The order of a part's works: against every permutation, and what has to come first kept for any job."""

from __future__ import annotations

from itertools import pairwise, permutations
from typing import Any

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from finishplan.planning.order import Work, air_way, best_order
from finishplan.planning.visits import tool_changes

Merit = tuple[int, int]


def followed(before: np.ndarray) -> np.ndarray:
    """The relation with all that follows from it."""
    before = before.copy()
    for between in range(len(before)):
        before |= np.outer(before[:, between], before[between])
    return before


def random_part(random: np.random.Generator, count: int) -> tuple[list[Work], np.ndarray]:
    """Works of up to three tools in a square metre, some without a place, some before others."""
    turns, share = random.permutation(count), random.choice([0.0, 0.1, 0.3])
    before = (random.random((count, count)) < share) & (turns[:, None] < turns)
    stations = random.choice([*"abc"][: random.integers(1, 4)], count)
    closed = random.random() < 0.5
    unplaced = random.random(count) < random.choice([0.0, 0.3])
    starts, ends = random.uniform(0.0, 1.0, (2, count, 2))
    works = [
        Work(str(station)) if nowhere else Work(str(station), start, start if closed else end)
        for station, nowhere, start, end in zip(stations, unplaced, starts, ends, strict=True)
    ]
    return works, followed(before)


def kept(order: list[int], before: np.ndarray) -> bool:
    """Whether no work comes before one that has to be done first."""
    return not np.tril(before[np.ix_(order, order)]).any()


def taken_up(works: list[Work], order: Any) -> Merit:
    """Tool changes, and how often a tool is taken up."""
    stations = [works[index].station for index in order]
    return tool_changes(stations), sum(one != other for one, other in pairwise(stations))


def every_order(works: list[Work], before: np.ndarray, rack: Any = None) -> tuple[Merit, float]:
    """Fewest changes, and the shortest way with those, by trying every order."""
    orders = [list(order) for order in permutations(range(len(works))) if kept(list(order), before)]
    changes = [taken_up(works, order) for order in orders]
    fewest = min(changes)
    return fewest, min(
        air_way(works, order, rack) for order, each in zip(orders, changes, strict=True) if each == fewest
    )


@pytest.mark.parametrize("rack", [None, np.array([-0.3, 0.5])], ids=["anywhere", "beside the part"])
@pytest.mark.parametrize("count", [2, 3, 4, 5, 6, 7])
def test_the_best_of_all_orders(count: int, rack: Any) -> None:
    """Tool changes are never more; a way found by improvement may be a little longer than the shortest."""
    random = np.random.default_rng(count)
    ratios = []
    for _ in range(20 if count < 7 else 6):
        works, before = random_part(random, count)
        fewest, shortest = every_order(works, before, rack)
        order = best_order(works, before, rack)
        assert sorted(order) == list(range(count))
        assert kept(order, before)
        assert taken_up(works, order) == fewest
        assert air_way(works, order, rack) >= shortest - 1e-12
        ratios.append((1 + air_way(works, order, rack)) / (1 + shortest))
    assert max(ratios) < 1.02
    assert np.mean(ratios) < 1.002


@settings(max_examples=40, deadline=None)
@given(st.integers(0, 2**32 - 1), st.integers(1, 25))
def test_what_comes_first_does_so_in_any_part(seed: int, count: int) -> None:
    works, before = random_part(np.random.default_rng(seed), count)
    order = best_order(works, before)
    assert sorted(order) == list(range(count))
    assert kept(order, before)


def at(x: float, station: str = "a") -> Work:
    return Work(station, np.array([x, 0.0]), np.array([x, 0.0]))


def in_turn(*numbers: int) -> np.ndarray:
    """The relation of works that have to be done in an order."""
    before = np.zeros((len(numbers), len(numbers)), dtype=bool)
    for place, first in enumerate(numbers):
        before[first, list(numbers[place + 1 :])] = True
    return before


FREE = np.zeros((4, 4), dtype=bool)


def test_works_of_one_tool_along_a_line() -> None:
    assert best_order([at(3.0), at(0.0), at(1.0), at(2.0)], FREE) in ([1, 2, 3, 0], [0, 3, 2, 1])


def test_a_change_of_tool_is_worth_any_way() -> None:
    works = [at(0.0, "a"), at(0.0, "b"), at(9.0, "a"), at(9.0, "b")]
    assert taken_up(works, best_order(works, FREE)) == (2, 1)


def test_works_in_turn_take_the_tool_up_again() -> None:
    works = [at(0.0, "a"), at(0.0, "b"), at(0.0, "a"), at(0.0, "b")]
    assert best_order(works, in_turn(0, 1, 2, 3)) == [0, 1, 2, 3]
    assert taken_up(works, [0, 1, 2, 3]) == (4, 3)


def test_the_tool_in_hand_at_the_end_is_that_of_the_next_part() -> None:
    assert tool_changes(["a", "b", "a"]) == 2
    assert tool_changes(["a", "a"]) == 0
    assert tool_changes(["a", "b"]) == 2


def test_a_work_that_two_visits_could_do_is_where_it_makes_least_way() -> None:
    """The first tool is taken up twice; the free work lies beside the one that comes last."""
    works = [at(0.0, "a"), at(5.0, "b"), at(9.0, "a"), at(8.9, "a")]
    before = FREE.copy()
    before[[0, 0, 1], [1, 2, 2]] = True
    order = best_order(works, before)
    assert order[:2] == [0, 1]
    assert air_way(works, order) == pytest.approx(0.1)


def test_a_work_without_a_place_bridges_no_way() -> None:
    works = [at(0.0), Work("a"), at(4.0)]
    assert air_way(works, [0, 1, 2]) == pytest.approx(4.0)
    assert best_order(works, in_turn(2, 1, 0)) == [2, 1, 0]


RACK = np.array([0.0, 3.0])


def test_the_ways_to_the_rack_and_back_count_where_its_place_is_known() -> None:
    works = [at(0.0, "a"), at(4.0, "b")]
    # from the rack to each and back: 3 m over the first, the long side of 3 and 4 m over the second
    assert air_way(works, [0, 1], RACK) == pytest.approx(2 * 3.0 + 2 * 5.0)
    assert air_way(works, [0, 1]) == 0.0


def test_a_tool_that_stays_in_hand_for_the_next_part_is_not_fetched() -> None:
    assert air_way([at(0.0), at(4.0)], [0, 1], RACK) == pytest.approx(4.0)
    works = [at(0.0, "a"), at(4.0, "b"), at(0.0, "a")]
    assert air_way(works, [0, 1, 2], RACK) == pytest.approx(3.0 + 5.0 + 5.0 + 3.0)


def test_works_end_and_begin_near_the_rack() -> None:
    """Along a line to the rack and back; without it either end would do."""
    works = [at(3.0, "a"), at(1.0, "a"), at(2.0, "a"), at(9.0, "b")]
    order = best_order(works, FREE, np.array([0.0, 0.0]))
    assert air_way(works, order, np.array([0.0, 0.0])) == pytest.approx(1 + 2 + 3 + 9 + 9)


def test_no_way_between_two_tools() -> None:
    assert air_way([at(0.0, "a"), at(4.0, "b"), at(5.0, "b")], [0, 1, 2]) == pytest.approx(1.0)
