"""Sequences of grits against every combination there is."""

from __future__ import annotations

from itertools import combinations, pairwise

import pytest

from finishplan import reference
from finishplan.planning.sequence import MOST_STEPS, sequences


class Grade:
    """A grit with the step it may follow by."""

    def __init__(self, name: str, grain_size: float, step_ratio: float = 1.8) -> None:
        self.name, self.grain_size, self.step_ratio = name, grain_size, step_ratio


def grades(*names: str, ratio: float = 1.8) -> list[Grade]:
    return [Grade(name, reference.grit(name).size.value, ratio) for name in names]


def named(nodes: list[Grade], fine_enough: float = 1.0) -> set[tuple[str, ...]]:
    found = list(sequences(nodes, lambda node: node.grain_size <= fine_enough))
    assert len(found) == len({tuple(id(node) for node in chain) for chain in found})
    return {tuple(node.name for node in chain) for chain in found}


@pytest.mark.parametrize("ratio", [1.3, 1.8, 3.0])
@pytest.mark.parametrize("fine_enough", [1.0, 90e-6, 60e-6])
def test_against_every_subset(ratio: float, fine_enough: float) -> None:
    nodes = grades("P80", "P100", "P120", "P150", "P180", "P240", "P320", ratio=ratio)
    wanted = set()
    for count in range(1, MOST_STEPS + 1):
        for chain in combinations(sorted(nodes, key=lambda node: -node.grain_size), count):
            steps = all(coarse.grain_size <= fine.grain_size * ratio for coarse, fine in pairwise(chain))
            if steps and chain[-1].grain_size <= fine_enough:
                wanted.add(tuple(node.name for node in chain))
    assert named(nodes, fine_enough) == wanted


def test_every_step_is_finer_whatever_the_order_of_the_grits() -> None:
    assert named(grades("P180", "P80", "P120")) == named(grades("P80", "P120", "P180"))
    for chain in sequences(grades("P180", "P80", "P120"), lambda node: True):
        assert all(coarse.grain_size > fine.grain_size for coarse, fine in pairwise(chain))


def test_the_ratio_is_that_of_the_finer_grit() -> None:
    coarse, fine = grades("P80", "P120")
    ratio = coarse.grain_size / fine.grain_size
    fine.step_ratio, coarse.step_ratio = ratio * 1.001, 1.0
    assert ("P80", "P120") in named([coarse, fine])
    fine.step_ratio, coarse.step_ratio = ratio * 0.999, 9.0
    assert ("P80", "P120") not in named([coarse, fine])


def test_one_grit_on_two_tools_is_one_step() -> None:
    assert named([*grades("P120"), *grades("P120"), *grades("P180")]) == {("P120",), ("P180",), ("P120", "P180")}


def test_no_more_steps_than_five() -> None:
    lengths = {len(chain) for chain in named([Grade(str(n), 1.2**-n) for n in range(9)], 2.0)}
    assert lengths == {1, 2, 3, 4, 5}


def test_without_a_grit_fine_enough_there_is_no_sequence() -> None:
    assert named(grades("P80", "P120"), 1e-6) == set()
