"""Contours under saw blades, cut-off wheels and grit routers: runs, entries, curves, wear and what is told of them."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import replace
from pathlib import Path

import ezdxf
import numpy as np
import pytest
from ezdxf.layouts import Modelspace

from finishplan.hazards.gathering import work_of
from finishplan.job import LoadedJob, load_job
from finishplan.physics import change_volume, disc_chord, rim_stiffness
from finishplan.planning.contour_ends import entry_of, exit_of, trimming_of
from finishplan.planning.contour_feature import contour_features
from finishplan.planning.derivation import derive
from finishplan.planning.feature import Option
from finishplan.planning.plan import Plan, make_plan
from finishplan.planning.together import answered
from finishplan.planning.toolife import wear_of
from finishplan.process.contour_engagement import Milled, Sawn
from finishplan.process.contour_plunge import plunge_held
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
name = "sides"
drawing = "panel.dxf"
layer = "SIDES"
thickness = "4 mm"
tolerance = "1.5 mm"

[[contour]]
name = "bow"
drawing = "panel.dxf"
layer = "BOW"
thickness = "4 mm"
tolerance = "1.5 mm"
tools = ["wheel 125"]

[[contour]]
name = "strip"
length = "500 mm"
thickness = "4 mm"
stock = "1 mm"
tolerance = "1 mm"
tools = ["wheel 125", "grit 12"]
"""

CELL = """\
title = "cell"

[robot]
kind = "articulated"
payload = "150 kg"
path_accuracy = "0.2 mm"
stiffness = "900 N/mm"

[[spindle]]
name = "saw spindle"
speed_min = "2000 rpm"
speed_max = "24000 rpm"
mass = "14 kg"
curve = [
  { speed = "2000 rpm", power = "3000 W" },
  { speed = "24000 rpm", power = "6000 W" },
]

[[tool]]
name = "saw 160"
family = "carbide-tipped saw blade"
diameter = "160 mm"
teeth = 48
kerf = "2.4 mm"
body_thickness = "1.6 mm"
overhang = "30 mm"
rated_speed = "9000 rpm"
spindle = "saw spindle"

[[abrasive]]
name = "wheel 125"
family = "diamond cut-off wheel"
diameter = "125 mm"
width = "2 mm"
body_thickness = "1.4 mm"
flange_diameter = "45 mm"
grits = ["D301", "D501"]
rated_speed = "12200 rpm"
spindle = "saw spindle"

[[abrasive]]
name = "grit 12"
family = "diamond-grit router"
diameter = "12 mm"
width = "20 mm"
overhang = "35 mm"
grits = ["D501"]
rated_speed = "30000 rpm"
spindle = "saw spindle"
"""

LONG, SHORT, BOW = 1200.0, 600.0, 3000.0
"""Sides of the panel and radius of the bow [mm]."""

Edit = tuple[str, str]


def wide(space: Modelspace) -> None:
    """An open arc of a large radius."""
    space.add_arc((0, -BOW), BOW, 80, 100, dxfattribs={"layer": "BOW"})


def load(
    folder: Path, job: Sequence[Edit] = (), cell: Sequence[Edit] = (), bow: Callable[[Modelspace], None] = wide
) -> LoadedJob:
    drawing = ezdxf.new("R2010", units=4)
    corners = [(0, 0), (LONG, 0), (LONG, SHORT), (0, SHORT)]
    drawing.modelspace().add_lwpolyline(corners, close=True, dxfattribs={"layer": "SIDES"})
    bow(drawing.modelspace())
    drawing.saveas(folder / "panel.dxf")
    for name, text, edits in (("job.toml", JOB, job), ("cell.toml", CELL, cell)):
        for old, new in edits:
            assert text.count(old) == 1, f"{old!r} must stand once in the text"
            text = text.replace(old, new)
        (folder / name).write_text(text, encoding="utf-8")
    return load_job(folder / "job.toml")


@pytest.fixture(scope="module")
def loaded(tmp_path_factory: pytest.TempPathFactory) -> LoadedJob:
    return load(tmp_path_factory.mktemp("discs"))


@pytest.fixture(scope="module")
def plan(loaded: LoadedJob) -> Plan:
    return make_plan(loaded)


def options(loaded: LoadedJob, index: int) -> dict[str, Option]:
    """Options of a contour by their tool."""
    found = answered(contour_features(loaded)[index].options(), 0.2)
    return {option.stations[0]: option for option in found}


@pytest.fixture(scope="module")
def sides(loaded: LoadedJob) -> dict[str, Option]:
    return options(loaded, 0)


def test_every_tool_that_cuts_to_size_is_an_option(sides: dict[str, Option]) -> None:
    assert sides.keys() == {"saw 160", "wheel 125", "grit 12"}
    assert all(option.label == "single cut" for option in sides.values())
    stances = {name: type(trimming_of(option.steps[0].found).conditions.engagement) for name, option in sides.items()}
    assert stances == {"saw 160": Sawn, "wheel 125": Sawn, "grit 12": Milled}


def test_a_disc_begins_anew_behind_every_corner(loaded: LoadedJob, sides: dict[str, Option]) -> None:
    feature = contour_features(loaded)[0]
    for name, runs in (("saw 160", 4), ("grit 12", 1)):
        step = sides[name].steps[0]
        assert len(feature.outline_of(step.found).chains) == len(feature.paths(step)) == runs
    run = sides["saw 160"].steps[0]
    assert run.time.entries == 4 * run.found.passes
    assert run.time.slowest == pytest.approx(float(run.found.settings["feed"]))


def test_contact_is_the_path_with_a_chord_for_every_run_and_the_plunge(
    loaded: LoadedJob, sides: dict[str, Option]
) -> None:
    """Half a chord beyond either end of every side, and a plunge at the feed that the spindle leaves it."""
    step = sides["saw 160"].steps[0]
    feed, layers = float(step.found.settings["feed"]), step.found.passes
    chord = float(disc_chord(0.16, 9e-3))
    outline = contour_features(loaded)[0].outline_of(step.found)
    assert outline.length == pytest.approx(2 * (LONG + SHORT) * 1e-3 + 4 * chord)
    entry, leaving = entry_of(step.found, outline), exit_of(step.found, outline)
    assert (entry.kind, entry.length) == ("plunge", pytest.approx(9e-3 / layers))
    assert (leaving.kind, leaving.length) == ("lifted", pytest.approx(9e-3))
    least = layers * (outline.length / feed + 4 * (entry.length / entry.feed + 9e-3 / feed))
    # the ramps of the robot come on top, at most its feed over its acceleration for each run and layer
    assert least <= step.time.contact < least + layers * 4 * 2 * feed


@pytest.mark.parametrize("name", ["saw 160", "wheel 125"])
def test_a_plunge_is_as_fast_as_the_heaviest_state_bears(
    loaded: LoadedJob, sides: dict[str, Option], name: str
) -> None:
    found = sides[name].steps[0].found
    operation, speed = trimming_of(found), float(found.settings["spindle_speed"])
    entry = entry_of(found, contour_features(loaded)[0].outline)
    heaviest = operation.setup.corners["heaviest load"]
    power = float(found.evaluation.predictions["heaviest load"].available_power)
    feeds = np.array([entry.feed, 1.1 * entry.feed])
    held = plunge_held(heaviest, heaviest.engagement, speed, feeds, power, found.margin)
    assert held.tolist() == [True, False]
    assert entry.feed < float(found.settings["feed"])


def test_trimmed_stock_is_entered_from_its_edge(loaded: LoadedJob) -> None:
    found = options(loaded, 2)["wheel 125"].steps[0].found
    assert entry_of(found, contour_features(loaded)[2].outline).kind == "run in from the edge"


def test_waypoints_lead_past_the_corners(loaded: LoadedJob, sides: dict[str, Option]) -> None:
    past = float(disc_chord(0.16, 9e-3)) / 2
    first = contour_features(loaded)[0].paths(sides["saw 160"].steps[0])[0]
    assert first[0] == pytest.approx([-past, 0.0])
    assert first[-1] == pytest.approx([LONG * 1e-3 + past, 0.0])


def test_a_curve_takes_up_some_of_the_tolerance(loaded: LoadedJob) -> None:
    step = options(loaded, 1)["wheel 125"].steps[0]
    conditions = trimming_of(step.found).conditions
    height = float(disc_chord(0.125, 9e-3)) ** 2 / (8 * BOW * 1e-3)
    assert isinstance(conditions.engagement, Sawn)
    # the arc is drawn by chords within 0.01 mm
    assert conditions.engagement.overcut == pytest.approx(height, abs=1e-5)
    assert conditions.contour.room == pytest.approx(1.5e-3 - conditions.engagement.overcut, rel=1e-9)


@pytest.mark.parametrize("as_pieces", [False, True])
def test_a_curve_too_tight_for_the_disc_is_not_feasible(tmp_path: Path, as_pieces: bool) -> None:
    """Drawn as an arc or as straight pieces of three degrees, it is the same curve."""

    def tight(space: Modelspace) -> None:
        angles = np.radians(np.arange(0, 91, 3))
        if as_pieces:
            space.add_lwpolyline(
                [(200 * np.cos(angle), 200 * np.sin(angle)) for angle in angles], dxfattribs={"layer": "BOW"}
            )
        else:
            space.add_arc((0, 0), 200, 0, 90, dxfattribs={"layer": "BOW"})

    step = options(load(tmp_path, bow=tight), 1)["wheel 125"].steps[0]
    broken = {limit.name for limit in step.found.evaluation.limits if limit.utilisation > 1}
    assert broken == {"curve within the side play of the disc"}
    assert step.found.verdict == "not feasible"


def test_the_rim_is_as_stiff_as_its_body_and_flanges_make_it(sides: dict[str, Option]) -> None:
    saw, wheel = (trimming_of(sides[name].steps[0].found).conditions for name in ("saw 160", "wheel 125"))
    assert saw.arm.tool_stiffness == pytest.approx(rim_stiffness(0.16, 0.33, 1.6e-3, 207e9))
    assert wheel.arm.tool_stiffness == pytest.approx(rim_stiffness(0.125, 45 / 125, 1.4e-3, 207e9))


def test_stock_narrower_than_the_kerf_is_all_that_is_cut(loaded: LoadedJob) -> None:
    engagement = trimming_of(options(loaded, 2)["wheel 125"].steps[0].found).conditions.engagement
    assert isinstance(engagement, Sawn)
    assert engagement.width == pytest.approx(1e-3)


def test_wavy_stock_fills_more_of_the_kerf_and_no_more_than_all(tmp_path: Path) -> None:
    for amplitude, width in (("0.3 mm", 1.3e-3), ("3 mm", 2e-3)):
        waviness = f'stock = "1 mm"\nwaviness = {{ amplitude = "{amplitude}", wavelength = "200 mm" }}'
        step = options(load(tmp_path, job=[('stock = "1 mm"', waviness)]), 2)["wheel 125"].steps[0]
        heaviest = trimming_of(step.found).setup.corners["heaviest load"].engagement
        assert heaviest.width == pytest.approx(width)


def test_the_last_layer_is_a_state_of_its_own(sides: dict[str, Option]) -> None:
    for name in ("saw 160", "wheel 125"):
        corners = trimming_of(sides[name].steps[0].found).setup.corners
        assert float(corners["last layer"].engagement.out) == 1.0
    assert "last layer" not in trimming_of(sides["grit 12"].steps[0].found).setup.corners


def test_grit_enters_a_closed_slot_by_a_hole(loaded: LoadedJob, sides: dict[str, Option]) -> None:
    found = sides["grit 12"].steps[0].found
    assert entry_of(found, contour_features(loaded)[0].outline).kind == "drilled hole"


def test_the_best_grit_of_a_wheel_is_taken(loaded: LoadedJob, sides: dict[str, Option]) -> None:
    (step,) = sides["wheel 125"].steps
    assert step.tool in {"wheel 125 D301", "wheel 125 D501"}
    coarse_alone = options(with_grits(loaded, ["D501"]), 0)["wheel 125"]
    assert coarse_alone.merit >= sides["wheel 125"].merit


def with_grits(loaded: LoadedJob, grits: list[str]) -> LoadedJob:
    abrasives = [
        one.model_copy(update={"grits": grits} if one.name == "wheel 125" else {}) for one in loaded.cell.abrasive
    ]
    return replace(loaded, cell=loaded.cell.model_copy(update={"abrasive": abrasives}))


def test_wear_of_grain_goes_by_volume_and_of_teeth_by_length(sides: dict[str, Option]) -> None:
    wheel, saw = sides["wheel 125"].steps[0], sides["saw 160"].steps[0]
    operation = trimming_of(wheel.found)
    volume = float(wheel.found.evaluation.predictions["nominal"].removal_rate) * wheel.time.contact
    worn = wear_of(operation, wheel)
    assert worn.end_rate == 0.5
    change = change_volume(operation.conditions.abrasive.life_volume, 0.5)
    assert worn.share == pytest.approx(volume / change, rel=1e-9)
    travelled = saw.time.contact * float(saw.found.settings["feed"])
    assert wear_of(saw.found.operation, saw).share == pytest.approx(travelled / 40.0)


def test_a_recording_gives_the_same_figures_again(plan: Plan) -> None:
    for feature in plan.features:
        for step in feature.chosen.steps:
            again = step.found.operation.again().evaluate(step.found.settings, step.found.passes)
            before, after = step.found.evaluation.predictions["nominal"], again.predictions["nominal"]
            assert after.power == before.power
            assert after.path_error == before.path_error


@pytest.mark.parametrize("quantity", ["cutting power", "path error", "rise at the cut edge"])
def test_figures_of_a_disc_are_derived(plan: Plan, quantity: str) -> None:
    words = {"cutting power": "power"}.get(quantity, quantity)
    derivation = derive(plan.loaded, "bow", words)
    assert derivation.tool.startswith("wheel 125")
    assert len(derivation.steps) > 3


def test_notes_tell_where_the_disc_goes(plan: Plan) -> None:
    told = {feature.name: " ".join(feature.notes) for feature in plan_rows(plan).features}
    (sides,) = next(feature.chosen.steps for feature in plan.features if feature.name == "sides")
    assert trimming_of(sides.found).desk.family.is_disc
    assert "4 runs" in told["sides"]
    assert "tightest curve" in told["bow"]
    assert "frays first" in told["sides"]


def test_every_row_of_a_contour_has_the_same_figures(plan: Plan) -> None:
    steps = [step for feature in plan_rows(plan).features for step in feature.steps]
    assert {step.process for step in steps} == {"contour trimming"}
    assert len({tuple(figure.key for figure in (*step.settings, *step.result)) for step in steps}) == 1


def test_hazard_facts_know_a_saw_from_a_cutter(loaded: LoadedJob, sides: dict[str, Option]) -> None:
    facts = {name: work_of("sides", option.steps[0]).tool for name, option in sides.items()}
    assert (facts["saw 160"].kind, facts["saw 160"].width, facts["saw 160"].overhang) == ("saw blade", 2.4e-3, None)
    assert facts["saw 160"].disc
    assert not facts["saw 160"].abrasive
    assert facts["wheel 125"].disc
    assert facts["wheel 125"].abrasive
    assert not facts["grit 12"].disc
    assert facts["grit 12"].overhang == pytest.approx(35e-3)


def test_what_a_disc_takes_out_is_its_kerf(sides: dict[str, Option]) -> None:
    step = sides["saw 160"].steps[0]
    work = work_of("sides", step)
    swept = float(step.found.settings["feed"]) * step.time.contact
    assert work.volume == pytest.approx(2.4e-3 * 4e-3 / step.found.passes * swept, rel=1e-9)
    assert np.isfinite(work.power)
