"""Refining without graded grain: roughness by a ratio, no depth, a feed that is set."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import fields, replace
from typing import Any

import numpy as np
import pytest

from finishplan.process.abrasive_tools import Roller
from finishplan.process.limits import Limit
from finishplan.process.surface_abrasion import action, predict_surface
from finishplan.process.surface_conditions import Product, SurfaceConditions, SurfaceSetting
from finishplan.process.surface_limits import product_limits, surface_limits
from finishplan.process.surface_refining import Refiner, RefiningSetting

AT = RefiningSetting(spindle_speed=50.0, force=30.0, step=0.02, passes=2, lanes=2, feed=0.05)
Scatter = Callable[[Any, int], Any]

COMMON = [field.name for field in fields(Product)]


@pytest.fixture
def buffed(surface: SurfaceConditions) -> SurfaceConditions:
    """The surface under a buff of 200 mm by 50 mm, flat and of bare metal."""
    shared = {name: getattr(surface.abrasive, name) for name in COMMON}
    buff = Refiner(**shared, refinement=0.4, feed_high=0.06, life=14_400.0)
    buff = replace(buff, tool=Roller(diameter=0.2, width=0.05, modulus=0.5e6, thickness=0.05))
    state = replace(surface.surface, removal=0.0, curvature_radius=np.inf)
    return replace(surface, surface=state, abrasive=buff)


def limits_of(state: SurfaceConditions, at: SurfaceSetting, scatter: Scatter) -> dict[str, Limit]:
    predictions = {
        "nominal": predict_surface(state, at),
        "least removal": predict_surface(scatter(state, -1), at),
        "most removal": predict_surface(scatter(state, 1), at),
    }
    return {limit.name: limit for limit in surface_limits(state, at, predictions)}  # type: ignore[arg-type]


def test_the_roughness_is_a_share_of_what_was_there(buffed: SurfaceConditions) -> None:
    assert predict_surface(buffed, AT).roughness == pytest.approx(0.4 * 1.6e-6, rel=1e-15)
    rougher = replace(buffed, surface=replace(buffed.surface, initial_roughness=3.2e-6))
    assert predict_surface(rougher, AT).roughness == pytest.approx(0.4 * 3.2e-6, rel=1e-15)


def test_no_setting_changes_the_roughness(buffed: SurfaceConditions) -> None:
    wanted = predict_surface(buffed, AT).roughness
    for changed in ({"force": 60.0}, {"feed": 0.01}, {"passes": 4}, {"step": 0.04}):
        assert predict_surface(buffed, replace(AT, **changed)).roughness == wanted  # type: ignore[arg-type]


def test_nothing_is_taken_off(buffed: SurfaceConditions, scatter: Scatter) -> None:
    for state in (buffed, scatter(buffed, 1), scatter(buffed, -1)):
        found = predict_surface(state, AT)
        assert [found.mean_depth, found.deepest, found.shallowest, found.volume] == [0, 0, 0, 0]


def test_the_feed_is_the_one_that_is_set(buffed: SurfaceConditions) -> None:
    assert predict_surface(buffed, AT).feed == 0.05
    feeds = np.array([0.01, 0.05])
    assert predict_surface(buffed, replace(AT, feed=feeds)).feed is feeds


def test_heat_and_power_are_those_of_any_abrasive(buffed: SurfaceConditions) -> None:
    """Four times the feed leaves a place a quarter of the time under the buff, and half the rise."""
    slow, fast = (predict_surface(buffed, replace(AT, feed=feed)) for feed in (0.01, 0.04))
    assert slow.power == pytest.approx(0.45 * 30.0 * np.pi * 0.2 * 50.0, rel=1e-12)
    assert fast.power == slow.power
    assert slow.temperature_rise == pytest.approx(2 * fast.temperature_rise, rel=1e-12)


def test_the_usual_feed_may_be_used_up(buffed: SurfaceConditions, scatter: Scatter) -> None:
    limit = limits_of(buffed, AT, scatter)["usual feed of refining"]
    assert (float(limit.value), float(limit.bound), limit.keeps_margin) == (0.05, 0.06, False)
    assert limits_of(buffed, replace(AT, feed=0.07), scatter)["usual feed of refining"].utilisation > 1


def test_every_other_limit_is_that_of_a_grit(
    buffed: SurfaceConditions, surface: SurfaceConditions, scatter: Scatter
) -> None:
    flat = replace(surface, surface=replace(surface.surface, curvature_radius=np.inf))
    grit = limits_of(flat, SurfaceSetting(50.0, 30.0, 0.02, 2, 2), scatter)
    assert limits_of(buffed, AT, scatter).keys() - grit.keys() == {"usual feed of refining"}
    assert grit.keys() <= limits_of(buffed, AT, scatter).keys()


def test_layers_that_earlier_steps_wore_through_stay_broken(buffed: SurfaceConditions, scatter: Scatter) -> None:
    worn = replace(buffed, surface=replace(buffed.surface, taken_before=50e-6))
    assert limits_of(worn, AT, scatter)["sand-through: deepest place"].utilisation == pytest.approx(50 / 40, rel=1e-12)


def test_graded_grain_has_no_limit_of_its_own(surface: SurfaceConditions) -> None:
    assert list(product_limits(surface.abrasive, 0.05)) == []


def test_scatter_of_removal_leaves_a_product_that_removes_nothing_as_it_is(
    buffed: SurfaceConditions, surface: SurfaceConditions
) -> None:
    assert buffed.abrasive.scattered(0.2) is buffed.abrasive
    assert buffed.abrasive.removal_factor == 1
    assert surface.abrasive.scattered(0.2).removal_factor == pytest.approx(1.2, rel=1e-15)


def test_a_product_without_an_action_is_refused(surface: SurfaceConditions) -> None:
    bare = Product(**{name: getattr(surface.abrasive, name) for name in COMMON})
    with pytest.raises(TypeError, match="no action on a surface for Product"):
        action(bare, surface.surface, AT, 30.0, 20.0)
