"""The path accuracy asked of the robot, put into the robot: a limit is then exactly where it keeps its margin."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, replace
from types import SimpleNamespace
from typing import Any

import pytest

from finishplan.job import LoadedJob
from finishplan.planning.better_robot import with_robot
from finishplan.planning.path_accuracy import Accuracy, least_accuracy
from finishplan.planning.plan import Plan, make_plan
from finishplan.planning.requirements import PATH_ACCURACY, Requirement
from finishplan.process.limits import Limit, highest_utilisation
from finishplan.reference import default

Load = Callable[..., LoadedJob]

SPRING = [('tools = ["burr 10"]\nburr = { height = "0.4 mm"', 'tools = ["burr 8"]\nburr = { height = "0.4 mm"')]

WEAK = [
    (f'speed = "{speed} rpm", power = "{power} W"', f'speed = "{speed} rpm", power = "2 W"')
    for speed, power in ((6000, 200), (15000, 500), (30000, 500))
]


@dataclass(frozen=True)
class Jumping:
    """An operation under a robot of an accuracy, with a limit that is broken at once beyond a step."""

    step: float
    accuracy: float = 0.0

    def again(self, loaded: LoadedJob) -> Jumping:
        return replace(self, accuracy=loaded.cell.robot.path_accuracy or 0.0)

    def evaluate(self, settings: Any, passes: int) -> Any:
        value = 0.1 if self.accuracy < self.step else 50.0
        return SimpleNamespace(limits=[Limit("a jump", value, 1.0, "number", "at most", "robot.payload", "none")])


def asked_of(plan: Plan) -> Requirement:
    (row,) = (row for row in plan.requirements if row.name == PATH_ACCURACY)
    return row


def limits_under(plan: Plan, accuracy: float) -> Mapping[tuple[str, str], Limit]:
    """Every limit of the settings planned, under a robot of another accuracy."""
    return {
        (feature.name, limit.name): limit
        for feature in plan.features
        for step in feature.chosen.steps
        for limit in step.found.operation.again(with_robot(plan.loaded, path_accuracy=accuracy))
        .evaluate(step.found.settings, step.found.passes)
        .limits
    }


def shares_under(plan: Plan, accuracy: float) -> Mapping[tuple[str, str], float]:
    found = limits_under(plan, accuracy).items()
    return {key: float(highest_utilisation([limit], plan.margin)) for key, limit in found}


def test_the_accuracy_asked_for_takes_up_the_room_of_one_limit_and_no_more(
    example: str, example_plan: Callable[[str], Plan]
) -> None:
    plan = example_plan(example)
    asked = asked_of(plan)
    shares = shares_under(plan, asked.needed)
    assert max(shares.values()) == pytest.approx(1.0, abs=1e-8)
    assert shares[asked.feature, asked.limit or "path accuracy"] == pytest.approx(1.0, abs=1e-8)
    assert max(shares_under(plan, asked.needed * 1.001).values()) > 1 + 1e-6


def test_under_a_device_the_errors_of_all_else_come_off_the_stroke(load: Load) -> None:
    """Worst case: accuracy + waviness + part + fixture + tool point + wear fill the stroke less its two reserves."""
    plan = make_plan(load())
    asked = asked_of(plan)
    usable = 0.8 * 10.0 * (1 - default("end_stop_reserve").value)
    assert (asked.feature, asked.limit) == ("rim", None)
    assert asked.needed == pytest.approx((usable - 0.3 - 0.25 - 0.1 - 0.11 - 0.05) * 1e-3, rel=1e-12)
    limits = limits_under(plan, asked.needed)
    stroke, accuracy = limits["rim", "compliance stroke each way"], limits["rim", "path accuracy"]
    assert float(stroke.utilisation) == pytest.approx(0.8, rel=1e-12)
    assert float(accuracy.utilisation) == pytest.approx(0.8, rel=1e-12)


def test_a_spring_passes_position_errors_on_as_force_and_may_ask_for_more_than_the_stroke(load: Load) -> None:
    """Behind a spring, unlike a force loop, load and break vary with the position; a stiff one leaves least."""
    band = (
        'edge_break = { lower = "0.3 mm", upper = "1.0 mm" }',
        'edge_break = { lower = "0.3 mm", upper = "1.6 mm" }',
    )
    asked = []
    for stiffness in ("300 N/m", "2000 N/m"):
        plan = make_plan(load(job=[*SPRING, band], cell=[('stiffness = "300 N/m"', f'stiffness = "{stiffness}"')]))
        assert plan.features[0].verdict == "keeps the margin"
        asked.append(asked_of(plan))
        stroke_alone = limits_under(plan, 0.0)["rim", "path accuracy"].needed(plan.margin)
        assert asked[-1].needed < 0.9 * stroke_alone
        assert asked[-1].limit in {"spindle torque", "spindle power", "smallest edge break", "largest edge break"}
        assert max(shares_under(plan, asked[-1].needed).values()) == pytest.approx(1.0, abs=1e-8)
    assert asked[1].needed < asked[0].needed


def test_a_rigid_tool_shares_the_band_with_all_other_errors(example_plan: Callable[[str], Plan]) -> None:
    plan = example_plan("cast_cover.toml")
    asked = asked_of(plan)
    assert (asked.feature, asked.limit) == ("ports", "largest edge break")
    assert asked.needed < 0.9 * limits_under(plan, 0.0)["ports", "path accuracy"].needed(plan.margin)


class TestBroken:
    def test_a_robot_is_not_asked_to_mend_what_no_accuracy_does(self, load: Load) -> None:
        """A spindle without power breaks its limits under any robot; the stroke still sets what it leaves."""
        strong, weak = make_plan(load()), make_plan(load(cell=WEAK))
        assert weak.features[0].verdict == "not feasible"
        assert asked_of(weak).needed == pytest.approx(asked_of(strong).needed, rel=1e-12)

    def test_with_all_of_the_stroke_taken_none_is_left(self, load: Load) -> None:
        plan = make_plan(load(cell=[('part = "0.25 mm"', 'part = "9 mm"')]))
        assert plan.features[0].verdict == "not feasible"
        assert asked_of(plan).needed == 0.0

    def test_a_limit_that_jumps_is_stopped_at(self, load: Load) -> None:
        plan = make_plan(load())
        step = plan.features[0].chosen.steps[0]
        operation: Any = Jumping(0.2e-3)
        jumping = replace(step, found=replace(step.found, operation=operation))
        found = least_accuracy(plan.loaded, [("rim", [jumping])], Accuracy(0.4e-3, "rim", None))
        assert found.half_width == pytest.approx(0.2e-3, rel=1e-6)
        assert (found.feature, found.limit) == ("rim", "a jump")
