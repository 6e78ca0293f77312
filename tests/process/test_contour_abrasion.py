"""Trimming with grain: energy, force and pressure, either way of standing, and what each limit watches."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import numpy as np
import pytest

from finishplan.physics import specific_energy
from finishplan.process.abrasive_tools import Roller
from finishplan.process.contour_abrasion import (
    AbradedContour,
    AbradedContourPrediction,
    abraded_contour_limits,
    predict_abraded_contour,
)
from finishplan.process.contour_conditions import Arm, ContourSetting, ContourState
from finishplan.process.contour_engagement import Milled, Sawn, Shank
from finishplan.process.edge_conditions import RobotState, Spindle
from finishplan.process.limits import Limit
from finishplan.process.surface_conditions import Abrasive, Rubbing, Thermal

DIAMETER, WIDTH = 0.125, 2e-3
GRAIN = Rubbing(conductivity=1000.0, contact_radius=15e-6, carried_away=0.25)
WHEEL = AbradedContour(
    contour=ContourState(4e-3, 1e-3, 0.33e-3, 0.23e-3, 2.0, "conventional"),
    engagement=Sawn(WIDTH, WIDTH, 5e-3, 0.0, 9e-3, 40e-3, 0.0, 0.3e-3, 0.1, 2.0, 0.4),
    edge=GRAIN,
    thermal=Thermal(0.4, 1900.0, 1000.0, 60.0),
    spindle=Spindle(50.0, 300.0, np.array([50.0, 300.0]), np.array([3000.0, 3000.0])),
    arm=Arm(9e5, 1e5, 17.0, 0.028, None),
    robot=RobotState(150.0, 14.0, 1.0, 0.2e-3),
    abrasive=Abrasive(
        tool=Roller(DIAMETER, WIDTH, 1e6, 0.03),
        grain=GRAIN,
        force_ratio=0.4,
        rated_speed=200.0,
        speed_low=25.0,
        speed_high=60.0,
        pressure_low=200e3,
        pressure_high=4e6,
        force_low=10.0,
        force_high=100.0,
        coefficient=0.2e-9,
        coefficient_factor=1.0,
        floor_roughness=4e-6,
        roughness_decay=0.0,
        life_volume=1e-3,
    ),
)
ROUTER = replace(
    WHEEL,
    engagement=Milled(3e-3, Shank(35e-3, 10e-3, 207e9, 8e8, 20e-3)),
    abrasive=replace(WHEEL.abrasive, tool=Roller(10e-3, 20e-3, 1e6, 2.5e-3), speed_low=5.0, speed_high=20.0),
)
POINT = ContourSetting(spindle_speed=120.0, feed=0.05, layers=1)
ROUTING = ContourSetting(spindle_speed=300.0, feed=0.01, layers=1)


def limits_of(conditions: AbradedContour, point: ContourSetting) -> dict[str, Limit]:
    found = predict_abraded_contour(conditions, point)
    limits = abraded_contour_limits(conditions, point, {"nominal": found, "heaviest load": found})
    return {limit.name: limit for limit in limits}


@pytest.mark.parametrize(
    ("conditions", "point", "section"),
    [pytest.param(WHEEL, POINT, WIDTH * 4e-3, id="wheel"), pytest.param(ROUTER, ROUTING, 3e-3 * 4e-3, id="router")],
)
def test_power_follows_from_energy_and_volume(
    conditions: AbradedContour, point: ContourSetting, section: float
) -> None:
    found = predict_abraded_contour(conditions, point)
    assert found.specific_force == specific_energy(0.4, 0.2e-9) == pytest.approx(2e9)
    assert found.power == pytest.approx(2e9 * section * point.feed, rel=1e-12)
    assert found.power == pytest.approx(found.tangential_force * found.surface_speed, rel=1e-12)
    # Preston's law the other way round: the force that takes off this volume at this speed
    taken = conditions.abrasive.coefficient * found.normal_force * found.surface_speed
    assert taken == pytest.approx(found.removal_rate, rel=1e-12)


def test_pressure_is_the_force_over_the_arc() -> None:
    found = predict_abraded_contour(ROUTER, ROUTING)
    arc = np.arccos(1 - 2 * 3 / 10) * 5e-3
    assert found.pressure == pytest.approx(found.normal_force / (4e-3 * arc), rel=1e-9)


def test_a_dull_abrasive_takes_more_power() -> None:
    dull = replace(WHEEL, abrasive=replace(WHEEL.abrasive, coefficient_factor=0.5))
    fresh, worn = predict_abraded_contour(WHEEL, POINT), predict_abraded_contour(dull, POINT)
    assert worn.power == pytest.approx(2 * fresh.power, rel=1e-12)
    assert worn.removal_rate == fresh.removal_rate


def test_either_way_of_standing_has_what_belongs_to_it() -> None:
    wheel, router = predict_abraded_contour(WHEEL, POINT), predict_abraded_contour(ROUTER, ROUTING)
    assert wheel.lift_force is not None
    assert wheel.bending_stress is None
    assert router.lift_force is None
    assert router.bending_stress is not None
    assert {"curve within the side play of the disc"} <= limits_of(WHEEL, POINT).keys()
    assert {"breakage of the tool", "depth within the cutting length"} <= limits_of(ROUTER, ROUTING).keys()


def test_a_wheel_heats_steel_less_by_feeding_faster() -> None:
    """Feeds that outrun the heat: the trend of Lopes et al., IJAMT 2020, on cutting off low-carbon steel."""
    steel = replace(WHEEL, thermal=Thermal(50.0, 7850.0, 460.0, 300.0))
    slow, fast = (predict_abraded_contour(steel, replace(POINT, feed=feed)) for feed in (0.02, 0.046))
    assert fast.temperature_rise < slow.temperature_rise


@pytest.mark.parametrize(
    ("name", "group", "field", "value"),
    [
        ("highest pressure: breaking out of grain", "abrasive", "pressure_high", 1e5),
        ("lowest pressure: glazing", "abrasive", "pressure_low", 1e7),
        ("spindle power", "spindle", "curve_powers", np.array([100.0, 100.0])),
        ("heat at the cut edge", "thermal", "room", 1.0),
        ("path accuracy", "robot", "path_accuracy", 2e-3),
        ("highest surface speed", "abrasive", "speed_high", 30.0),
    ],
)
def test_each_limit_is_broken_by_what_it_watches(name: str, group: str, field: str, value: Any) -> None:
    assert limits_of(WHEEL, POINT)[name].utilisation < 1
    worse = replace(WHEEL, **{group: replace(getattr(WHEEL, group), **{field: value})})
    assert limits_of(worse, POINT)[name].utilisation > 1


def test_arrays_of_points_equal_their_elements() -> None:
    speeds, feeds = np.array([80.0, 120.0, 150.0]), np.array([0.02, 0.05, 0.1])
    together = predict_abraded_contour(WHEEL, ContourSetting(speeds, feeds, 2))
    for index in range(3):
        alone = predict_abraded_contour(WHEEL, ContourSetting(speeds[index], feeds[index], 2))
        for name in AbradedContourPrediction.__dataclass_fields__:
            if getattr(together, name) is not None:
                value = np.broadcast_to(getattr(together, name), 3)[index]
                assert value == pytest.approx(getattr(alone, name), rel=1e-12), name
