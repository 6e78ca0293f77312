"""What is asked of the robot, put into the robot: a limit is then exactly where it keeps its margin."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, replace
from types import SimpleNamespace
from typing import Any

import pytest

from finishplan.job import LoadedJob
from finishplan.planning.better_robot import robot_stiffness, stiffer, with_accuracy, with_stiffness
from finishplan.planning.plan import Plan, make_plan
from finishplan.planning.requirements import PATH_ACCURACY, ROBOT_STIFFNESS, Requirement
from finishplan.planning.robot_needed import Asked, least_accuracy, least_stiffness, softest
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


def asked_of(plan: Plan, name: str = PATH_ACCURACY) -> Requirement:
    (row,) = (row for row in plan.requirements if row.name == name)
    return row


def limits_under(plan: Plan, loaded: LoadedJob) -> Mapping[tuple[str, str], Limit]:
    """Every limit of the settings planned, under another robot."""
    return {
        (feature.name, limit.name): limit
        for feature in plan.features
        for step in feature.chosen.steps
        for limit in step.found.operation.again(loaded).evaluate(step.found.settings, step.found.passes).limits
    }


def limits_at(plan: Plan, accuracy: float) -> Mapping[tuple[str, str], Limit]:
    return limits_under(plan, with_accuracy(plan.loaded, accuracy))


def shares_under(plan: Plan, loaded: LoadedJob) -> Mapping[tuple[str, str], float]:
    """The share used of every limit on every feature, the step that uses most of it."""
    shares: dict[tuple[str, str], float] = {}
    for feature in plan.features:
        for step in feature.chosen.steps:
            operation = step.found.operation.again(loaded)
            for limit in operation.evaluate(step.found.settings, step.found.passes).limits:
                share, key = float(highest_utilisation([limit], plan.margin)), (feature.name, limit.name)
                shares[key] = max(share, shares.get(key, 0.0))
    return shares


def test_the_accuracy_asked_for_takes_up_the_room_of_one_limit_and_no_more(
    example: str, example_plan: Callable[[str], Plan]
) -> None:
    plan = example_plan(example)
    asked = asked_of(plan)
    shares = shares_under(plan, with_accuracy(plan.loaded, asked.needed))
    assert max(shares.values()) == pytest.approx(1.0, abs=1e-8)
    assert shares[asked.feature, asked.limit or "path accuracy"] == pytest.approx(1.0, abs=1e-8)
    assert max(shares_under(plan, with_accuracy(plan.loaded, asked.needed * 1.001)).values()) > 1 + 1e-6


def test_the_stiffness_asked_for_takes_up_the_room_of_one_limit_and_no_more(
    example: str, example_plan: Callable[[str], Plan]
) -> None:
    plan = example_plan(example)
    rows = [row for row in plan.requirements if row.name == ROBOT_STIFFNESS]
    if not rows:
        assert max(shares_under(plan, with_stiffness(plan.loaded, softest())).values()) <= 1 + 1e-9
        return
    (asked,) = rows
    shares = shares_under(plan, with_stiffness(plan.loaded, asked.needed))
    assert max(shares.values()) == pytest.approx(1.0, abs=1e-8)
    assert shares[asked.feature, asked.limit or ""] == pytest.approx(1.0, abs=1e-8)
    assert max(shares_under(plan, with_stiffness(plan.loaded, asked.needed * 0.999)).values()) > 1 + 1e-6


def test_examples_with_rigid_tools_ask_for_stiffness_and_those_under_devices_do_not(
    example_plan: Callable[[str], Plan],
) -> None:
    def asking(example: str) -> bool:
        return any(row.name == ROBOT_STIFFNESS for row in example_plan(example).requirements)

    assert all(asking(f"{name}.toml") for name in ("cast_cover", "chair_shell", "gated_housing", "gfrp_fender"))
    assert not any(asking(f"{name}.toml") for name in ("carried_bracket", "painted_panel", "steel_bracket"))


def test_under_a_device_the_errors_of_all_else_come_off_the_stroke(load: Load) -> None:
    """Worst case: accuracy + waviness + part + fixture + tool point + wear fill the stroke less its two reserves."""
    plan = make_plan(load())
    asked = asked_of(plan)
    usable = 0.8 * 10.0 * (1 - default("end_stop_reserve").value)
    assert (asked.feature, asked.limit) == ("rim", None)
    assert asked.needed == pytest.approx((usable - 0.3 - 0.25 - 0.1 - 0.11 - 0.05) * 1e-3, rel=1e-12)
    limits = limits_at(plan, asked.needed)
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
        stroke_alone = limits_at(plan, 0.0)["rim", "path accuracy"].needed(plan.margin)
        assert asked[-1].needed < 0.9 * stroke_alone
        assert asked[-1].limit in {"spindle torque", "spindle power", "smallest edge break", "largest edge break"}
        assert max(shares_under(plan, with_accuracy(plan.loaded, asked[-1].needed)).values()) == pytest.approx(
            1.0, abs=1e-8
        )
    assert asked[1].needed < asked[0].needed


def test_the_arm_shares_the_tolerance_with_errors_and_tool(example_plan: Callable[[str], Plan]) -> None:
    """Path error = errors + F/k_arm + F/k_tool, up to the share of the tolerance that the margin leaves."""
    plan = example_plan("chair_shell.toml")
    asked = asked_of(plan, ROBOT_STIFFNESS)
    assert (asked.feature, asked.limit, asked.sense) == ("outline", "path error", "at least")
    (step,) = next(feature for feature in plan.features if feature.name == "outline").chosen.steps
    arm, contour = step.found.operation.conditions.arm, step.found.operation.conditions.contour
    loaded = [step.found.evaluation.predictions[corner] for corner in ("heaviest load", "drawn in")]
    force = max(abs(float(each.wall_force)) for each in loaded)
    left = (1 - plan.margin) * contour.room - contour.position_error - force / arm.tool_stiffness
    assert asked.needed == pytest.approx(force / float(left), rel=1e-8)
    itself = next(limit for limit in step.found.evaluation.limits if limit.name == "robot stiffness")
    assert asked.needed > 1.5 * itself.needed(plan.margin)


def test_a_rigid_tool_shares_the_band_with_all_other_errors(example_plan: Callable[[str], Plan]) -> None:
    plan = example_plan("cast_cover.toml")
    asked = asked_of(plan)
    assert (asked.feature, asked.limit) == ("ports", "largest edge break")
    assert asked.needed < 0.9 * limits_at(plan, 0.0)["ports", "path accuracy"].needed(plan.margin)


class TestBroken:
    def test_a_robot_is_not_asked_to_mend_what_no_accuracy_does(self, load: Load) -> None:
        """A spindle without power breaks its limits under any robot; the stroke still sets what it leaves."""
        strong, weak = make_plan(load()), make_plan(load(cell=WEAK))
        assert weak.features[0].verdict == "not feasible"
        assert asked_of(weak).needed == pytest.approx(asked_of(strong).needed, rel=1e-12)

    def test_with_all_of_the_stroke_taken_none_is_left(self, load: Load) -> None:
        plan = make_plan(load(cell=[('part = "0.25 mm"', 'part = "9 mm"')]))
        assert plan.features[0].verdict == "not feasible"
        asked = asked_of(plan)
        assert (asked.needed, asked.attainable) == (0.0, False)

    def test_a_limit_that_jumps_is_stopped_at(self, load: Load) -> None:
        plan = make_plan(load())
        step = plan.features[0].chosen.steps[0]
        operation: Any = Jumping(0.2e-3)
        jumping = replace(step, found=replace(step.found, operation=operation))
        found = least_accuracy(plan.loaded, [("rim", [jumping])], Asked(0.4e-3, "rim", None))
        assert found.figure == pytest.approx(0.2e-3, rel=1e-6)
        assert (found.feature, found.limit) == ("rim", "a jump")

    def test_where_a_perfect_robot_breaks_a_tolerance_none_would_do(self, example_plan: Callable[[str], Plan]) -> None:
        """The wider path error leaves nothing for the arm, and a softer arm nothing for the path."""
        plan = example_plan("gfrp_fender.toml")
        works = [(feature.name, feature.chosen.steps) for feature in plan.features]
        coarse = least_stiffness(with_accuracy(plan.loaded, 0.4e-3), works)
        assert coarse is not None
        assert (coarse.figure, coarse.limit) == (float("inf"), "path error")
        soft = least_accuracy(with_stiffness(plan.loaded, 1e5), works, Asked(1e-3, "rim", None))
        assert (soft.figure, soft.limit) == (0.0, "path error")


class TestDirections:
    """A robot of which the cell states the stiffness in two directions."""

    def test_they_change_with_the_stiffness(self, example_plan: Callable[[str], Plan]) -> None:
        loaded = example_plan("gfrp_fender.toml").loaded
        own, other = loaded.cell.robot, stiffer(loaded).cell.robot
        assert robot_stiffness(stiffer(loaded)) == 2 * robot_stiffness(loaded)
        assert own.stiffness_directions is not None
        assert other.stiffness_directions is not None
        assert other.stiffness_directions.first == 2 * own.stiffness_directions.first
        assert other.stiffness_directions.second == 2 * own.stiffness_directions.second
        assert other.stiffness_directions.angle == own.stiffness_directions.angle

    def test_the_process_stiffness_they_bear_goes_with_it(self, example_plan: Callable[[str], Plan]) -> None:
        plan = example_plan("gfrp_fender.toml")
        key = ("rim", "coupling of two directions of the arm")
        own, half = (limits_under(plan, with_stiffness(plan.loaded, share * 9e5))[key] for share in (1.0, 0.5))
        assert float(half.bound) == pytest.approx(float(own.bound) / 2, rel=1e-12)
        assert float(half.value) == float(own.value)

    def test_they_may_ask_for_more_than_the_path_error_does(self, example_plan: Callable[[str], Plan]) -> None:
        """Directions that hardly differ flutter early; the stiffness asked for is where they just do not."""
        plan = example_plan("gfrp_fender.toml")
        robot = plan.loaded.cell.robot
        assert robot.stiffness_directions is not None
        near = robot.stiffness_directions.model_copy(update={"second": 1.05 * robot.stiffness_directions.first})
        cell = plan.loaded.cell.model_copy(update={"robot": robot.model_copy(update={"stiffness_directions": near})})
        loaded = replace(plan.loaded, cell=cell)
        asked = least_stiffness(loaded, [(feature.name, feature.chosen.steps) for feature in plan.features])
        assert asked is not None
        assert asked.limit == "coupling of two directions of the arm"
        shares = shares_under(plan, with_stiffness(loaded, asked.figure))
        assert shares[asked.feature, asked.limit] == pytest.approx(1.0, abs=1e-8)
        assert asked.figure > asked_of(plan, ROBOT_STIFFNESS).needed
