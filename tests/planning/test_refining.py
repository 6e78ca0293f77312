"""Buffs and wire brushes in a plan: alone or after the last grit, at a feed that is set."""

from __future__ import annotations

import json
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path

import numpy as np
import pytest

from finishplan import reference
from finishplan.job import LoadedJob, load_job
from finishplan.planning.derivation import derive
from finishplan.planning.plan import Plan, make_plan
from finishplan.planning.sequence import sequences, with_finish
from finishplan.planning.surface_refining import SurfaceRefining
from finishplan.report.rows import plan_rows
from finishplan.report.tabular import as_json

JOB = """\
[job]
title = "cover"
batch = 80
margin = "20 %"

[part]
material = "X5CrNi18-10"

[cell]
file = "cell.toml"

[[surface]]
name = "top"
length = "200 mm"
width = "150 mm"
initial_roughness = "1.6 um"
target_roughness = "0.3 um"
unevenness = "50 %"
tools = ["belt 50", "buff 200"]
"""

CELL = """\
title = "sanding cell"
robot = { kind = "articulated", payload = "35 kg", path_accuracy = "0.3 mm", top_speed = "0.6 m/s" }
error_budget = { part = "0.5 mm", fixture = "0.3 mm", tool_point = "0.2 mm", wear = "0.2 mm" }

[[spindle]]
name = "belt drive"
speed_min = "1000 rpm"
speed_max = "6000 rpm"
mass = "6 kg"
curve = [{ speed = "1000 rpm", power = "500 W" }, { speed = "3000 rpm", power = "1800 W" }]
compliance = "force axis"

[[compliance]]
name = "force axis"
kind = "force-controlled"
force_min = "8 N"
force_max = "200 N"
stroke = "35 mm"
moving_mass = "3 kg"
mass = "6 kg"
friction_band = "1 N"
stiffness = "200 N/m"
bandwidth = "12 Hz"

[[abrasive]]
name = "belt 50"
family = "coated belt"
grits = ["P180", "P320"]
diameter = "120 mm"
width = "50 mm"
rated_speed = "7000 rpm"
spindle = "belt drive"

[[abrasive]]
name = "buff 200"
family = "buff"
diameter = "200 mm"
width = "50 mm"
rated_speed = "4300 rpm"
spindle = "belt drive"
price = 18.0

[[abrasive]]
name = "wire 150"
family = "wire brush"
diameter = "150 mm"
width = "25 mm"
rated_speed = "6000 rpm"
spindle = "belt drive"
"""
CELL = CELL.replace(
    '{ speed = "3000 rpm", power = "1800 W" }]',
    '{ speed = "3000 rpm", power = "1800 W" }, { speed = "6000 rpm", power = "1800 W" }]',
)

ALONE = ('tools = ["belt 50", "buff 200"]', 'tools = ["wire 150"]')
Load = Callable[..., LoadedJob]


@pytest.fixture
def load(tmp_path: Path) -> Load:
    def loaded(*edits: tuple[str, str]) -> LoadedJob:
        text = JOB
        for old, new in edits:
            assert text.count(old) == 1, old
            text = text.replace(old, new)
        (tmp_path / "job.toml").write_text(text, encoding="utf-8")
        (tmp_path / "cell.toml").write_text(CELL, encoding="utf-8")
        return load_job(tmp_path / "job.toml")

    return loaded


@pytest.fixture(scope="module")
def plan(tmp_path_factory: pytest.TempPathFactory) -> Plan:
    """Ground, then buffed."""
    folder = tmp_path_factory.mktemp("buffed")
    (folder / "job.toml").write_text(JOB, encoding="utf-8")
    (folder / "cell.toml").write_text(CELL, encoding="utf-8")
    return make_plan(load_job(folder / "job.toml"))


@dataclass(frozen=True)
class Grade:
    grain_size: float
    step_ratio: float = 2.0


class TestSequences:
    def test_a_finish_comes_last_or_not_at_all(self) -> None:
        coarse, fine = Grade(2.0), Grade(1.1)
        chains = with_finish(sequences([coarse, fine], lambda node: True), ["buff", "brush"])
        assert len(chains) == 3 * 3
        assert all(isinstance(node, Grade) for chain in chains for node in chain[:-1])
        assert (coarse, fine, "buff") in chains
        assert (coarse, fine) in chains

    def test_an_empty_sequence_stands_for_the_surface_as_found(self) -> None:
        assert with_finish([()], ["buff"]) == [("buff",)]

    def test_without_a_finish_the_sequences_stay_as_they_are(self) -> None:
        assert with_finish([(1,), (1, 2)], []) == [(1,), (1, 2)]


class TestAfterTheLastGrit:
    def test_the_buff_comes_last_and_reaches_what_no_grit_does(self, plan: Plan) -> None:
        (top,) = plan.features
        assert top.verdict == "keeps the margin"
        *ground, buffed = top.chosen.steps
        assert [step.tool for step in ground] == ["belt 50 P320"]
        assert buffed.tool == "buff 200"
        before = float(ground[-1].found.evaluation.predictions["nominal"].roughness)
        after = float(buffed.found.evaluation.predictions["nominal"].roughness)
        assert before > 0.3e-6 > after
        assert after == pytest.approx(reference.abrasive("buff").refinement.value * before, rel=1e-12)  # type: ignore[union-attr]

    def test_nothing_is_taken_off_and_every_limit_has_its_margin(self, plan: Plan) -> None:
        found = plan.features[0].chosen.steps[-1].found
        assert float(found.evaluation.predictions["most removal"].deepest) == 0
        for limit in found.evaluation.limits:
            assert float(limit.utilisation) <= (0.8 if limit.keeps_margin else 1.0) + 1e-9, limit.name

    def test_the_feed_is_the_usual_one_or_less(self, plan: Plan) -> None:
        found = plan.features[0].chosen.steps[-1].found
        assert 0 < float(found.settings["feed"]) <= reference.default("refining_feed").value * (1 + 1e-12)
        assert float(found.evaluation.predictions["nominal"].feed) == float(found.settings["feed"])

    def test_the_time_is_that_of_the_raster_at_that_feed(self, plan: Plan) -> None:
        step = plan.features[0].chosen.steps[-1]
        (raster,) = plan.features[0].detail.of(step).rasters
        assert step.time.contact > step.found.passes * raster.path_length / float(step.found.settings["feed"])

    def test_it_wears_by_the_time_of_contact(self, plan: Plan) -> None:
        use = plan.tools[-1]
        life = reference.abrasive("buff").window("stainless").half_life.value
        assert use.tool == "buff 200"
        assert use.life == pytest.approx(life, rel=1e-12)
        assert use.parts == pytest.approx(life / plan.features[0].chosen.steps[-1].time.contact, rel=1e-12)
        assert use.cost_per_part == pytest.approx(18.0 / use.parts, rel=1e-12)
        assert use.schedule == ()

    def test_the_feed_is_listed_among_the_assumptions(self, plan: Plan) -> None:
        told = [one.origin for one in plan.assumptions if one.origin.title == "highest feed of a buff or wire brush"]
        assert [origin.grade for origin in told] == ["from memory"]

    def test_a_depth_asked_for_is_left_to_the_grits(self, load: Load) -> None:
        (top,) = make_plan(load(("target_roughness", 'removal = "20 um"\ntarget_roughness'))).features
        depths = [float(step.found.evaluation.predictions["nominal"].mean_depth) for step in top.chosen.steps]
        assert depths[0] == pytest.approx(20e-6, rel=1e-12)
        assert depths[-1] == 0
        assert all(option.tools[0].startswith("belt") for option in (top.chosen, *top.others))

    def test_without_a_roughness_to_reach_nothing_is_refined(self, load: Load) -> None:
        (top,) = make_plan(load(('target_roughness = "0.3 um"', 'removal = "20 um"'))).features
        assert "buff 200" not in {tool for option in (top.chosen, *top.others) for tool in option.tools}

    def test_crosswise_it_goes_over_in_pairs_of_passes(self, load: Load) -> None:
        (top,) = make_plan(load(("unevenness", "cross_hatch = true\nunevenness"))).features
        assert top.chosen.steps[-1].tool == "buff 200"
        assert top.chosen.steps[-1].found.passes % 2 == 0
        assert len(top.detail.steps[-1].rasters) == 2


class TestAlone:
    def test_a_wire_brush_refines_the_surface_as_found(self, load: Load) -> None:
        (top,) = make_plan(load(ALONE, ('"0.3 um"', '"1.1 um"'))).features
        (step,) = top.chosen.steps
        assert isinstance(step.found.operation, SurfaceRefining)
        assert top.verdict == "keeps the margin"
        prediction = step.found.evaluation.predictions["nominal"]
        assert float(prediction.roughness) == pytest.approx(0.52 * 1.6e-6, rel=1e-12)

    def test_a_roughness_out_of_reach_is_answered_with_the_fastest_of_the_nearest_points(self, load: Load) -> None:
        """No setting changes the roughness, so every point that keeps the other limits is as near as another."""
        unreached = make_plan(load(ALONE)).features[0].chosen.steps[0].found
        reached = make_plan(load(ALONE, ('"0.3 um"', '"1.1 um"'))).features[0].chosen.steps[0].found
        assert unreached.verdict == "not feasible"
        assert [limit.name for limit in unreached.broken] == ["roughness"]
        assert float(unreached.evaluation.pace) > 0.9 * float(reached.evaluation.pace)


class TestTold:
    def test_derivation_leads_to_the_refinement_of_the_tables(self, plan: Plan) -> None:
        told = derive(plan.loaded, "top, buff 200", "roughness")
        last = told.steps[-1]
        assert last.equation == "Ra = q Ra_0"
        assert [line.origin for line in last.inputs if "abrasives.buff.refinement" in line.origin]

    def test_every_step_has_the_same_figures(self, plan: Plan) -> None:
        rows = plan_rows(plan).features[0].steps
        for part in ("settings", "result"):
            keys = [[figure.key for figure in getattr(step, part)] for step in rows]
            assert all(each == keys[0] for each in keys)

    def test_bands_are_those_of_the_refinement(self, plan: Plan) -> None:
        detail = plan.features[0].detail.steps[-1]
        before = detail.operation.setup.task.initial_roughness
        assert detail.coefficient_band is None
        assert np.array(detail.roughness_band) / before == pytest.approx([0.2, 0.7], rel=1e-12)
        assert any("buff 200: leaves 20% to 70% of the roughness" in note for note in plan_rows(plan).features[0].notes)

    def test_the_plan_is_valid_json_without_figures_that_are_no_numbers(self, plan: Plan) -> None:
        assert json.loads(as_json(plan_rows(plan)), parse_constant=lambda name: pytest.fail(name))
