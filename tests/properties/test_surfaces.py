"""What must hold on any surface and edge under any abrasive: monotony, scaling, and units that change nothing."""

from __future__ import annotations

import math
import re
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path
from typing import Any

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from finishplan.job import load_job
from finishplan.physics import edge_section_per_pass, pass_depth, round_radius
from finishplan.planning.plan import Plan, make_plan
from finishplan.process.abrasive_tools import AbrasiveTool, FlatDisc, OrbitalPad, Roller, TiltedDisc
from finishplan.process.edge_break import section_into_edge
from finishplan.process.ripple import raster_ripple
from finishplan.process.surface_abrasion import deepest_place, depth_at, raster_feed, shallowest_place, shifted_pitch

ROUNDING = 1 + 1e-9
some = settings(max_examples=100, deadline=None)


def between(low: float, high: float) -> st.SearchStrategy[float]:
    """Figures spread evenly over their ratios."""
    return st.floats(math.log(low), math.log(high)).map(math.exp)


coefficients = between(1e-13, 1e-9)
forces = between(2.0, 200.0)
speeds = between(0.5, 40.0)
feeds = between(2e-3, 1.0)
steps = between(2e-3, 0.1)
depths = between(1e-7, 5e-4)
angles = st.floats(math.radians(30), math.radians(150))
passes = st.integers(1, 6)
moduli = between(5e4, 2e7)
tools: st.SearchStrategy[AbrasiveTool] = st.one_of(
    st.builds(Roller, between(0.03, 0.4), between(0.01, 0.1), moduli, between(1e-3, 0.05)),
    st.builds(FlatDisc, between(0.05, 0.2), moduli, between(1e-3, 0.03)),
    st.builds(OrbitalPad, between(0.075, 0.2), between(2e-3, 8e-3), moduli, between(3e-3, 0.03)),
    st.builds(TiltedDisc, between(0.1, 0.2), st.floats(math.radians(3), math.radians(25)), moduli, between(2e-3, 0.02)),
)
profiles = st.sampled_from(["orbital", "spinning disc", "stripe"])


@some
@given(tools, coefficients, forces, st.floats(1.0, 3.0), between(20.0, 200.0), feeds, steps)
def test_more_force_at_equal_feed_never_takes_less(
    tool: AbrasiveTool, coefficient: float, force: float, factor: float, speed: float, feed: float, step: float
) -> None:
    """A tilted disc pressed harder slides slower on average, but never by as much."""
    light, heavy = (
        pass_depth(coefficient, pressed, tool.speed(speed, pressed), feed, step) for pressed in (force, force * factor)
    )
    assert heavy * ROUNDING >= light


@some
@given(coefficients, forces, speeds, steps, depths, passes)
def test_the_feed_of_a_raster_takes_the_depth(
    coefficient: float, force: float, speed: float, step: float, depth: float, count: int
) -> None:
    feed = raster_feed(coefficient, force, speed, step, depth, count)
    assert count * pass_depth(coefficient, force, speed, feed, step) == pytest.approx(depth, rel=1e-12)


@some
@given(depths, st.floats(0.5, 1.5), forces, st.floats(-0.3, 0.3))
def test_depth_goes_with_force_and_coefficient(depth: float, factor: float, force: float, error: float) -> None:
    given_force = force * (1 + error)
    assert depth_at(depth, factor, given_force, force) == pytest.approx(depth * factor * (1 + error), rel=1e-9)


@some
@given(depths, st.floats(0.0, 2.0), st.floats(1.0, 4.0))
def test_the_mean_lies_between_the_shallowest_and_the_deepest_place(depth: float, ripple: float, edge: float) -> None:
    assert 0 <= shallowest_place(depth, ripple) <= depth <= deepest_place(depth, ripple, edge) * ROUNDING


@some
@given(profiles, between(0.01, 2.0), between(0.02, 0.1))
def test_the_ripple_is_never_negative_and_only_the_ratio_counts(profile: Any, share: float, reach: float) -> None:
    ripple = raster_ripple(share * reach, reach, profile)
    assert ripple >= 0
    assert ripple == pytest.approx(raster_ripple(share, 1.0, profile), rel=1e-9)


@some
@given(st.sampled_from(["orbital", "stripe"]), between(0.2, 2.0), between(0.02, 0.1))
def test_passes_laid_between_one_another_are_as_even_as_a_finer_raster(
    profile: Any, share: float, reach: float
) -> None:
    """Four passes leave no more than half of what one leaves at its worst: half the pitch over the reach."""
    assert raster_ripple(shifted_pitch(share * reach, 4), reach, profile) <= max(share / 8, 0.35 * share) * 1.02


@some
@given(coefficients, forces, speeds, feeds, angles, st.integers(1, 40))
def test_without_burr_the_radius_grows_with_the_root_of_the_passes(
    coefficient: float, force: float, speed: float, feed: float, angle: float, count: int
) -> None:
    once = edge_section_per_pass(coefficient, force, speed, feed)
    assert round_radius(count * once, angle) == pytest.approx(math.sqrt(count) * round_radius(once, angle), rel=1e-9)


@some
@given(between(1e-10, 1e-5), between(1e-11, 1e-6), st.floats(1.0, 5.0), angles)
def test_a_larger_burr_never_leaves_a_larger_radius(section: float, burr: float, factor: float, angle: float) -> None:
    small, large = (round_radius(section_into_edge(section, size), angle) for size in (burr, burr * factor))
    assert large <= small * ROUNDING


@some
@given(tools, forces, st.floats(1.0, 3.0))
def test_a_patch_carries_its_force_and_never_shrinks_under_more(
    tool: AbrasiveTool, force: float, factor: float
) -> None:
    light, heavy = tool.patch(force), tool.patch(force * factor)
    assert light.pressure * light.area == pytest.approx(force, rel=1e-9)
    assert heavy.area * ROUNDING >= light.area


@some
@given(st.one_of(st.builds(Roller, between(0.03, 0.4), between(0.01, 0.1), moduli, between(1e-3, 0.05))), forces)
def test_a_softer_tyre_touches_further(tool: Roller, force: float) -> None:
    softer = replace(tool, modulus=tool.modulus / 2)
    assert softer.patch(force).length > tool.patch(force).length


JOB = """\
[job]
title = "panel"
margin = "17.3 %"

[part]
material = "S235JR"

[cell]
file = "cell.toml"

[[surface]]
name = "face"
length = "600 mm"
width = "400 mm"
initial_roughness = "3 um"
target_roughness = "1.2 um"
overhang = "20 %"

[[removal]]
name = "gate"
kind = "gate"
height = "2 mm"
width = "18 mm"
length = "30 mm"
"""
CELL = """\
title = "cell"

[robot]
kind = "articulated"
payload = "35 kg"
path_accuracy = "0.3 mm"
top_speed = "0.6 m/s"

[[spindle]]
name = "orbital motor"
speed_min = "4000 rpm"
speed_max = "12000 rpm"
mass = "1.6 kg"
curve = [{ speed = "4000 rpm", power = "120 W" }, { speed = "12000 rpm", power = "350 W" }]
compliance = "force axis"

[[spindle]]
name = "belt drive"
speed_min = "1000 rpm"
speed_max = "6000 rpm"
mass = "6 kg"
curve = [{ speed = "1000 rpm", power = "500 W" }, { speed = "6000 rpm", power = "1800 W" }]
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
name = "orbital 150"
family = "orbital disc"
grits = ["P120", "P180"]
diameter = "150 mm"
orbit = "5 mm"
rated_speed = "15000 rpm"
spindle = "orbital motor"

[[abrasive]]
name = "belt 50"
family = "coated belt"
grits = ["P80"]
diameter = "120 mm"
width = "50 mm"
rated_speed = "7000 rpm"
spindle = "belt drive"
"""
POUND_FORCE = 0.45359237 * 9.80665
INCH_UNITS = {
    "mm": ("in", 1 / 25.4),
    "um": ("mil", 1 / 25.4),
    "m/s": ("ft/min", 60 / 0.3048),
    "N": ("lbf", 1 / POUND_FORCE),
    "kg": ("lb", 1 / 0.45359237),
    "W": ("hp", 1 / (550 * 0.3048 * POUND_FORCE)),
    "N/m": ("lbf/in", 25.4e-3 / POUND_FORCE),
}


def in_inches(text: str) -> str:
    def converted(found: re.Match[str]) -> str:
        number, unit = found.groups()
        if unit not in INCH_UNITS:
            return found[0]
        inch, factor = INCH_UNITS[unit]
        return f'"{float(number) * factor!r} {inch}"'

    return re.sub(r'"([0-9.]+) ([A-Za-z/%]+)"', converted, text).replace("[job]\n", '[job]\nunits = "inch"\n')


def figures(plan: Plan) -> dict[str, float]:
    found = {"cycle": plan.cycle.total}
    for feature in plan.features:
        for step in feature.chosen.steps:
            nominal: Any = step.found.evaluation.predictions["nominal"]
            name = f"{feature.name} with {step.tool}"
            found |= {f"{name}: {key}": float(value) for key, value in step.found.settings.items()}
            found |= {f"{name}: {limit.name}": float(limit.utilisation) for limit in step.found.evaluation.limits}
            found |= {f"{name}: time": step.time.total, f"{name}: power": float(nominal.power)}
    return found | {f"parts of {use.tool}": use.parts or 0.0 for use in plan.tools}


def test_a_job_in_inch_units_gives_the_same_plan(tmp_path: Path) -> None:
    def made(system: str, change: Callable[[str], str]) -> Plan:
        folder = tmp_path / system
        folder.mkdir()
        (folder / "job.toml").write_text(change(JOB))
        (folder / "cell.toml").write_text(change(CELL).replace('units = "inch"\n', ""))
        return make_plan(load_job(folder / "job.toml"))

    metric, inch = made("metric", str), made("inch", in_inches)
    assert inch.loaded.job.job.units == "inch"
    assert figures(inch) == pytest.approx(figures(metric), rel=1e-9)
    assert np.isfinite(list(figures(metric).values())).all()
