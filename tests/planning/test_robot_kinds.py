"""Every kind of robot plans an edge, a surface and a contour, pressing by a loop through the robot itself."""

from __future__ import annotations

from pathlib import Path
from typing import get_args

import pytest

from finishplan import reference
from finishplan.hazards import review
from finishplan.job import LoadedJob, load_job
from finishplan.job.cell import Robot
from finishplan.planning.plan import Plan, make_plan
from finishplan.process.edge_conditions import CompliantMount
from finishplan.report.rows import plan_rows
from finishplan.report.terminal import plan_text

KINDS = get_args(Robot.model_fields["kind"].annotation)

JOB = """\
[job]
title = "panel"

[part]
material = "EN AC-46000"
mass = "2 kg"

[[edge]]
name = "rim"
length = "900 mm"
tools = ["burr 10"]
burr = { height = "0.2 mm", root_thickness = "0.08 mm" }
edge_break = { lower = "0.2 mm", upper = "1.2 mm" }
waviness = { amplitude = "0.05 mm", wavelength = "100 mm" }

[[surface]]
name = "face"
length = "300 mm"
width = "200 mm"
tools = ["orbital 150"]
initial_roughness = "3 um"
removal = "10 um"
waviness = { amplitude = "0.05 mm", wavelength = "100 mm" }

[[contour]]
name = "outline"
length = "900 mm"
thickness = "2 mm"
stock = "1 mm"
tolerance = "2 mm"
tools = ["mill 10"]

[cell]
title = "robot that presses by its own force loop"

[cell.robot]
kind = "articulated"
payload = "45 kg"

[[cell.compliance]]
name = "wrist sensor"
kind = "force-controlled robot"
force_min = "5 N"
force_max = "80 N"
stroke = "20 mm"
mass = "1 kg"
friction_band = "1 N"
stiffness = "5 N/mm"

[[cell.spindle]]
name = "held"
speed_min = "3000 rpm"
speed_max = "30000 rpm"
mass = "2 kg"
compliance = "wrist sensor"
curve = [
  { speed = "3000 rpm", power = "200 W" },
  { speed = "15000 rpm", power = "800 W" },
  { speed = "30000 rpm", power = "800 W" },
]

[[cell.spindle]]
name = "fast"
speed_min = "3000 rpm"
speed_max = "30000 rpm"
mass = "2 kg"
curve = [
  { speed = "3000 rpm", power = "200 W" },
  { speed = "15000 rpm", power = "800 W" },
  { speed = "30000 rpm", power = "800 W" },
]

[[cell.tool]]
name = "burr 10"
family = "carbide burr double cut"
diameter = "10 mm"
teeth = 16
overhang = "30 mm"
rated_speed = "40000 rpm"
spindle = "held"

[[cell.tool]]
name = "mill 10"
family = "carbide end mill"
diameter = "10 mm"
teeth = 2
overhang = "30 mm"
rated_speed = "40000 rpm"
spindle = "fast"

[[cell.abrasive]]
name = "orbital 150"
family = "orbital disc"
grits = ["P120"]
diameter = "150 mm"
backing = "medium foam pad"
orbit = "5 mm"
rated_speed = "12000 rpm"
spindle = "held"
"""


def load(folder: Path, *edits: tuple[str, str]) -> LoadedJob:
    text = JOB
    for old, new in edits:
        assert text.count(old) == 1, old
        text = text.replace(old, new)
    (folder / "job.toml").write_text(text, encoding="utf-8")
    return load_job(folder / "job.toml")


def mount_of(plan: Plan, feature: str) -> CompliantMount:
    (step, *_) = next(each for each in plan.features if each.name == feature).chosen.steps
    mount = step.found.operation.conditions.mount
    assert isinstance(mount, CompliantMount)
    return mount


@pytest.mark.parametrize("kind", KINDS)
def test_each_kind_plans_an_edge_a_surface_and_a_contour(kind: str, tmp_path: Path) -> None:
    plan = make_plan(load(tmp_path, ('kind = "articulated"', f'kind = "{kind}"')))
    assert [feature.name for feature in plan.features] == ["outline", "rim", "face"]
    robot = reference.robot_class(kind)
    for feature in ("rim", "face"):
        mount = mount_of(plan, feature)
        assert float(mount.bandwidth or 0.0) == robot.force_bandwidth.value
        assert float(mount.moving_mass) == robot.effective_mass.value
    titles = {assumption.origin.title for assumption in plan.assumptions}
    assert {f"bandwidth of a robot of the {kind} class", f"moving mass of a robot of the {kind} class"} <= titles
    assert "force loop" in plan_text(plan_rows(plan))


def test_a_heavy_arm_keeps_the_margin_behind_a_soft_tool(tmp_path: Path) -> None:
    """The spring takes the arm's mass off the impact, so that only the spindle's is felt."""
    plan = make_plan(load(tmp_path, ('friction_band = "1 N"', 'friction_band = "1 N"\nmoving_mass = "3 kg"')))
    assert {feature.name: feature.verdict for feature in plan.features}["rim"] == "keeps the margin"


def test_the_robot_is_as_stiff_as_it_is_where_nothing_softer_is_stated(tmp_path: Path) -> None:
    bare = make_plan(load(tmp_path, ('stiffness = "5 N/mm"\n', "")))
    assert float(mount_of(bare, "rim").open_loop_stiffness) == reference.robot_class("articulated").stiffness.value
    soft = make_plan(load(tmp_path))
    feeds = [float(each.features[1].chosen.steps[0].found.settings["feed"]) for each in (bare, soft)]
    # a loop of 3 Hz has to follow the wave of a stiff contact slowly
    assert feeds[0] < feeds[1] / 2


def test_its_own_figures_go_before_those_of_the_class(tmp_path: Path) -> None:
    stated = ('friction_band = "1 N"', 'friction_band = "1 N"\nbandwidth = "8 Hz"\nmoving_mass = "60 kg"')
    mount = mount_of(make_plan(load(tmp_path, stated)), "rim")
    assert (float(mount.bandwidth or 0.0), float(mount.moving_mass)) == (8.0, 60.0)


def test_lost_force_control_is_a_hazard_of_it_and_stored_air_is_not(tmp_path: Path) -> None:
    notes = {note.rule.title: note for note in review(make_plan(load(tmp_path))).notes}
    assert any(note.finding.where == ("wrist sensor",) for note in notes.values())
    (device,) = review(make_plan(load(tmp_path))).context.devices
    assert not device.pneumatic


def test_the_sensor_of_a_carried_part_hangs_on_the_flange(tmp_path: Path) -> None:
    carried = (
        'title = "robot that presses by its own force loop"',
        'title = "robot that presses by its own force loop"\narrangement = "part-to-tool"\n'
        'holding = { kind = "jaws", mass = "3 kg", force = "900 N", contacts = 2 }',
    )
    plan = make_plan(load(tmp_path, carried))
    masses = {
        feature.name: feature.chosen.steps[0].found.operation.ledger.by_field["robot.carried_mass"].value
        for feature in plan.features
    }
    # part and gripper, and the sensor where it presses
    assert masses == {"outline": 5.0, "rim": 6.0, "face": 6.0}
