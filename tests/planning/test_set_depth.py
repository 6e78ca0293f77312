"""Wheels and brushes on a rigid spindle in a plan: a depth is set, and the force follows with its spread."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import numpy as np
import pytest

from finishplan import reference
from finishplan.job import LoadedJob, load_job
from finishplan.planning.derivation import derive
from finishplan.planning.edge_abrasion_operation import EdgeAbrasion
from finishplan.planning.feature import Step
from finishplan.planning.plan import Plan, make_plan
from finishplan.planning.set_depth_operation import SetDepthAbrasion, set_depth_abrasion
from finishplan.process.edge_conditions import RigidMount
from finishplan.report.figures import Figure
from finishplan.report.rows import plan_rows

JOB = """\
[job]
title = "housing"
batch = 300
margin = "20 %"

[part]
material = "EN-GJL-250"

[cell]
file = "cell.toml"

[[edge]]
name = "cover face"
length = "480 mm"
burr = { height = "0.05 mm", root_thickness = "0.03 mm" }
edge_break = { measure = "radius", lower = "0.05 mm", upper = "0.6 mm" }
waviness = { amplitude = "0.05 mm", wavelength = "100 mm" }
tools = ["brush 150"]
"""

CELL = """\
title = "brushing cell"

[robot]
kind = "articulated"
payload = "35 kg"
path_accuracy = "0.2 mm"
stiffness = "800 N/mm"
top_speed = "0.6 m/s"

[error_budget]
part = "0.1 mm"
fixture = "0.2 mm"
tool_point = "0.2 mm"
wear = "0.2 mm"

[[spindle]]
name = "brush motor"
speed_min = "800 rpm"
speed_max = "9000 rpm"
mass = "4 kg"
curve = [{ speed = "800 rpm", power = "200 W" }, { speed = "9000 rpm", power = "900 W" }]

[[spindle]]
name = "soft motor"
speed_min = "800 rpm"
speed_max = "9000 rpm"
mass = "4 kg"
curve = [{ speed = "800 rpm", power = "200 W" }, { speed = "9000 rpm", power = "900 W" }]
compliance = "force axis"

[[compliance]]
name = "force axis"
kind = "force-controlled"
force_min = "3 N"
force_max = "100 N"
stroke = "35 mm"
moving_mass = "2 kg"
mass = "4 kg"
friction_band = "0.5 N"
bandwidth = "12 Hz"

[[abrasive]]
name = "brush 150"
family = "abrasive-filament brush"
grits = ["F80", "F120"]
diameter = "150 mm"
width = "25 mm"
rated_speed = "4000 rpm"
spindle = "brush motor"

[[abrasive]]
name = "flap 80"
family = "flap wheel"
grits = ["P80"]
diameter = "80 mm"
width = "30 mm"
rated_speed = "9000 rpm"
spindle = "brush motor"
"""

Load = Callable[..., LoadedJob]
Edit = tuple[str, str]

SOFT = ('rated_speed = "4000 rpm"\nspindle = "brush motor"', 'rated_speed = "4000 rpm"\nspindle = "soft motor"')
WHEEL = ('tools = ["brush 150"]', 'tools = ["flap 80"]')


def changed(text: str, edits: list[Edit]) -> str:
    for old, new in edits:
        assert text.count(old) == 1, old
        text = text.replace(old, new)
    return text


def written(folder: Path, job: list[Edit], cell: list[Edit]) -> LoadedJob:
    (folder / "job.toml").write_text(changed(JOB, job), encoding="utf-8")
    (folder / "cell.toml").write_text(changed(CELL, cell), encoding="utf-8")
    return load_job(folder / "job.toml")


@pytest.fixture
def load(tmp_path: Path) -> Load:
    return lambda job=(), cell=(): written(tmp_path, list(job), list(cell))


@pytest.fixture(scope="module")
def plan(tmp_path_factory: pytest.TempPathFactory) -> Plan:
    """The edge under the brush, as it stands."""
    return make_plan(written(tmp_path_factory.mktemp("brushed"), [], []))


def only_step(plan: Plan) -> Step:
    (step,) = plan.features[0].chosen.steps
    return step


def operation_of(loaded: LoadedJob) -> SetDepthAbrasion:
    (entry,) = loaded.abrasives_for(loaded.job.edge[0])
    return set_depth_abrasion(loaded, 0, entry, reference.grit((entry.grits or [])[0]))


class TestPlan:
    def test_the_brush_is_fed_by_depth_with_every_margin_kept(self, plan: Plan) -> None:
        found = only_step(plan).found
        assert isinstance(found.operation, SetDepthAbrasion)
        assert found.verdict == "keeps the margin"
        assert set(found.settings) == {"spindle_speed", "feed", "depth"}

    def test_penetration_and_force_stay_in_their_windows_wherever_the_edge_lies(self, plan: Plan) -> None:
        found = only_step(plan).found
        family = reference.abrasive("abrasive-filament brush")
        window, forces = family.penetration, family.window("cast-iron")
        assert window is not None
        for prediction in found.evaluation.predictions.values():
            assert window.low.value < float(prediction.penetration) < window.high.value
            assert forces.force_low.value < float(prediction.force) < forces.force_high.value

    def test_position_errors_scatter_the_force_on_both_sides(self, plan: Plan) -> None:
        found = only_step(plan).found
        errors = np.array([0.2, 0.05, 0.1, 0.2, 0.2, 0.2]) * 1e-3
        spread = 2 * np.sqrt(np.sum(errors**2) / 3)
        depth = float(found.settings["depth"])
        forces = {name: float(each.force) for name, each in found.evaluation.predictions.items()}
        for name, sense in (("smallest break", -1), ("largest break", 1), ("heaviest load", 1)):
            assert forces[name] / forces["nominal"] == pytest.approx((1 + sense * spread / depth) ** 1.5, rel=1e-9)

    def test_a_worse_placed_edge_has_a_force_that_scatters_more(self, load: Load) -> None:
        off = make_plan(load(job=[("tools =", 'part_error = "0.8 mm"\ntools =')]))
        assert only_step(off).found.verdict != "keeps the margin"
        assert {"lowest penetration", "highest penetration"} & {limit.name for limit in only_step(off).found.broken}

    def test_a_wheel_is_bound_by_its_force_alone(self, load: Load) -> None:
        operation = operation_of(load(job=[WHEEL]))
        assert operation.conditions.window is None
        low, high = operation.axes[2].range.low, operation.axes[2].range.high
        forces = operation.evaluate({"spindle_speed": 80.0, "feed": 0.1, "depth": np.array([low, high])}, 1)
        family = reference.abrasive("flap wheel").window("cast-iron")
        wanted = [30 / 25 * family.force_low.value, 30 / 25 * family.force_high.value]
        assert forces.predictions["nominal"].force == pytest.approx(wanted, rel=1e-9)

    def test_short_filaments_bear_less_depth(self, load: Load) -> None:
        """Filaments as long as half the radius, and 12 % of that."""
        whole = operation_of(load()).conditions.window
        short = operation_of(load(cell=[('diameter = "150 mm"', 'diameter = "80 mm"')])).conditions.window
        assert whole is not None
        assert short is not None
        assert float(whole.high) == pytest.approx(3e-3, rel=1e-12)
        assert float(short.high) == pytest.approx(0.12 * 20e-3, rel=1e-12)

    def test_a_compliant_spindle_sets_the_force_of_the_same_brush(self, load: Load) -> None:
        found = only_step(make_plan(load(cell=[SOFT]))).found
        assert isinstance(found.operation, EdgeAbrasion)
        assert "force" in found.settings

    def test_the_arm_alone_gives_way_behind_the_tool(self, load: Load) -> None:
        mount = operation_of(load()).conditions.mount
        assert isinstance(mount, RigidMount)
        assert (float(mount.stiffness), float(mount.moving_mass)) == (8e5, 4.0)

    def test_wear_and_least_equipment_are_told(self, plan: Plan) -> None:
        (use,) = plan.tools
        assert use.parts is not None
        assert use.parts > 1
        needed = {row.name: row for row in plan.requirements}
        accuracy = needed["path accuracy of the robot, half-width"]
        # the break tells sooner than the depth itself that the robot strays
        assert accuracy.limit in {"smallest edge break", "highest penetration", "lowest penetration"}
        assert 0 < accuracy.needed < 0.8 * float(only_step(plan).found.settings["depth"])


class TestTold:
    @staticmethod
    def figures(plan: Plan) -> dict[str, Figure]:
        (step,) = plan_rows(plan).features[0].steps
        return {figure.key: figure for figure in (*step.settings, *step.result)}

    def test_penetration_is_set_and_the_force_expected_with_its_spread(self, plan: Plan) -> None:
        shown, found = self.figures(plan), only_step(plan).found
        forces = [float(each.force) for each in found.evaluation.predictions.values()]
        assert shown["mount"].value == "rigid"
        assert shown["penetration"].value == float(found.settings["depth"])
        assert shown["contact_force"].value == float(found.evaluation.predictions["nominal"].force)
        assert [shown["contact_force_low"].value, shown["contact_force_high"].value] == [min(forces), max(forces)]
        assert shown["stroke_needed"].value is None

    def test_both_ways_of_pressing_have_the_same_figures(self, plan: Plan, load: Load) -> None:
        soft = self.figures(make_plan(load(cell=[SOFT])))
        assert list(soft) == list(self.figures(plan))
        assert soft["penetration"].value is None
        assert soft["mount"].value == "force axis"

    def test_derivation_leads_from_the_depth_to_the_force(self, plan: Plan) -> None:
        told = derive(plan.loaded, "cover face", "force")
        assert told.steps[-1].equation == "F = w (2 k/(3 R)) (2 R delta)^(3/2)"
        origins = {line.origin for step in told.steps for line in step.inputs}
        assert "setting of the plan" in origins
        assert not any("corner of the scatter" in origin for origin in origins)
