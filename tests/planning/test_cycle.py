"""Cycle times: what they add up to, tool changes, air moves, entries."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from types import SimpleNamespace
from typing import Any

import numpy as np
import pytest

from finishplan.job import LoadedJob
from finishplan.planning.cycle import part_cycle
from finishplan.planning.feature import Step, StepTime
from finishplan.planning.ledger import Ledger
from finishplan.planning.motion import Motion, motion_of
from finishplan.planning.plan import Plan, make_plan

MOTION = Motion(3.0, 2.0, 5e-3, 0.5, 0.5, 6.0, Ledger())
NOWHERE = np.empty((0, 2))


def step(tool: str, contact: float, runs: Any = NOWHERE, wait: float = 0.0) -> Step:
    found: Any = SimpleNamespace(operation=SimpleNamespace(tool=tool, station=tool))
    time = StepTime(contact=contact, approach=1.0, approach_speed=0.01, entries=1, slowest=0.1, wait=wait)
    return Step(found, time, np.asarray(runs, dtype=float), np.asarray(runs, dtype=float))


def test_the_cycle_is_the_sum_of_its_parts(plan: Plan, drawn_plan: Plan) -> None:
    for planned in (plan, drawn_plan):
        cycle = planned.cycle
        steps = [step for feature in planned.features for step in feature.chosen.steps]
        assert sum(stop.seconds for stop in cycle.stops) == pytest.approx(cycle.contact + cycle.approach + cycle.wait)
        changes = cycle.tool_changes * cycle.tool_change
        assert cycle.total == pytest.approx(sum(stop.seconds for stop in cycle.stops) + cycle.air + changes)
        assert cycle.contact == pytest.approx(sum(step.time.contact for step in steps))
        assert {(stop.feature, stop.tool) for stop in cycle.stops} == {
            (feature.name, step.tool) for feature in planned.features for step in feature.chosen.steps
        }


def test_no_change_for_one_tool() -> None:
    cycle = part_cycle([("a", [step("one", 2.0)]), ("b", [step("one", 3.0)])], MOTION, {})
    assert (cycle.tool_changes, cycle.total) == (0, 7.0)


def test_features_of_one_tool_are_done_together() -> None:
    works = [("a", [step("one", 2.0)]), ("b", [step("two", 3.0)]), ("c", [step("one", 4.0)])]
    cycle = part_cycle(works, MOTION, {})
    assert [stop.feature for stop in cycle.stops] == ["a", "c", "b"]
    # there and back, part after part
    assert cycle.tool_changes == 2
    assert cycle.total == pytest.approx(9.0 + 3.0 + 2 * 6.0)


def test_steps_of_a_feature_keep_their_order() -> None:
    works = [("a", [step("coarse", 1.0), step("fine", 1.0)]), ("b", [step("fine", 1.0)])]
    cycle = part_cycle(works, MOTION, {})
    order = [(stop.feature, stop.tool) for stop in cycle.stops]
    assert order.index(("a", "coarse")) < order.index(("a", "fine"))


def test_waiting_counts() -> None:
    cycle = part_cycle([("a", [step("one", 2.0, wait=3.0)])], MOTION, {})
    assert (cycle.wait, cycle.total) == (3.0, 6.0)


def test_air_moves_join_the_runs_of_a_tool() -> None:
    works = [("a", [step("one", 1.0, [[0, 0], [2, 0]])]), ("b", [step("one", 1.0, [[3, 0]])])]
    assert part_cycle(works, MOTION, {}).air == pytest.approx(3.0 / 0.5)


def test_a_feature_is_finished_before_the_next_is_begun() -> None:
    """Two metres between the runs of the first, and one more back to the second, which lies between them."""
    works = [("a", [step("one", 1.0, [[0, 0], [2, 0]])]), ("b", [step("one", 1.0, [[1, 0]])])]
    assert part_cycle(works, MOTION, {}).air == pytest.approx(3.0 / 0.5)


def test_no_air_moves_to_the_tool_changer() -> None:
    works = [("a", [step("one", 1.0, [[0, 0]])]), ("b", [step("two", 1.0, [[2, 0]])])]
    assert part_cycle(works, MOTION, {}).air == 0.0


def test_air_moves_to_a_tool_changer_whose_place_is_known() -> None:
    works = [("a", [step("one", 1.0, [[0, 0]])]), ("b", [step("two", 1.0, [[2, 0]])])]
    beside = replace(MOTION, rack=np.array([0.0, 1.0]))
    assert part_cycle(works, beside, {}).air == pytest.approx(2 * (1.0 + np.sqrt(5.0)) / 0.5)
    # with one tool nobody goes there
    assert part_cycle(works[:1], beside, {}).air == 0.0


def test_the_cell_states_where_the_rack_stands(load: Callable[..., LoadedJob]) -> None:
    stated = [('tool_change_time = "6 s"', 'tool_change_time = "6 s"\nrack = { x = "-400 mm", y = "250 mm" }')]
    assert motion_of(load()).rack is None
    assert motion_of(load(cell=stated)).rack == pytest.approx([-0.4, 0.25])


def test_runs_that_are_no_places_on_the_part_have_no_way_to_other_features() -> None:
    inside = replace(step("one", 1.0, [[0, 0], [1, 0]]), placed=False)
    works = [("a", [inside]), ("b", [step("one", 1.0, [[9, 0], [9, 2]])])]
    assert part_cycle(works, MOTION, {}).air == pytest.approx((1.0 + 2.0) / 0.5)


def test_stops_tell_where_the_tool_is_changed() -> None:
    works = [("a", [step("one", 2.0)]), ("b", [step("two", 3.0)]), ("c", [step("one", 4.0)])]
    stops = part_cycle(works, MOTION, {"c": frozenset({"a", "b"}), "b": frozenset({"a"})}).stops
    # the first tool is still in hand from the part before
    assert [(stop.feature, stop.change) for stop in stops] == [("a", False), ("b", True), ("c", True)]


def test_steps_with_one_tool_follow_one_another() -> None:
    """Going to the other feature in between would be the shorter way."""
    works = [("a", [step("one", 1.0, [[0, 0]]), step("one", 1.0, [[5, 0]])]), ("b", [step("one", 1.0, [[1, 0]])])]
    assert [stop.feature for stop in part_cycle(works, MOTION, {}).stops] in (["a", "a", "b"], ["b", "a", "a"])


def test_runs_without_a_drawing_have_no_air_moves(plan: Plan) -> None:
    assert plan.cycle.air == 0.0


def test_open_edges_are_entered_once_a_pass(plan: Plan) -> None:
    for feature in plan.features:
        (step,) = feature.chosen.steps
        assert step.time.entries == step.found.passes
        per_entry = 5e-3 / step.time.approach_speed + 0.5
        assert step.time.approach == pytest.approx(step.time.entries * per_entry)


def test_a_straight_edge_of_two_passes(load: Callable[..., LoadedJob]) -> None:
    job = [('height = "0.4 mm", height_scatter = "0.2 mm"', 'height = "1.5 mm", height_scatter = "0.1 mm"')]
    heavy = make_plan(load(job=job, cell=[('force_max = "120 N"', 'force_max = "8 N"')]))
    (step,) = heavy.features[0].chosen.steps
    assert (step.found.passes, step.time.entries) == (2, 2)
    feed = float(step.found.settings["feed"])
    assert step.time.contact == pytest.approx(2 * (0.9 / feed + feed / 3.0), rel=1e-9)


def test_closed_edges_are_entered_once_for_all_passes(drawn_plan: Plan) -> None:
    for feature in drawn_plan.features:
        (step,) = feature.chosen.steps
        chains = feature.detail.outline.chains
        assert step.time.entries == sum(1 if chain.closed else step.found.passes for chain in chains)


def test_a_straight_edge_takes_its_length_over_the_feed_and_the_ramps(plan: Plan) -> None:
    """From rest to rest at 3 m/s2: length/feed + feed/acceleration, for every pass."""
    for feature, length in zip(plan.features, (0.9, 0.31), strict=True):
        (step,) = feature.chosen.steps
        feed = float(step.found.settings["feed"])
        assert step.time.contact == pytest.approx(step.found.passes * (length / feed + feed / 3.0), rel=1e-9)


def test_the_approach_keeps_the_margin_and_the_rule(plan: Plan) -> None:
    for feature in plan.features:
        (step,) = feature.chosen.steps
        room = float(step.found.evaluation.predictions["nominal"].approach_speed)
        assert step.time.approach_speed <= room * (1 - plan.margin) * (1 + 1e-12)
        assert step.time.approach_speed <= 0.02
