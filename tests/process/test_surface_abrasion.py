"""The forward model of a surface: balances that must close, and the order of the corners of the scatter."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import fields, replace
from typing import Any

import numpy as np
import pytest

from finishplan.process.abrasive_tools import AbrasiveTool
from finishplan.process.surface_abrasion import (
    SurfacePrediction,
    deepest_place,
    predict_surface,
    raster_feed,
    shallowest_place,
)
from finishplan.process.surface_conditions import SurfaceConditions, SurfaceSetting

AT = SurfaceSetting(150.0, 35.0, 0.04, 2, 2)
Scatter = Callable[[Any, int], Any]
WithTool = Callable[[AbrasiveTool], SurfaceConditions]


def test_the_feed_takes_off_the_depth_asked_for(with_tool: WithTool, tool: AbrasiveTool) -> None:
    """Volume per time K F v on one side, step times feed times the depth of a pass on the other."""
    state = with_tool(tool)
    found = predict_surface(state, AT)
    given = 2e-11 * 35.0 * tool.speed(150.0, 35.0)
    assert 0.04 * found.feed * found.mean_depth / 2 == pytest.approx(given, rel=1e-12)
    assert found.mean_depth == pytest.approx(8e-6, rel=1e-12)
    assert found.volume == pytest.approx(8e-6 * 0.4, rel=1e-12)


def test_the_feed_of_a_raster() -> None:
    assert raster_feed(2e-11, 35.0, 2.0, 0.04, 8e-6, 3) == pytest.approx(3 * 2e-11 * 35 * 2 / (0.04 * 8e-6), rel=1e-12)


def test_power_and_torque_belong_together(with_tool: WithTool, tool: AbrasiveTool) -> None:
    found = predict_surface(with_tool(tool), AT)
    assert found.power == pytest.approx(0.45 * 35.0 * found.sliding_speed, rel=1e-12)
    assert found.torque == pytest.approx(found.power / (2 * np.pi * 150.0), rel=1e-12)
    assert found.available_torque == pytest.approx(found.available_power / (2 * np.pi * 150.0), rel=1e-12)


def test_heat_is_that_of_a_half_space_for_the_time_under_the_pad(surface: SurfaceConditions) -> None:
    """Carslaw and Jaeger, 2nd ed. 1959, section 2.9: (2 q/k) sqrt(alpha t/pi), for what grain and swarf leave."""
    found = predict_surface(surface, AT)
    into_part = np.sqrt(0.2 * 1400 * 1300 * 15e-6 * found.sliding_speed)
    flux = 0.75 / (1 + 35 / into_part) * found.power / (np.pi * 0.075**2)
    wanted = 2 * flux / 0.2 * np.sqrt(0.2 / (1400 * 1300) * (0.15 / found.feed) / np.pi)
    assert found.temperature_rise == pytest.approx(wanted, rel=1e-12)


def test_more_passes_are_faster_and_take_the_same(surface: SurfaceConditions) -> None:
    once, twice = (predict_surface(surface, replace(AT, passes=n, lanes=n)) for n in (1, 2))
    assert twice.feed == pytest.approx(2 * once.feed, rel=1e-12)
    assert twice.mean_depth == once.mean_depth
    assert twice.temperature_rise < once.temperature_rise


def test_passes_between_one_another_leave_the_ripple_of_a_finer_raster(surface: SurfaceConditions) -> None:
    fine = predict_surface(surface, replace(AT, step=0.02, passes=1, lanes=1)).ripple
    assert predict_surface(surface, AT).ripple == pytest.approx(fine, rel=1e-12)


def test_crosswise_passes_leave_the_ripple_of_the_passes_of_one_way(surface: SurfaceConditions) -> None:
    """Where two lines cross, both are deepest; between them, both are shallowest: the mean of both is as uneven."""
    one_way = predict_surface(surface, replace(AT, passes=1, lanes=1)).ripple
    assert predict_surface(surface, replace(AT, passes=2, lanes=1)).ripple == pytest.approx(one_way, rel=1e-12)


def test_deepest_and_shallowest_lie_about_the_mean() -> None:
    assert deepest_place(10.0, 0.4, 1.0) == pytest.approx(12.0)
    assert deepest_place(10.0, 0.4, 1.5) == pytest.approx(18.0)
    assert shallowest_place(10.0, 0.4) == pytest.approx(8.0)
    assert shallowest_place(10.0, 3.0) == 0.0


@pytest.mark.parametrize("initial", [0.5e-6, 1.6e-6, 20e-6])
def test_roughness_goes_to_the_floor_and_never_past_it(surface: SurfaceConditions, initial: float) -> None:
    rougher = replace(surface.surface, initial_roughness=initial)
    left = [
        predict_surface(replace(surface, surface=replace(rougher, removal=removal)), AT).roughness
        for removal in (1e-9, 1e-6, 5e-6, 50e-6)
    ]
    assert left[0] == pytest.approx(initial, rel=1e-2)
    assert left[-1] == pytest.approx(0.5e-6, rel=1e-3)
    assert np.all(np.diff(left) <= 0)


def test_the_corners_lie_about_the_nominal_state(with_tool: WithTool, tool: AbrasiveTool, scatter: Scatter) -> None:
    least, nominal, most = (predict_surface(scatter(with_tool(tool), sense), AT) for sense in (-1, 0, 1))
    for name in ("force", "mean_depth", "deepest", "shallowest", "power", "volume"):
        low, middle, high = (getattr(corner, name) for corner in (least, nominal, most))
        assert low < middle < high, name
    assert least.roughness > nominal.roughness > most.roughness
    # the programme does not know which corner it meets
    assert least.feed == nominal.feed == most.feed


def test_depth_follows_force_and_coefficient_in_proportion(surface: SurfaceConditions, scatter: Scatter) -> None:
    most = predict_surface(scatter(surface, 1), AT)
    assert most.mean_depth == pytest.approx(8e-6 * 1.2 * (35.0 + 0.8) / 35.0, rel=1e-12)


def test_arrays_of_settings_equal_their_elements(with_tool: WithTool, tool: AbrasiveTool) -> None:
    state = with_tool(tool)
    speeds, forces, steps = np.array([80.0, 150.0, 200.0]), np.array([10.0, 35.0, 80.0]), np.array([0.01, 0.02, 0.04])
    together = predict_surface(state, replace(AT, spindle_speed=speeds, force=forces, step=steps))
    for i in range(3):
        alone = predict_surface(state, replace(AT, spindle_speed=speeds[i], force=forces[i], step=steps[i]))
        for field in fields(SurfacePrediction):
            wide = np.broadcast_to(getattr(together, field.name), 3)
            assert wide[i] == pytest.approx(getattr(alone, field.name), rel=1e-9), field.name
            assert np.ndim(getattr(alone, field.name)) == 0


def test_a_product_of_no_known_kind(surface: SurfaceConditions) -> None:
    from finishplan.process.surface_abrasion import action

    with pytest.raises(TypeError, match="object"):
        action(object(), surface.surface, AT, 35.0, 2.0)  # type: ignore[arg-type]
