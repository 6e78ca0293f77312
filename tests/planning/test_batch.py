"""Operations searched together: what comes out is what each gets alone."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from pathlib import Path

import numpy as np
import pytest

from finishplan.job import LoadedJob, load_job
from finishplan.planning import together
from finishplan.planning.batch import BLOCK, Spans, batches
from finishplan.planning.operation import Operation
from finishplan.planning.plan import all_features
from finishplan.planning.search import Found, search_all

EXAMPLES = Path(__file__).parents[2] / "examples"
CELLS = {"finishing_cell", "routing_cell", "sanding_cell", "trimming_cell"}
JOBS = sorted(path.stem for path in EXAMPLES.glob("*.toml") if path.stem not in CELLS)


@pytest.fixture(scope="module", params=JOBS)
def founds(request: pytest.FixtureRequest) -> list[Found]:
    """Every operation that the plan of an example searches, with what was found in the batches it came in."""
    kept: list[Found] = []

    def noted(operations: Sequence[Operation], margin: float) -> list[Found]:
        found = search_all(operations, margin)
        kept.extend(found)
        return found

    loaded = load_job(EXAMPLES / f"{request.param}.toml")
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(together, "search_all", noted)
        together.answered(together.side_by_side([feature.options() for feature in all_features(loaded)]), 0.2)
    return kept


def test_a_batch_evaluates_every_row_as_the_operation_alone_does(founds: list[Found]) -> None:
    for batch, _ in batches([found.operation for found in founds]):
        spans = batch.spans
        points = {axis.name: span.grid(5) for axis, span in zip(batch.axes, spans, strict=True)}
        passes = batch.pass_counts[-1]
        limits = batch.evaluate(points, passes).limits
        for row, operation in enumerate(batch.operations):
            alone = operation.evaluate({name: values[row] for name, values in points.items()}, passes).limits
            assert [limit.name for limit in limits] == [limit.name for limit in alone]
            for stacked, single in zip(limits, alone, strict=True):
                shares = np.broadcast_to(stacked.utilisation, (len(batch), 5))[row]
                assert shares == pytest.approx(np.broadcast_to(single.utilisation, 5), rel=1e-9), single.name


def test_what_is_found_together_is_found_alone(founds: list[Found]) -> None:
    for found in founds[:: max(len(founds) // 6, 1)]:
        (alone,) = search_all([found.operation], found.margin)
        assert (alone.verdict, alone.passes) == (found.verdict, found.passes)
        # a last digit may tip the choice between two points that are equally good
        assert float(alone.evaluation.pace) == pytest.approx(float(found.evaluation.pace), rel=0.02)


@pytest.fixture
def loaded(load: Callable[[], LoadedJob]) -> LoadedJob:
    return load()


def test_equal_operations_share_a_row(loaded: LoadedJob) -> None:
    def operations() -> Iterator[Operation]:
        for feature in all_features(loaded):
            yield from next(feature.options())

    twice = [*operations(), *operations()]
    grouped = batches(twice)
    assert sum(len(batch) for batch, _ in grouped) == len(twice) // 2
    assert sorted(index for _, alike in grouped for indexes in alike for index in indexes) == list(range(len(twice)))
    found = search_all(twice, 0.2)
    assert [each.operation for each in found] == twice


def test_blocks_hold_every_row_once(founds: list[Found]) -> None:
    for batch, _ in batches([found.operation for found in founds]):
        blocks = batch.blocks(BLOCK // 2)
        assert [operation for _, block in blocks for operation in block.operations] == list(batch.operations)
        assert all(len(block) <= 2 for _, block in blocks)


def test_spans_go_in_equal_ratios_between_their_ends_and_stay_inside_them() -> None:
    spans = Spans(np.array([[1.0], [2.0], [3.0]]), np.array([[100.0], [32.0], [3.0]]))
    assert spans.grid(3) == pytest.approx(np.array([[1.0, 10.0, 100.0], [2.0, 8.0, 32.0], [3.0, 3.0, 3.0]]))
    assert spans.grid(1).tolist() == [[1.0], [2.0], [3.0]]
    near = spans.around(np.array([[90.0], [8.0], [3.0]]), 2.0)
    assert near.low.tolist() == [[45.0], [4.0], [3.0]]
    assert near.high.tolist() == [[100.0], [16.0], [3.0]]


def test_generators_side_by_side_get_their_own_answers(loaded: LoadedJob) -> None:
    operations = [operation for feature in all_features(loaded) for operation in next(feature.options())]

    def asking(times: int, operation: Operation) -> together.Searching[list[str]]:
        told = []
        for _ in range(times):
            (found,) = yield [operation]
            told.append(f"{found.operation.feature} {found.operation.tool}")
        return told

    asked = [asking(number, operation) for number, operation in enumerate(operations)]
    told = together.answered(together.side_by_side(asked), 0.2)
    assert told == [[f"{each.feature} {each.tool}"] * number for number, each in enumerate(operations)]


def test_nothing_to_search_needs_no_search() -> None:
    assert together.answered(together.side_by_side([]), 0.2) == []
