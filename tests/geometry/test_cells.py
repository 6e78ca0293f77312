"""Cells of lines that can be worked back and forth."""

from __future__ import annotations

import numpy as np
import pytest
import shapely
from hypothesis import given
from hypothesis import strategies as st
from shapely.geometry.base import BaseGeometry

from finishplan.geometry.cells import cells
from finishplan.geometry.scanline import chords

PLATE = shapely.box(0, 0, 1, 1)
NOTCHED = PLATE.difference(shapely.box(0.3, 0.4, 0.7, 1.0))
HOLED = PLATE.difference(shapely.box(0.3, 0.4, 0.7, 0.6))
COMB = shapely.union_all([shapely.box(0, 0, 1, 0.2), *(shapely.box(x, 0, x + 0.1, 1) for x in (0, 0.3, 0.6, 0.9))])
TWO_ROWS = HOLED.difference(shapely.box(0.1, 0.45, 0.2, 0.55))


@pytest.mark.parametrize(
    ("shape", "count"),
    [
        pytest.param(PLATE, 1, id="plate"),
        pytest.param(shapely.Point(0, 0).buffer(1), 1, id="disc"),
        pytest.param(NOTCHED, 3, id="two legs on a foot"),
        pytest.param(HOLED, 4, id="below, left, right and above a hole"),
        pytest.param(COMB, 5, id="back and four teeth"),
        pytest.param(TWO_ROWS, 7, id="two holes side by side"),
    ],
)
def test_a_cell_ends_where_lines_part_or_join(shape: BaseGeometry, count: int) -> None:
    assert len(cells(chords(shape, np.linspace(-1, 1, 201) + 1e-4))) == count


def test_no_chords_make_no_cells() -> None:
    assert cells(chords(PLATE, np.array([2.0]))) == []


@given(st.integers(0, 2**32 - 1), st.integers(1, 6))
def test_every_chord_is_in_one_cell_and_follows_the_one_below_it(seed: int, holes: int) -> None:
    random = np.random.default_rng(seed)
    spots = [shapely.Point(*random.uniform(0, 1, 2)).buffer(random.uniform(0.02, 0.2)) for _ in range(holes)]
    cut = chords(PLATE.difference(shapely.union_all(spots)), np.linspace(0.01, 0.99, 50))
    grouped = cells(cut)
    assert sorted(np.concatenate(grouped).tolist()) == list(range(cut.line.size))
    for cell in grouped:
        assert (np.diff(cut.line[cell]) == 1).all()
        assert (cut.left[cell][1:] < cut.right[cell][:-1]).all()
        assert (cut.left[cell][:-1] < cut.right[cell][1:]).all()
