"""What a plan says of the part: choice of tools, life, requirements, corners and assumptions."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from itertools import product
from pathlib import Path
from types import SimpleNamespace
from typing import Any

import ezdxf
import numpy as np
import pytest

from finishplan.job import LoadedJob
from finishplan.planning.cycle import least_changes
from finishplan.planning.edge_operation import operating_point
from finishplan.planning.feature import RANK, Option, Step, StepTime
from finishplan.planning.plan import Plan, fewest_seconds, make_plan
from finishplan.planning.requirements import least_equipment
from finishplan.process.edge_cutting import predict
from finishplan.reference import cutter, default

Load = Callable[..., LoadedJob]
NOWHERE = np.empty((0, 2))


def option(tool: str, seconds: float, verdict: str = "keeps the margin", worst: float = 0.8) -> Option:
    found: Any = SimpleNamespace(operation=SimpleNamespace(tool=tool, station=tool), verdict=verdict, worst=worst)
    return Option((Step(found, StepTime(seconds, 0.0, 0.01, 1, 0.1), NOWHERE, NOWHERE),))


def changes(picked: Sequence[Option]) -> int:
    return least_changes([(str(number), one.steps) for number, one in enumerate(picked)], {})


def tools_of(options: list[Option]) -> list[str]:
    return [option.tools[0] for option in options]


class TestChoiceOfTools:
    def test_each_its_fastest_where_changes_cost_nothing(self) -> None:
        tried = [[option("a", 5.0), option("b", 6.0)], [option("a", 9.0), option("b", 7.0)]]
        assert tools_of(fewest_seconds(tried, 0.0, changes)) == ["a", "b"]

    def test_one_for_all_where_changes_cost_more_than_they_save(self) -> None:
        tried = [[option("a", 5.0), option("b", 6.0)], [option("a", 9.0), option("b", 7.0)]]
        assert tools_of(fewest_seconds(tried, 2.0, changes)) == ["b", "b"]

    def test_the_verdict_goes_before_time(self) -> None:
        tried = [[option("a", 1.0, "not feasible", 1.5), option("b", 50.0)], [option("a", 1.0), option("b", 9.0)]]
        assert tools_of(fewest_seconds(tried, 0.5, changes)) == ["b", "a"]
        assert tools_of(fewest_seconds(tried, 100.0, changes)) == ["b", "b"]

    def test_without_a_feasible_tool_the_least_exceeded(self) -> None:
        tried = [[option("a", 1.0, "not feasible", 1.5), option("b", 9.0, "not feasible", 1.2)]]
        assert tools_of(fewest_seconds(tried, 6.0, changes)) == ["b"]

    def test_against_every_combination(self) -> None:
        random = np.random.default_rng(3)

        def cost(picked: tuple[Option, ...], change: float) -> tuple[float, float, float]:
            tools = {tool for one in picked for tool in one.stations}
            seconds = sum(one.seconds for one in picked) + change * (len(tools) if len(tools) > 1 else 0)
            short = sum(one.merit[1] for one in picked if RANK[one.verdict])
            return sum(RANK[one.verdict] for one in picked), short, seconds

        for _ in range(40):
            tried = [
                [
                    option(tool, random.uniform(1, 20), str(random.choice(list(RANK))), random.uniform(0.5, 2))
                    for tool in "abc"
                ]
                for _ in range(3)
            ]
            change = random.uniform(0, 10)
            wanted = min(cost(picked, change) for picked in product(*tried))
            assert cost(tuple(fewest_seconds(tried, change, changes)), change) == pytest.approx(wanted)

    def test_a_tool_taken_up_again_counts_again(self) -> None:
        """8 s saved by the second tool pay for two changes of 3 s, not for the four of works done in turn."""
        tried = [[option("a", 5.0)], [option("b", 5.0), option("a", 9.0)]] * 2
        before = {str(number): frozenset(map(str, range(number))) for number in range(4)}

        def changes_in_turn(picked: Sequence[Option]) -> int:
            return least_changes([(str(number), one.steps) for number, one in enumerate(picked)], before)

        assert tools_of(fewest_seconds(tried, 3.0, changes)) == ["a", "b", "a", "b"]
        assert tools_of(fewest_seconds(tried, 3.0, changes_in_turn)) == ["a", "a", "a", "a"]

    def test_what_was_not_chosen_is_kept_for_comparison(self, drawn_plan: Plan) -> None:
        for feature in drawn_plan.features:
            tools = [feature.chosen.tools[0], *(other.tools[0] for other in feature.others)]
            edge = next(edge for edge in drawn_plan.loaded.job.edge if edge.name == feature.name)
            allowed = edge.tools or [tool.name for tool in drawn_plan.loaded.cell.tool]
            assert sorted(tools) == sorted(allowed)


class TestToolLife:
    def test_shares_of_the_features_add_up(self, plan: Plan) -> None:
        """V T^n = C in metres and minutes, feature by feature."""
        window = cutter("carbide burr double cut").window("aluminium")
        assert window.taylor_c is not None
        assert window.taylor_n is not None
        shares, contact = 0.0, 0.0
        for feature in plan.features:
            (step,) = feature.chosen.steps
            speed = np.pi * 10e-3 * float(step.found.settings["spindle_speed"])
            life = 60 * (window.taylor_c.value / speed) ** (1 / window.taylor_n.value)
            shares += step.time.contact / life
            contact += step.time.contact
        (use,) = plan.tools
        assert use.features == ("rim", "bore")
        assert use.contact == pytest.approx(contact)
        assert use.parts == pytest.approx(1 / shares, rel=1e-9)
        assert use.life == pytest.approx(contact / shares, rel=1e-9)

    def test_every_tool_in_use_is_told_once(self, drawn_plan: Plan) -> None:
        used = {stop.tool for stop in drawn_plan.cycle.stops}
        assert {use.tool for use in drawn_plan.tools} == used
        assert len(drawn_plan.tools) == len(used)
        assert sum(use.contact for use in drawn_plan.tools) == pytest.approx(drawn_plan.cycle.contact)


class TestRequirements:
    def test_the_hardest_feature_sets_each(self, drawn_plan: Plan) -> None:
        limits = {
            "spindle speed": "highest spindle speed",
            "spindle power at that speed": "spindle power",
            "contact force": "highest device force",
            "robot payload": "robot payload",
            "robot path speed": "robot speed",
        }
        rows = {row.name: row for row in drawn_plan.requirements}
        for asked, name in limits.items():
            needs = {
                feature.name: limit.needed(drawn_plan.margin)
                for feature in drawn_plan.features
                for limit in feature.chosen.steps[0].found.evaluation.limits
                if limit.name == name
            }
            assert rows[asked].needed == pytest.approx(max(needs.values()))
            assert needs[rows[asked].feature] == max(needs.values())
            assert rows[asked].sense == "at least"

    def test_a_plan_that_keeps_the_margin_asks_for_no_more_than_it_has(self, plan: Plan) -> None:
        assert plan.requirements
        for row in plan.requirements:
            worse = row.needed > row.available if row.sense == "at least" else row.needed < row.available
            assert not worse, row.name

    def test_a_figure_behind_a_limit_is_asked_for_as_far_as_the_limit_allows(self, load: Load) -> None:
        """A suspension and a force loop cut down to what is asked for use up the limit exactly."""
        for tool, limit, asked, key in [
            ("burr 8", "form error followed by the suspension", "natural frequency of the suspension", None),
            ("burr 10", "loss of contact on the waviness", "moving mass behind the tool", "moving_mass"),
        ]:
            plan = make_plan(
                load(
                    job=[
                        (
                            'tools = ["burr 10"]\nburr = { height = "0.4 mm"',
                            f'tools = ["{tool}"]\nburr = {{ height = "0.4 mm"',
                        )
                    ]
                )
            )
            (step,) = plan.features[0].chosen.steps
            used = next(float(each.utilisation) for each in step.found.evaluation.limits if each.name == limit)
            (only,) = (row for row in least_equipment(plan.loaded, [("rim", [step])]) if row.name == asked)
            power = -0.5 if key else 1.0
            assert used * (only.available / only.needed) ** power == pytest.approx(1 - plan.margin)
            if key == "moving_mass":
                heavier = make_plan(load(cell=[('moving_mass = "1.1 kg"', f'moving_mass = "{only.needed} kg"')]))
                operation = heavier.features[0].chosen.steps[0].found.operation
                again = operation.evaluate(step.found.settings, step.found.passes)
                (lost,) = (each for each in again.limits if each.name == limit)
                assert float(lost.utilisation) == pytest.approx(1 - plan.margin, rel=1e-9)

    def test_the_bandwidth_of_a_force_loop_goes_with_the_feed_it_follows(self, load: Load) -> None:
        stiff = [('stiffness = "2000 N/m"', 'stiffness = "20000 N/m"')]
        plan = make_plan(load(cell=stiff))
        (step,) = plan.features[0].chosen.steps
        (loop,) = (
            row for row in least_equipment(plan.loaded, [("rim", [step])]) if row.name == "bandwidth of the force loop"
        )
        assert loop.available == 20.0
        other = make_plan(load(cell=[*stiff, ('bandwidth = "20 Hz"', f'bandwidth = "{loop.needed} Hz"')]))
        again = other.features[0].chosen.steps[0].found.operation.evaluate(step.found.settings, step.found.passes)
        (followed,) = (each for each in again.limits if each.name == "force loop on the waviness")
        assert float(followed.utilisation) == pytest.approx(1 - plan.margin, rel=1e-9)

    def test_what_is_hardly_used_is_not_asked_for(self, plan: Plan) -> None:
        for feature in plan.features:
            for step in feature.chosen.steps:
                used = {limit.name: float(limit.utilisation) for limit in step.found.evaluation.limits}
                names = {row.name for row in least_equipment(plan.loaded, [(feature.name, [step])])}
                assert ("moving mass behind the tool" in names) == (used["loss of contact on the waviness"] > 0.1)

    def test_the_least_equipment_still_does(self, plan: Plan, load: Load) -> None:
        """A cell cut down to what the plan asks for gives a plan of the same pace that keeps the margin."""
        rows = {row.name: row.needed for row in plan.requirements}
        cell = [
            ('payload = "45 kg"', f'payload = "{rows["robot payload"] * 1.0001} kg"'),
            ('force_max = "120 N"', f'force_max = "{rows["contact force"] * 1.0001} N"'),
            ('stroke = "20 mm"', f'stroke = "{2e3 * rows["compliance stroke each way"] * 1.0001} mm"'),
            ('top_speed = "1 m/s"', f'top_speed = "{rows["robot path speed"] * 1.0001} m/s"'),
        ]
        least = make_plan(load(cell=cell))
        for before, after in zip(plan.features, least.features, strict=True):
            assert after.verdict == "keeps the margin"
            pace = float(after.chosen.steps[0].found.evaluation.pace)
            assert pace == pytest.approx(float(before.chosen.steps[0].found.evaluation.pace), rel=0.03)


def draw_square(folder: Path) -> None:
    drawing = ezdxf.new(units=4)
    drawing.layers.add("RIM")
    corners = [(0, 0), (120, 0), (120, 80), (0, 80)]
    drawing.modelspace().add_lwpolyline(corners, close=True, dxfattribs={"layer": "RIM"})
    drawing.saveas(folder / "square.dxf")


def cornered_job(load: Load, folder: Path, *cell: tuple[str, str]) -> LoadedJob:
    """The rim as a square whose corners a slow robot turns at a fraction of the feed."""
    draw_square(folder)
    job = [('length = "900 mm"', 'drawing = "square.dxf"\nlayer = "RIM"')]
    return load(job=job, cell=[('normal_acceleration = "2 m/s2"', 'normal_acceleration = "0.3 m/s2"'), *cell])


@pytest.fixture
def cornered(load: Load, tmp_path: Path) -> Plan:
    return make_plan(cornered_job(load, tmp_path))


class TestCorners:
    def test_a_slow_corner_leaves_a_larger_break(self, cornered: Plan) -> None:
        rim = cornered.features[0]
        (step,) = rim.chosen.steps
        assert rim.detail.corner.worst.speed == pytest.approx(np.sqrt(0.3 * 5e-3), rel=0.02)
        assert rim.detail.corner.worst.speed < float(step.found.settings["feed"])
        assert rim.detail.corner.leg > float(step.found.evaluation.predictions["nominal"].leg)

    def test_the_force_told_holds_the_nominal_break(self, cornered: Plan) -> None:
        rim = cornered.features[0]
        (step,) = rim.chosen.steps
        held = {
            **step.found.settings,
            "feed": rim.detail.corner.worst.speed,
            "setting": rim.detail.corner.held.force,
        }
        leg = predict(rim.detail.operation.setup.nominal, operating_point(held, step.found.passes)).leg
        assert float(leg) == pytest.approx(float(step.found.evaluation.predictions["nominal"].leg), rel=2e-3)

    def test_a_straight_edge_has_no_corner(self, plan: Plan) -> None:
        assert all(feature.detail.corner is None for feature in plan.features)

    def test_the_corner_is_judged_with_the_force_told(self, cornered: Plan) -> None:
        """At the planned force the corner breaks too wide; the device can press less, and then it does not."""
        rim = cornered.features[0]
        (step,) = rim.chosen.steps
        judged = step.found.evaluation.limits[-1]
        assert judged.name == "edge break at the slowest corner"
        assert rim.detail.corner.leg > 1.0e-3 > judged.value
        assert rim.verdict == "keeps the margin"

    def test_a_corner_the_device_cannot_hold_is_no_plan_that_keeps_the_margin(self, load: Load, tmp_path: Path) -> None:
        """The least force of the device still breaks the slow corner too wide."""
        strong = make_plan(cornered_job(load, tmp_path, ('force_min = "2.7 N"', 'force_min = "9 N"')))
        rim = strong.features[0]
        assert rim.detail.corner.held.force == pytest.approx(9.0)
        assert rim.detail.corner.limit.utilisation > 1
        assert rim.verdict == "not feasible"
        assert "edge break at the slowest corner" in {limit.name for limit in rim.chosen.steps[0].found.broken}

    def test_the_force_told_is_one_the_device_gives(self, cornered: Plan) -> None:
        assert cornered.features[0].detail.corner.held.force >= 2.7


class TestAssumptions:
    def test_defaults_in_use_are_listed(self, plan: Plan) -> None:
        titles = {assumption.origin.title for assumption in plan.assumptions}
        for name in ("contact_stiffness", "impact_allowance", "cutting_force_scatter", "chip_compression"):
            assert default(name).title in titles

    def test_each_is_listed_once(self, example: str, example_plan: Callable[[str], Plan]) -> None:
        """The acceleration of a robot counts in the cycle and in what the part has to be held against."""
        listed = [(each.origin.title, each.origin.value) for each in example_plan(example).assumptions]
        assert len(listed) == len(set(listed))

    def test_features_are_named_where_not_all_rest_on_it(self, plan: Plan) -> None:
        resting = {assumption.origin.title: assumption.features for assumption in plan.assumptions}
        assert resting[default("included_angle").title] == ("bore",)
        assert resting[default("contact_stiffness").title] == ()

    def test_what_the_cell_gives_is_not_assumed(self, plan: Plan) -> None:
        titles = {assumption.origin.title for assumption in plan.assumptions}
        for name in ("part_error", "fixture_error", "friction_band", "open_loop_stiffness"):
            assert default(name).title not in titles

    @pytest.mark.parametrize("name", ["approach_distance", "retract_time"])
    def test_figures_behind_the_cycle_time_are_listed(self, plan: Plan, name: str) -> None:
        titles = {assumption.origin.title for assumption in plan.assumptions}
        assert default(name).title in titles


def test_a_margin_of_the_jobs_own(plan: Plan, load: Load) -> None:
    tight = make_plan(load(job=[('margin = "20 %"', 'margin = "5 %"')]))
    assert (plan.margin, tight.margin) == (pytest.approx(0.2), pytest.approx(0.05))
    for wide, narrow in zip(plan.features, tight.features, strict=True):
        assert narrow.chosen.steps[0].found.evaluation.pace > wide.chosen.steps[0].found.evaluation.pace


def test_the_default_margin(load: Load) -> None:
    assert make_plan(load(job=[('margin = "20 %"\n', "")])).margin == default("margin").value


def test_an_infeasible_feature_makes_an_infeasible_plan(plan: Plan, load: Load) -> None:
    assert plan.feasible
    narrow = make_plan(load(job=[('lower = "0.3 mm", upper = "1.0 mm"', 'lower = "0.3 mm", upper = "0.4 mm"')]))
    assert not narrow.feasible
    assert [feature.verdict for feature in narrow.features] == ["not feasible", "keeps the margin"]


def test_the_untuned_band_encloses_the_nominal_break(plan: Plan) -> None:
    for feature in plan.features:
        low, high = feature.detail.untuned_break
        assert low < float(feature.chosen.steps[0].found.evaluation.predictions["nominal"].leg) < high
