"""Contours in a plan: cuts and layers chosen, time, life, order, and what is told of them."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest

from finishplan.formula import recording
from finishplan.job import LoadedJob, load_job
from finishplan.planning.contour_cuts import FinishingCut, RoughCut, SingleCut
from finishplan.planning.contour_ends import entry_of, exit_of, trimming_of
from finishplan.planning.contour_feature import ContourFeature, contour_features, headings
from finishplan.planning.derivation import derive
from finishplan.planning.feature import Option, Step
from finishplan.planning.improvement import improvements
from finishplan.planning.plan import Plan, make_plan
from finishplan.planning.search import RANK
from finishplan.planning.together import answered
from finishplan.planning.toolife import wear_of
from finishplan.report.rows import plan_rows

JOB = """\
[job]
title = "panel"
margin = "20 %"

[part]
material = "GFRP"

[cell]
file = "cell.toml"

[[contour]]
name = "slot"
length = "900 mm"
thickness = "4 mm"
tolerance = "0.6 mm"

[[contour]]
name = "rim"
length = "500 mm"
thickness = "4 mm"
stock = "2 mm"
tolerance = "0.6 mm"
waviness = { amplitude = "0.4 mm", wavelength = "200 mm" }
"""

CELL = """\
title = "cell"

[robot]
kind = "articulated"
payload = "150 kg"
path_accuracy = "0.2 mm"
stiffness = "900 N/mm"

[error_budget]
part = "0.15 mm"
fixture = "0.1 mm"
tool_point = "0.08 mm"
wear = "0.05 mm"

[[spindle]]
name = "router spindle"
speed_min = "6000 rpm"
speed_max = "24000 rpm"
mass = "14 kg"
curve = [
  { speed = "6000 rpm", power = "1500 W" },
  { speed = "12000 rpm", power = "3500 W" },
]

[[tool]]
name = "router 12"
family = "diamond router"
diameter = "12 mm"
teeth = 2
overhang = "35 mm"
cutting_length = "22 mm"
rated_speed = "24000 rpm"
spindle = "router spindle"
"""

EXAMPLES = Path(__file__).parents[2] / "examples"
Edit = tuple[str, str]


def load(folder: Path, job: Sequence[Edit] = (), cell: Sequence[Edit] = ()) -> LoadedJob:
    for name, text, edits in (("job.toml", JOB, job), ("cell.toml", CELL, cell)):
        for old, new in edits:
            assert text.count(old) == 1, f"{old!r} must stand once in the text"
            text = text.replace(old, new)
        (folder / name).write_text(text, encoding="utf-8")
    return load_job(folder / "job.toml")


def options(loaded: LoadedJob, index: int = 0) -> dict[str, Option]:
    return {option.label: option for option in answered(contour_features(loaded)[index].options(), 0.2)}


@pytest.fixture(scope="module")
def plan(tmp_path_factory: pytest.TempPathFactory) -> Plan:
    return make_plan(load(tmp_path_factory.mktemp("plan")))


@pytest.fixture(scope="module")
def fender() -> Plan:
    return make_plan(load_job(EXAMPLES / "gfrp_fender.toml"))


def chosen(plan: Plan, name: str) -> Option:
    return next(feature.chosen for feature in plan.features if feature.name == name)


def setup_of(step: Step):  # type: ignore[no-untyped-def]
    return trimming_of(step.found).setup


class TestCuts:
    def test_a_wide_tolerance_is_cut_at_once(self, plan: Plan) -> None:
        for name in ("slot", "rim"):
            option = chosen(plan, name)
            assert option.verdict == "keeps the margin"
            assert [setup_of(step).desk.cut for step in option.steps] == [SingleCut()]

    def test_a_slot_that_strays_too_far_gets_a_finishing_cut(self, tmp_path: Path) -> None:
        found = options(
            load(
                tmp_path,
                job=[('thickness = "4 mm"\ntolerance = "0.6 mm"\n\n', 'thickness = "4 mm"\ntolerance = "0.42 mm"\n\n')],
            )
        )
        single, both = found["single cut"], found["rough and finishing cut"]
        assert both.verdict == "keeps the margin"
        assert RANK[single.verdict] or single.seconds > both.seconds
        rough, finish = both.steps
        assert rough.found.passes > finish.found.passes == 1
        assert setup_of(rough).desk.cut == RoughCut()
        assert isinstance(setup_of(finish).desk.cut, FinishingCut)

    def test_the_finishing_cut_takes_the_allowance_and_what_the_rough_one_strayed(self, plan: Plan) -> None:
        rough, finish = options(plan.loaded)["rough and finishing cut"].steps
        allowance = float(setup_of(rough).nominal.contour.room)
        assert float(setup_of(finish).nominal.engagement.radial_depth) == pytest.approx(allowance)
        strayed = next(limit for limit in rough.found.evaluation.limits if limit.name == "path error")
        heaviest = setup_of(finish).corners["heaviest load"].engagement.radial_depth
        assert float(heaviest) == pytest.approx(allowance + float(strayed.value))

    def test_errors_of_part_and_fixture_are_the_same_in_both_cuts(self, plan: Plan) -> None:
        rough, finish = (
            setup_of(step).nominal.contour for step in options(plan.loaded)["rough and finishing cut"].steps
        )
        assert float(rough.position_error) == pytest.approx(2 * 0.2e-3 / np.sqrt(3))
        assert float(finish.position_error) > float(rough.position_error)
        assert (float(rough.other_errors), float(finish.room)) == (0.0, pytest.approx(0.6e-3))

    def test_stock_no_wider_than_the_allowance_is_cut_once(self, tmp_path: Path) -> None:
        assert list(options(load(tmp_path, job=[('stock = "2 mm"', 'stock = "0.8 mm"')]), 1)) == ["single cut"]

    def test_stock_wider_than_the_cutter_is_a_slot(self, tmp_path: Path) -> None:
        for stock, depth in (("2 mm", 2e-3), ("30 mm", 12e-3)):
            (option, *_) = answered(
                contour_features(load(tmp_path, job=[('stock = "2 mm"', f'stock = "{stock}"')]))[1].options(), 0.2
            )
            assert float(setup_of(option.steps[0]).nominal.engagement.radial_depth) == pytest.approx(depth)

    def test_waviness_of_the_stock_loads_the_cut(self, plan: Plan) -> None:
        corners = setup_of(chosen(plan, "rim").steps[0]).corners
        deeper = corners["heaviest load"].engagement.radial_depth - corners["nominal"].engagement.radial_depth
        assert float(deeper) == pytest.approx(0.4e-3)


class TestLimits:
    def test_layers_follow_the_cutting_length(self, tmp_path: Path) -> None:
        short = load(tmp_path, cell=[('cutting_length = "22 mm"', 'cutting_length = "1.1 mm"')])
        assert options(short)["single cut"].steps[0].found.passes >= 4

    def test_a_missing_cutting_length_is_three_diameters_within_the_overhang(self, tmp_path: Path) -> None:
        edit = ('cutting_length = "22 mm"\n', "")
        for overhang, length in (("35 mm", 35e-3), ("50 mm", 36e-3)):
            edits = [edit, ('overhang = "35 mm"', f'overhang = "{overhang}"')]
            found = setup_of(options(load(tmp_path, cell=edits))["single cut"].steps[0])
            assert float(found.nominal.engagement.shank.cutting_length) == pytest.approx(length)

    def test_a_thick_shank_does_not_stiffen_the_flutes(self, tmp_path: Path) -> None:
        for shank, bending in (("12 mm", 9.6e-3), ("8 mm", 8e-3)):
            edit = ("teeth = 2\n", f'teeth = 2\nshank_diameter = "{shank}"\n')
            found = setup_of(options(load(tmp_path, cell=[edit]))["single cut"].steps[0])
            assert float(found.nominal.engagement.shank.bending_diameter) == pytest.approx(bending)

    def test_directions_of_the_arm_bring_a_limit_of_their_own(self, plan: Plan, tmp_path: Path) -> None:
        name = "coupling of two directions of the arm"
        assert name not in {limit.name for limit in chosen(plan, "slot").steps[0].found.evaluation.limits}

        def bound(second: str) -> float:
            directions = f'stiffness_directions = {{ first = "900 N/mm", second = "{second} N/mm", angle = "35 deg" }}'
            loaded = load(tmp_path, cell=[('stiffness = "900 N/mm"', f'stiffness = "900 N/mm"\n{directions}')])
            found = options(loaded)["single cut"].steps[0].found
            return next(float(limit.bound) for limit in found.evaluation.limits if limit.name == name)

        # the window of flutter begins where the stiffness differs by the share of K_p that the force angle gives,
        # at worst all of it and half as much again
        force = np.arctan2(1.0, 0.6)
        worst = max(
            np.cos(force - 2 * at) + np.sqrt(max(np.sin(2 * at) * np.sin(2 * (force - at)), 0.0))
            for at in np.linspace(0, np.pi, 3601)
        )
        assert bound("901") == pytest.approx(1e3 / worst, rel=1e-3)
        assert bound("910") == pytest.approx(1e4 / worst, rel=1e-3)

    def test_what_a_robot_must_be_is_asked_for(self, plan: Plan) -> None:
        asked = {row.name: row for row in plan.requirements}
        assert asked["robot stiffness at the tool"].needed < 9e5
        assert asked["path accuracy of the robot, half-width"].needed > 0.2e-3

    def test_a_robot_just_good_enough_does(self, plan: Plan, tmp_path: Path) -> None:
        """At the stiffness the limit asks for, the path error of the settings planned uses up the tolerance."""
        step = chosen(plan, "slot").steps[0]
        limit = next(limit for limit in step.found.evaluation.limits if limit.name == "robot stiffness")
        error = next(limit for limit in step.found.evaluation.limits if limit.name == "path error")
        operation = trimming_of(step.found)
        arm = replace(operation.setup.nominal.arm, stiffness=np.float64(limit.bound))
        corners = {name: replace(corner, arm=arm) for name, corner in operation.setup.corners.items()}
        soft = replace(operation, setup=replace(operation.setup, corners=corners))
        worst = next(
            limit
            for limit in soft.evaluate(step.found.settings, step.found.passes).limits
            if limit.name == "path error"
        )
        assert float(worst.value) == pytest.approx(float(error.bound), rel=1e-9)


class TestTime:
    def test_heat_is_held_where_corners_slow_the_cutter(self) -> None:
        loaded = load_job(EXAMPLES / "chair_shell.toml")
        limp = loaded.cell.robot.model_copy(update={"normal_acceleration": 0.5})
        chair = replace(loaded, cell=loaded.cell.model_copy(update={"robot": limp}))
        grip = next(feature for feature in contour_features(chair) if feature.name == "grip")
        (step,) = answered(grip.single_cut(chair.cell.tool[0]), 0.2).steps
        assert step.time.slowest < float(step.found.settings["feed"])
        assert "heat at the slowest corner" in {limit.name for limit in step.found.evaluation.limits}

    def test_layers_entries_and_feed_make_the_time(self, plan: Plan) -> None:
        option = chosen(plan, "slot")
        (step,) = option.steps
        feed, layers = float(step.found.settings["feed"]), step.found.passes
        outline = plan.features[0].detail.outline
        entry, leaving = entry_of(step.found, outline), exit_of(step.found, outline)
        # a full slot that begins and ends at an edge
        assert (entry.kind, leaving.kind) == ("straight on", "straight on")
        assert entry.length == leaving.length == pytest.approx(6e-3)
        beside = entry.length + leaving.length
        # an open straight run starts and ends at a standstill
        assert step.time.contact >= layers * (0.9 + beside) / feed
        assert step.time.contact == pytest.approx(layers * (0.9 + beside + feed**2 / 3.0) / feed, rel=1e-6)

    def test_a_closed_slot_is_entered_by_a_ramp_in_every_layer(self, fender: Plan) -> None:
        (step,) = chosen(fender, "rim").steps
        outline = fender.features[0].detail.outline
        entry = entry_of(step.found, outline)
        assert entry.kind == "ramp"
        assert exit_of(step.found, outline).kind == "lifted"
        assert entry.length == pytest.approx(4e-3 / step.found.passes / np.tan(np.radians(3)))

    def test_life_counts_every_layer(self, plan: Plan) -> None:
        (step,) = chosen(plan, "slot").steps
        travelled = step.time.contact * float(step.found.settings["feed"])
        assert wear_of(step.found.operation, step).share == pytest.approx(travelled / 300.0)
        assert travelled >= step.found.passes * 0.9

    def test_contours_are_trimmed_before_edges_are_broken_and_faces_sanded(self) -> None:
        chair = make_plan(load_job(EXAMPLES / "chair_shell.toml"))
        assert [stop.feature for stop in chair.cycle.stops][-2:] == ["outline, upper side", "seat side"]
        assert chair.feasible


BURR = "composite burr 8"


class TestBurrRouter:
    def test_it_trims_the_fender_more_slowly_and_for_a_shorter_time(self, fender: Plan) -> None:
        """That pyramid-tooth carbide routers trim glass laminate, hotter, more slowly and for far less
        edge than diamond, is common practice, no published source."""
        feature = next(each for each in fender.features if each.name == "bracket flange")
        burr = min((each for each in feature.others if each.tools == (BURR,)), key=lambda option: option.merit)
        assert burr.verdict != "not feasible"
        assert burr.seconds > 2 * feature.chosen.seconds
        worn, lasting = (wear_of(each.steps[0].found.operation, each.steps[0]).share for each in (burr, feature.chosen))
        assert worn > 5 * lasting

    def test_its_teeth_meet_a_place_in_a_share_of_the_turns(self, fender: Plan) -> None:
        feature = next(each for each in fender.features if each.name == "rim")
        operation = trimming_of(next(each for each in feature.others if BURR in each.tools).steps[0].found)
        cutter, ledger = operation.setup.nominal.cutter, operation.ledger
        assert float(cutter.teeth) == pytest.approx(6 * float(cutter.width_share))
        assert float(cutter.width_share) < 1
        assert ledger.by_field["cutter.teeth"].value == 6


class TestHeat:
    def test_a_thermoplastic_that_bears_less_is_nearer_its_limit(self, tmp_path: Path) -> None:
        used = {}
        for name in ("PC", "PMMA"):
            loaded = load(tmp_path, job=[('"GFRP"', f'"{name}"')], cell=[('"diamond router"', '"carbide end mill"')])
            step = options(loaded)["single cut"].steps[0]
            limits = {limit.name: limit.utilisation for limit in step.found.evaluation.limits}
            used[name] = float(limits["heat at the cut edge"])
        # PMMA bears 60 K, PC 105 K
        assert 0.1 < used["PC"] < used["PMMA"] < 0.8


class TestBetterRobot:
    def test_half_the_path_error_frees_a_tight_tolerance(self, tmp_path: Path) -> None:
        tight = make_plan(
            load(tmp_path, job=[('stock = "2 mm"\ntolerance = "0.6 mm"', 'stock = "2 mm"\ntolerance = "0.3 mm"')])
        )
        assert chosen(tight, "rim").verdict == "not feasible"
        freed = {robot.name: robot.freed for robot in improvements(tight).robots}
        assert freed == {"half the path error": ("rim",), "twice as stiff": ()}


class TestOrigins:
    def test_every_value_of_the_nominal_state_is_traced(self, plan: Plan) -> None:
        for quantity in (None, "path error", "temperature rise", "tool depth limit", "arm depth limit"):
            for step in derive(plan.loaded, "slot", quantity).steps:
                for line in step.inputs:
                    assert line.origin != "at a corner of the scatter", (step.quantity, line.name)

    def test_the_derivation_ends_in_the_figure_of_the_plan(self, plan: Plan) -> None:
        steps = derive(plan.loaded, "rim", "path error").steps
        nominal = chosen(plan, "rim").steps[0].found.evaluation.predictions["nominal"]
        assert steps[-1].quantity == "path error"
        assert steps[-1].result[0] == pytest.approx(float(nominal.path_error), rel=1e-12)

    def test_building_anew_gives_the_same_limits(self, plan: Plan) -> None:
        found = chosen(plan, "rim").steps[0].found
        with recording():
            again = found.operation.again().evaluate(found.settings, found.passes)
        for old, new in zip(found.evaluation.limits[: len(again.limits)], again.limits, strict=True):
            assert (old.name, float(old.value)) == (new.name, pytest.approx(float(new.value), rel=1e-12))

    def test_the_source_of_every_bound_is_known(self, plan: Plan) -> None:
        for name in ("slot", "rim"):
            found = chosen(plan, name).steps[0].found
            for limit in found.evaluation.limits:
                assert limit.source in found.operation.ledger.by_field, limit.name


class TestReport:
    def test_the_pull_of_climb_is_told(self, plan: Plan, tmp_path: Path) -> None:
        notes = {feature.name: " ".join(feature.notes) for feature in plan_rows(plan).features}
        assert "would pull with" in notes["rim"]
        assert "neither direction of travel pulls" in notes["slot"]
        climb = make_plan(load(tmp_path, job=[('stock = "2 mm"', 'stock = "2 mm"\ndirection = "climb"')]))
        told = next(feature for feature in plan_rows(climb).features if feature.name == "rim")
        assert any("climb travel pulls the tool along" in note for note in told.notes)
        figures = {figure.key: figure.value for figure in told.steps[0].figures}
        assert figures["direction"] == "climb"
        assert float(figures["feed_direction_force"] or 0) < 0

    def test_tabs_and_fibres_are_told(self, fender: Plan) -> None:
        rows = {feature.name: feature for feature in plan_rows(fender).features}
        notes = " ".join(rows["rim"].notes)
        for part in ("6 tabs of 8.00 mm", "fibres at 45.0 deg", "3 % of the path"):
            assert part in notes
        assert "offcut comes loose" in " ".join(rows["lamp opening"].notes)

    @pytest.mark.parametrize(
        ("fibres", "told"),
        [("30 deg", "met at 30.0 deg, not among the worst"), ("100 deg", "met at 100.0 deg, among the worst")],
    )
    def test_fibres_of_an_undrawn_path_are_told_by_their_angle(self, tmp_path: Path, fibres: str, told: str) -> None:
        length = 'length = "900 mm"\n'
        slot = plan_rows(make_plan(load(tmp_path, job=[(length, f'{length}fibre_angle = "{fibres}"\n')]))).features[0]
        assert told in " ".join(slot.notes)

    def test_other_ways_are_told_apart(self, plan: Plan) -> None:
        (slot, _) = plan_rows(plan).features
        assert any(other.startswith("router 12, rough and finishing cut") for other in slot.others)

    def test_figures_of_both_cuts_stand_side_by_side(self, fender: Plan) -> None:
        lamp = next(feature for feature in plan_rows(fender).features if feature.name == "lamp opening")
        rough, finish = lamp.steps
        assert [figure.key for figure in rough.figures] == [figure.key for figure in finish.figures]
        assert {step.process for step in lamp.steps} == {"contour trimming"}


def test_headings_are_those_drawn_or_all(fender: Plan, plan: Plan) -> None:
    drawn = fender.features[0].detail.outline
    assert len(headings(drawn)) > 10
    assert len(headings(plan.features[0].detail.outline)) == 181


def test_a_feature_shows_the_drawn_path(fender: Plan) -> None:
    first = fender.features[0]
    assert isinstance(first.feature, ContourFeature)
    (path,) = first.feature.paths(first.chosen.steps[0])
    assert np.allclose(path[0], path[-1])
