"""Every limit of a surface reacts to the figures it is about."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from typing import Any

import numpy as np
import pytest

from finishplan.process.limits import Limit, highest_utilisation
from finishplan.process.surface_abrasion import predict_surface
from finishplan.process.surface_conditions import SurfaceConditions, SurfaceSetting
from finishplan.process.surface_limits import surface_limits
from finishplan.units import KINDS

AT = SurfaceSetting(150.0, 30.0, 0.03, 1, 1)
SENSES = {"nominal": 0, "least removal": -1, "most removal": 1}
Scatter = Callable[[Any, int], Any]

# limit, the figure that is made worse, its factor
WORSE: list[tuple[str, str, float]] = [
    ("rated speed of the tool", "abrasive.rated_speed", 0.8),
    ("rated speed of the tool", "setting.spindle_speed", 1.1),
    ("highest spindle speed", "spindle.speed_max", 0.8),
    ("lowest spindle speed", "spindle.speed_min", 1.2),
    ("highest surface speed", "abrasive.speed_high", 0.9),
    ("lowest surface speed", "abrasive.speed_low", 2.2),
    ("spindle power", "spindle.curve_powers", 0.5),
    ("spindle power", "abrasive.force_ratio", 1.5),
    ("spindle torque", "spindle.curve_powers", 0.5),
    ("highest pressure: stall and loading", "abrasive.pressure_high", 0.5),
    ("highest pressure: stall and loading", "setting.force", 1.5),
    ("lowest pressure", "abrasive.pressure_low", 1.5),
    ("lowest pressure", "setting.force", 0.7),
    ("usual force, highest", "abrasive.force_high", 0.7),
    ("usual force, highest", "setting.force", 1.5),
    ("usual force, lowest", "abrasive.force_low", 1.6),
    ("highest device force", "mount.force_max", 0.5),
    ("lowest device force", "mount.force_min", 2.0),
    ("friction of the device", "mount.smallest_usable_force", 2.0),
    ("compliance stroke each way", "mount.stroke_needed", 2.0),
    ("path accuracy", "robot.path_accuracy", 2.0),
    ("path accuracy", "mount.stroke", 0.5),
    ("loss of contact on the waviness", "surface.waviness_amplitude", 2.0),
    ("loss of contact on the waviness", "mount.moving_mass", 2.0),
    ("force loop on the waviness", "surface.waviness_wavelength", 0.5),
    ("force loop on the waviness", "mount.bandwidth", 0.5),
    ("approach speed the impact allows", "mount.moving_mass", 4.0),
    ("approach speed the impact allows", "rules.contact_stiffness", 4.0),
    ("robot payload", "robot.carried_mass", 1.5),
    ("robot speed", "robot.top_speed", 0.5),
    ("robot speed", "surface.removal", 0.5),
    ("heat at the surface", "thermal.room", 0.5),
    ("heat at the surface", "thermal.conductivity", 0.5),
    ("unevenness of the raster", "surface.unevenness", 0.5),
    ("unevenness of the raster", "setting.step", 2.0),
    ("step within the stripe", "setting.step", 2.0),
    ("roughness", "surface.wanted_roughness", 0.8),
    ("roughness", "surface.initial_roughness", 1.5),
    ("roughness", "abrasive.floor_roughness", 1.5),
    ("sand-through: deepest place", "surface.layer", 0.8),
    ("sand-through: deepest place", "surface.keep", 1.5),
    ("sand-through: deepest place", "surface.taken_before", 2.0),
    ("sand-through: deepest place", "surface.removal", 1.5),
    ("sand-through: deepest place", "surface.edge_factor", 1.5),
    ("contact on the curve", "surface.curvature_radius", 0.2),
    ("contact on the curve", "surface.curved_contact_share", 1.2),
]


def limits_of(state: SurfaceConditions, at: SurfaceSetting, scatter: Scatter) -> list[Limit]:
    predictions = {corner: predict_surface(scatter(state, sense), at) for corner, sense in SENSES.items()}
    return surface_limits(state, at, predictions)


def by_name(state: SurfaceConditions, at: SurfaceSetting, scatter: Scatter) -> dict[str, Limit]:
    found = limits_of(state, at, scatter)
    assert len({limit.name for limit in found}) == len(found)
    return {limit.name: limit for limit in found}


@pytest.mark.parametrize(("name", "figure", "factor"), WORSE)
def test_a_limit_tightens_with_the_figure_it_is_about(
    name: str, figure: str, factor: float, surface: SurfaceConditions, scatter: Scatter, changed: Any
) -> None:
    before = by_name(surface, AT, scatter)[name].utilisation
    group, field = figure.split(".")
    if group == "setting":
        after = by_name(surface, replace(AT, **{field: factor * getattr(AT, field)}), scatter)
    else:
        worse = changed(surface, figure, factor * getattr(getattr(surface, group), field))
        after = by_name(worse, AT, scatter)
    assert after[name].utilisation > before


def test_no_limit_is_left_untried(surface: SurfaceConditions, scatter: Scatter) -> None:
    assert set(by_name(surface, AT, scatter)) == {name for name, _, _ in WORSE}


def test_limits_say_what_they_measure_and_what_would_widen_them(surface: SurfaceConditions, scatter: Scatter) -> None:
    for limit in limits_of(surface, AT, scatter):
        assert limit.kind in KINDS
        assert "." in limit.source
        assert limit.remedy


def test_a_flat_surface_is_touched_everywhere(surface: SurfaceConditions, scatter: Scatter, changed: Any) -> None:
    flat = changed(surface, "surface.curvature_radius", np.inf)
    assert "contact on the curve" not in by_name(flat, AT, scatter)


def test_the_part_itself_cannot_be_sanded_through(surface: SurfaceConditions, scatter: Scatter, changed: Any) -> None:
    bare = changed(changed(surface, "surface.layer", np.inf), "surface.keep", 0.0)
    assert by_name(bare, AT, scatter)["sand-through: deepest place"].utilisation == 0


def test_the_verdict_on_a_layer_flips_where_the_deepest_place_reaches_what_may_go(
    surface: SurfaceConditions, scatter: Scatter, changed: Any
) -> None:
    deepest = by_name(surface, AT, scatter)["sand-through: deepest place"].value
    for layer, broken in ((20e-6 + deepest * 1.001, False), (20e-6 + deepest * 0.999, True)):
        thin = by_name(changed(surface, "surface.layer", layer), AT, scatter)["sand-through: deepest place"]
        assert bool(thin.utilisation > 1) is broken


def test_a_layer_thinner_than_what_must_survive_has_nothing_to_give(
    surface: SurfaceConditions, scatter: Scatter, changed: Any
) -> None:
    gone = changed(surface, "surface.layer", 10e-6)
    assert by_name(gone, AT, scatter)["sand-through: deepest place"].utilisation == np.inf


def test_arrays_of_settings_equal_their_elements(surface: SurfaceConditions, scatter: Scatter) -> None:
    forces, steps = np.array([15.0, 30.0, 70.0]), np.array([0.01, 0.03, 0.1])
    together = highest_utilisation(limits_of(surface, replace(AT, force=forces, step=steps), scatter), 0.2)
    for i in range(3):
        alone = limits_of(surface, replace(AT, force=forces[i], step=steps[i]), scatter)
        assert together[i] == pytest.approx(highest_utilisation(alone, 0.2), rel=1e-9)
