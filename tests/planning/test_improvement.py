"""What would make a part faster: each claim against the part planned with that change made."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import pytest

from finishplan.job import LoadedJob
from finishplan.planning import improvement
from finishplan.planning.better_robot import better_robots
from finishplan.planning.improvement import LONGEST, MOST_RELIEFS, Improvements, improvements
from finishplan.planning.plan import Plan, make_plan

Load = Callable[..., LoadedJob]

WATTS = 80.0
"""So weak that power holds up the rim."""


def weak_spindle(watts: float) -> list[tuple[str, str]]:
    """The servo spindle with this power at 15000 rpm and above, falling with the speed below it."""
    old = [("6000", 200.0), ("15000", 500.0), ("30000", 500.0)]
    return [
        (
            f'{{ speed = "{rpm} rpm", power = "{power:.0f} W" }}',
            f'{{ speed = "{rpm} rpm", power = "{power / 500 * watts:.4f} W" }}',
        )
        for rpm, power in old
    ]


def change(found: Improvements, name: str) -> float:
    return next((each.saved for each in found.changes if each.name == name), 0.0)


@pytest.fixture(scope="module")
def of_examples(example_plan: Callable[[str], Plan]) -> Callable[[str], tuple[Plan, Improvements]]:
    made: dict[str, Improvements] = {}

    def of(name: str) -> tuple[Plan, Improvements]:
        plan = example_plan(name)
        if name not in made:
            made[name] = improvements(plan)
        return plan, made[name]

    return of


class TestEveryExample:
    @pytest.fixture
    def both(self, example: str, of_examples: Any) -> tuple[Plan, Improvements]:
        made: tuple[Plan, Improvements] = of_examples(example)
        return made

    def test_the_longest_step_is_named(self, both: tuple[Plan, Improvements]) -> None:
        plan, found = both
        assert found.longest.seconds == max(stop.seconds for stop in plan.cycle.stops)
        assert found.longest.share == pytest.approx(found.longest.seconds / plan.throughput.per_part)
        governing = {step.found.governing for each in plan.features for step in each.chosen.steps}
        assert set(found.longest.stops) <= governing

    def test_savings_are_sorted_and_within_what_there_is(self, both: tuple[Plan, Improvements]) -> None:
        plan, found = both
        for savings in ([each.saved for each in found.reliefs], [each.saved for each in found.changes]):
            assert savings == sorted(savings, reverse=True)
        assert len(found.reliefs) <= MOST_RELIEFS
        for relief in found.reliefs:
            features = [each for each in plan.features if each.name in relief.features]
            assert 0 < relief.saved < sum(each.chosen.seconds for each in features)
            assert relief.limits

    def test_what_is_lifted_goes_beyond_what_there_is(self, both: tuple[Plan, Improvements]) -> None:
        for relief in both[1].reliefs:
            for limit in relief.limits:
                needed = limit.needed(relief.margin)
                there = float(limit.bound if limit.asks_of == "bound" else limit.value)
                more = (limit.sense == "at most") == (limit.asks_of == "bound")
                assert needed > there if more else needed < there

    def test_few_searches_are_made(self, both: tuple[Plan, Improvements], monkeypatch: pytest.MonkeyPatch) -> None:
        searched: list[str] = []
        for name in ("search", "search_lifted"):
            real = getattr(improvement, name)
            monkeypatch.setattr(improvement, name, lambda *given, real=real: searched.append("") or real(*given))
        improvements(both[0])
        assert len(searched) <= 2 * LONGEST


class TestReliefs:
    def test_the_part_planned_with_the_stronger_spindle_is_as_fast(self, load: Load) -> None:
        weak = make_plan(load(cell=weak_spindle(WATTS)))
        (relief, *_) = improvements(weak).reliefs
        assert {limit.name for limit in relief.limits} == {"spindle power", "spindle torque"}
        assert relief.features == ("rim",)
        factor = max(limit.needed(relief.margin) / float(limit.bound) for limit in relief.limits)
        bought = make_plan(load(cell=weak_spindle(WATTS * factor)))
        gained = weak.features[0].chosen.seconds - bought.features[0].chosen.seconds
        assert gained == pytest.approx(relief.saved, rel=0.05)

    def test_none_of_a_plan_that_is_not_feasible(self, load: Load) -> None:
        broken = make_plan(load(job=[('lower = "0.3 mm", upper = "1.0 mm"', 'lower = "0.3 mm", upper = "0.31 mm"')]))
        assert not broken.feasible
        found = improvements(broken)
        assert (found.reliefs, found.changes) == ((), ())


class TestChanges:
    def test_an_own_spindle_for_each_tool_saves_the_tool_changes(self, of_examples: Any) -> None:
        plan, found = of_examples("cast_cover.toml")
        assert (
            change(found, "every spindle at hand at once, so that none is changed") == plan.cycle.tool_changes * 6.0 > 0
        )

    def test_tools_that_stand_apart_have_their_own_already(self, of_examples: Any) -> None:
        plan, found = of_examples("carried_bracket.toml")
        assert plan.cycle.tool_changes > 0
        assert change(found, "every spindle at hand at once, so that none is changed") == 0.0

    def test_the_next_part_put_in_meanwhile_saves_its_change(self, load: Load, plan: Plan) -> None:
        assert change(improvements(plan), "the next part put in while one is worked") == 10.0
        at_once = [('tool_change_time = "6 s"', 'tool_change_time = "6 s"\npart_change_time = "0 s"')]
        assert change(improvements(make_plan(load(cell=at_once))), "the next part put in while one is worked") == 0.0

    def test_half_the_approach_distance(self, load: Load, plan: Plan) -> None:
        nearer = [('tool_change_time = "6 s"', 'tool_change_time = "6 s"\napproach_distance = "2.5 mm"')]
        saved = plan.cycle.total - make_plan(load(cell=nearer)).cycle.total
        assert change(improvements(plan), "half the distance covered at approach speed") == pytest.approx(saved)

    def test_air_moves_at_top_speed(self, of_examples: Any) -> None:
        plan, found = of_examples("steel_bracket.toml")
        top = plan.loaded.cell.robot.top_speed
        assert top is not None
        assert change(found, "air moves at the top speed of the robot") == pytest.approx(
            plan.cycle.air * (1 - 0.5 / top)
        )

    def test_an_own_tool_for_each_grit_takes_a_tool_change_instead(self, of_examples: Any) -> None:
        plan, found = of_examples("stainless_cover.toml")
        waiting = [step for each in plan.features for step in each.chosen.steps if step.time.wait]
        saved = plan.cycle.wait - len(waiting) * plan.cycle.tool_change
        assert saved > 0
        assert change(found, "an own tool for each grit") == pytest.approx(saved)


class TestRobots:
    def test_it_buys_nothing_where_other_limits_hold(self, plan: Plan) -> None:
        assert [(robot.saved, robot.freed) for robot in improvements(plan).robots] == [({}, ())] * 2

    def test_a_brush_at_a_set_depth_gains_what_the_part_planned_under_that_robot_gains(self, of_examples: Any) -> None:
        plan, found = of_examples("gated_housing.toml")
        assert any("cover face" in robot.saved for robot in found.robots)
        for robot in found.robots:
            under = make_plan(better_robots(plan.loaded)[robot.name])
            for old, new in zip(plan.features, under.features, strict=True):
                saved = old.chosen.seconds - new.chosen.seconds
                assert robot.saved.get(old.name, 0.0) == pytest.approx(saved, abs=0.005 * plan.throughput.per_part)
