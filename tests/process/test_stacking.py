"""Records of conditions taken apart, and put together again as columns."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import numpy as np
import pytest

from finishplan.process.stacking import flattened, stacked


@dataclass(frozen=True, eq=False)
class Inner:
    size: Any
    kind: str = "plain"
    curve: Any = None


@dataclass(frozen=True, eq=False)
class Outer:
    inner: Inner
    force: Any
    more: Any = ()


def test_numbers_come_in_order_and_the_rest_is_the_frame() -> None:
    flat = flattened({"a": Outer(Inner(1.0), 2, (3.0, None)), "b": Outer(Inner(np.float64(4.0)), 5.0, (6.0, None))})
    assert flat.numbers == (1.0, 2.0, 3.0, 4.0, 5.0, 6.0)


@pytest.mark.parametrize(
    "other",
    [
        Outer(Inner(1.0, "burred"), 2.0),
        Outer(Inner(1.0, curve=np.array([1.0, 3.0])), 2.0),
        Outer(Inner(None), 2.0),
        Outer(Inner(1.0), 2.0, (1.0,)),
        Outer(Inner(True), 2.0),
    ],
)
def test_records_that_differ_in_more_than_numbers_have_other_frames(other: Outer) -> None:
    assert flattened(other).frame != flattened(Outer(Inner(1.0), 2.0)).frame
    assert flattened(other).frame != flattened(Outer(Inner(1.0, curve=np.array([1.0, 2.0])), 2.0)).frame


def test_records_that_differ_in_numbers_alone_have_one_frame() -> None:
    curve = np.array([1.0, 2.0])
    one, other = Outer(Inner(1.0, curve=curve), 2.0), Outer(Inner(7, curve=curve.copy()), -3.0)
    assert flattened(one).frame == flattened(other).frame
    assert hash(flattened(one).frame) == hash(flattened(other).frame)


def test_stacked_numbers_are_columns_and_those_alike_in_all_rows_stay_scalars() -> None:
    records = [{"a": Outer(Inner(size, "burred"), 2.0, (size, None))} for size in (1.0, 5.0, 9.0)]
    together = stacked(records[0], np.array([flattened(record).numbers for record in records]))["a"]
    assert together.inner.size.tolist() == together.more[0].tolist() == [[1.0], [5.0], [9.0]]
    assert np.ndim(together.force) == 0
    assert together.force == 2.0
    assert together.inner.kind == "burred"
    assert together.more[1] is None
