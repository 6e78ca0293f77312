"""The part carried to a stationary tool, and both arrangements side by side."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from pathlib import Path

import pytest

from finishplan.errors import JobError
from finishplan.job import LoadedJob, load_job
from finishplan.planning.arrangement import plan_better_robots, plan_both
from finishplan.planning.feature import RANK
from finishplan.planning.motion import stands_apart
from finishplan.planning.plan import Plan, make_plan
from finishplan.process.limits import Limit
from finishplan.report.comparison import arrangement_reasons, comparison

EXAMPLE = Path(__file__).parents[2] / "examples" / "carried_bracket.toml"


@pytest.fixture(scope="module")
def loaded() -> LoadedJob:
    return load_job(EXAMPLE)


@pytest.fixture(scope="module")
def both(loaded: LoadedJob) -> dict[str, Plan]:
    return plan_both(loaded)


def limits(plan: Plan, name: str) -> list[Limit]:
    steps = (step for feature in plan.features for step in feature.chosen.steps)
    return [limit for step in steps for limit in step.found.evaluation.limits if limit.name == name]


def test_robot_carries_part_and_gripper_instead_of_tools(both: dict[str, Plan]) -> None:
    tool, part = both.values()
    carried = [
        plan.features[0].chosen.steps[0].found.operation.ledger.by_field["robot.carried_mass"].value
        for plan in both.values()
    ]
    # belt grinder and its slide, 60 + 40 kg, against part and gripper, 2.4 + 3.5 kg
    assert carried == pytest.approx([100.0, 5.9])
    assert not tool.feasible
    assert part.feasible


def test_only_the_own_arrangement_takes_wrist_and_gripper_into_account(both: dict[str, Plan]) -> None:
    tool, part = both.values()
    for name in ("wrist moment", "holding of the part"):
        assert limits(tool, name) == []
        assert len(limits(part, name)) == len(part.features)


def test_worst_feature_sets_the_holding_asked_for(both: dict[str, Plan]) -> None:
    part = both["part to tool"]
    (asked,) = (row for row in part.requirements if row.name.startswith("holding force"))
    assert asked.needed == pytest.approx(max(float(limit.value) for limit in limits(part, "holding of the part")))
    assert asked.feature == "gate"


def test_weak_grip_holds_the_process_force_back(loaded: LoadedJob) -> None:
    weak = loaded.cell.model_copy(update={"holding": loaded.cell.holding.model_copy(update={"force": 450.0})})
    plan = make_plan(replace(loaded, cell=weak))
    strong = make_plan(loaded)
    force = [one.features[0].chosen.steps[0].found.evaluation.limits for one in (plan, strong)]
    pressed = [next(limit.value for limit in each if limit.name == "highest device force") for each in force]
    assert pressed[0] < pressed[1]
    assert all(float(limit.utilisation) <= 1 + 1e-9 for limit in limits(plan, "holding of the part"))


def test_tools_on_spindles_of_their_own_are_reached_by_a_move(loaded: LoadedJob) -> None:
    assert stands_apart(loaded.cell)
    assert not stands_apart(loaded.cell.model_copy(update={"arrangement": "tool-to-part"}))
    shared = [tool.model_copy(update={"spindle": "belt grinder"}) for tool in loaded.cell.tool]
    assert not stands_apart(loaded.cell.model_copy(update={"tool": shared}))


def test_sides_show_the_same_figures_and_the_reasons(both: dict[str, Plan]) -> None:
    rows = comparison(both)
    assert all(left.label == right.label for left, right in rows)
    said = arrangement_reasons(both, "metric")
    assert "only part to tool is feasible" in said
    assert "tool 100.00 kg, part 5.90 kg" in said[0]


def test_better_robot_never_does_worse(load: Callable[..., LoadedJob]) -> None:
    """A rigid chamfer mill follows the robot's own error, so accuracy decides what it can do."""
    loaded = load(job=[('length = "310 mm"\ntools = ["burr 10"]', 'length = "310 mm"\ntools = ["mill 10"]')])
    plans = plan_better_robots(loaded)
    own, *better = [plan.features[1].chosen for plan in plans.values()]
    ranks = [RANK[option.verdict] for option in better]
    assert max(ranks) <= RANK[own.verdict]
    # settings are in round figures, 5 % apart
    assert all(option.seconds <= 1.05 * own.seconds for option in better if option.verdict == own.verdict)
    assert better[-1].merit < own.merit


def test_all_that_carrying_the_part_lacks_at_once(load: Callable[..., LoadedJob]) -> None:
    with pytest.raises(JobError) as caught:
        plan_both(load())
    assert {fault.key for fault in caught.value.faults} == {"holding", "part.mass"}
