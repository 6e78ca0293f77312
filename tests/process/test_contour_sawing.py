"""A disc on edge along a contour: engagement, what pushes it aside, heat in the kerf, and its own limits."""

from __future__ import annotations

from dataclasses import fields, replace
from typing import Any

import numpy as np
import pytest

from finishplan.physics import engagement_angle
from finishplan.process.chip_law import AffineLaw
from finishplan.process.contour_conditions import Arm, ContourConditions, ContourSetting, ContourState
from finishplan.process.contour_cutting import ContourPrediction, Corner, predict_contour
from finishplan.process.contour_engagement import Sawn, reach_beyond, rim_depth
from finishplan.process.contour_limits import contour_limits
from finishplan.process.contour_plunge import plunge_held
from finishplan.process.edge_conditions import Cutter, RobotState, Spindle
from finishplan.process.limits import Limit
from finishplan.process.surface_conditions import Rubbing, Thermal

DIAMETER = 0.16
CONDITIONS = ContourConditions(
    contour=ContourState(
        thickness=4e-3,
        room=1e-3,
        position_error=0.33e-3,
        other_errors=0.23e-3,
        coverage=2.0,
        direction="conventional",
    ),
    engagement=Sawn(
        kerf=2.4e-3,
        width=2.4e-3,
        protrusion=5e-3,
        out=0.0,
        depth=9e-3,
        reach=50e-3,
        overcut=0.1e-3,
        side_play=0.4e-3,
        side_force_share=0.1,
        rubbing_force=2.0,
        side_friction=0.3,
    ),
    edge=Rubbing(conductivity=80.0, contact_radius=15e-6, carried_away=0.8),
    thermal=Thermal(conductivity=0.2, density=1190.0, specific_heat=1470.0, room=60.0),
    spindle=Spindle(
        speed_min=30.0,
        speed_max=150.0,
        curve_speeds=np.array([30.0, 150.0]),
        curve_powers=np.array([4000.0, 4000.0]),
    ),
    arm=Arm(stiffness=9e5, tool_stiffness=1.3e5, natural_frequency=17.0, damping_ratio=0.028, coupling_limit=None),
    robot=RobotState(payload=150.0, carried_mass=14.0, top_speed=1.0, path_accuracy=0.2e-3),
    chip_law=AffineLaw(slope=100e6, intercept=4e3, minimum_chip_thickness=2e-6, wear_factor=1.1),
    cutter=Cutter(
        diameter=DIAMETER,
        teeth=48.0,
        width_share=1.0,
        rated_speed=150.0,
        speed_low=20.0,
        speed_high=60.0,
        feed_high=0.1e-3,
        force_ratio=0.4,
        bending_diameter=0.128,
        overhang=0.03,
        modulus=207e9,
    ),
)
POINT = ContourSetting(spindle_speed=80.0, feed=0.15, layers=1)


def changed(path: str, value: Any) -> ContourConditions:
    """The conditions with one figure, "group.field", replaced."""
    group, field = path.split(".")
    return replace(CONDITIONS, **{group: replace(getattr(CONDITIONS, group), **{field: value})})


def limits_of(conditions: ContourConditions = CONDITIONS, point: ContourSetting = POINT) -> dict[str, Limit]:
    found = predict_contour(conditions, point)
    names: tuple[Corner, ...] = ("nominal", "heaviest load", "drawn in")
    return {limit.name: limit for limit in contour_limits(conditions, point, dict.fromkeys(names, found))}


def test_what_is_taken_out_is_kerf_by_thickness() -> None:
    found = predict_contour(CONDITIONS, POINT)
    assert found.removal_rate == pytest.approx(2.4e-3 * 4e-3 * 0.15, rel=1e-12)
    assert found.power == pytest.approx(found.specific_force * found.removal_rate, rel=1e-12)
    assert found.power == pytest.approx(found.tangential_force * found.surface_speed, rel=1e-12)
    assert found.cut_width == 2.4e-3


def test_chips_and_teeth_keep_the_volume() -> None:
    """Teeth in the cut, each with the mean chip over the kerf at the surface speed, make up the removal rate."""
    for layers in (1, 3):
        found = predict_contour(CONDITIONS, replace(POINT, layers=layers))
        chips = found.teeth_in_cut * found.mean_chip_thickness * 2.4e-3 * found.surface_speed
        assert chips == pytest.approx(found.removal_rate, rel=1e-12)


def test_a_disc_that_comes_out_further_cuts_thicker_chips_with_less_force() -> None:
    shallow, deep = (predict_contour(changed("engagement.protrusion", out), POINT) for out in (2e-3, 20e-3))
    assert deep.mean_chip_thickness > shallow.mean_chip_thickness
    assert deep.teeth_in_cut < shallow.teeth_in_cut
    assert deep.tangential_force < shallow.tangential_force


def test_of_several_layers_none_but_the_last_comes_out() -> None:
    assert reach_beyond(5e-3, np.array([1, 2, 3]), 0.0, DIAMETER) == pytest.approx([5e-3, 0.0, 0.0])
    assert reach_beyond(5e-3, np.array([1, 2, 3]), 1.0, DIAMETER) == pytest.approx([5e-3] * 3)
    found = predict_contour(CONDITIONS, replace(POINT, layers=2))
    assert found.engagement_angle == pytest.approx(engagement_angle(2e-3, DIAMETER), rel=1e-12)
    assert found.layer_depth == 2e-3


def test_the_last_layer_takes_less_force_on_a_shorter_and_hotter_arc() -> None:
    before, last = (predict_contour(changed("engagement.out", out), replace(POINT, layers=2)) for out in (0.0, 1.0))
    assert last.tangential_force < before.tangential_force
    assert last.temperature_rise > before.temperature_rise
    assert last.lift_force > before.lift_force


def test_a_part_thicker_than_the_disc_is_beyond_its_reach_and_no_error() -> None:
    assert rim_depth(0.2, 5e-3, DIAMETER) == DIAMETER / 2
    assert reach_beyond(0.3, 1, 0.0, DIAMETER) == pytest.approx(0.45 * DIAMETER)
    assert np.isfinite(predict_contour(changed("engagement.protrusion", 0.3), POINT).temperature_rise)
    limits = limits_of(
        replace(changed("contour.thickness", 0.2), engagement=replace(CONDITIONS.engagement, depth=0.205))
    )
    assert limits["depth within the reach of the disc"].utilisation > 1


def test_only_the_side_force_moves_the_edge() -> None:
    found = predict_contour(CONDITIONS, POINT)
    assert found.wall_force == pytest.approx(0.1 * found.tangential_force, rel=1e-12)
    assert found.deflection == pytest.approx(found.wall_force * (1 / 9e5 + 1 / 1.3e5), rel=1e-12)
    assert found.tool_deflection == pytest.approx(found.wall_force / 1.3e5, rel=1e-12)
    assert found.bending_stress is None
    assert found.tool_depth_limit is None


def test_conventional_travel_lifts_a_thin_sheet_and_climb_presses_on_it() -> None:
    """Low in its circle the rim moves along the feed, and up through the sheet where it leaves it in front."""
    sharp = changed("cutter.force_ratio", 0.05)
    lifted, pressed = (
        predict_contour(replace(sharp, contour=replace(sharp.contour, direction=direction)), POINT)
        for direction in ("conventional", "climb")
    )
    assert lifted.lift_force > 0 > pressed.lift_force
    assert lifted.conventional_force > 0 > lifted.climb_force


def test_the_walls_warm_with_friction_and_with_a_slow_feed_in_metal() -> None:
    smooth, rough = (predict_contour(changed("engagement.side_friction", friction), POINT) for friction in (0.0, 0.3))
    assert 0 < smooth.temperature_rise < rough.temperature_rise
    crept, fed = (predict_contour(CONDITIONS, replace(POINT, feed=feed)) for feed in (0.01, 0.2))
    assert crept.temperature_rise > fed.temperature_rise
    steel = replace(changed("engagement.side_friction", 0.0), thermal=Thermal(50.0, 7850.0, 460.0, 300.0))
    slow, fast = (predict_contour(steel, replace(POINT, feed=feed)) for feed in (0.02, 0.2))
    # heat that runs off sideways goes with the inverse of the feed, the power with the feed
    assert slow.temperature_rise > fast.temperature_rise


def test_arrays_of_points_equal_their_elements() -> None:
    speeds, feeds = np.array([60.0, 80.0, 100.0]), np.array([0.05, 0.15, 0.3])
    together = predict_contour(CONDITIONS, ContourSetting(speeds, feeds, 2))
    for index in range(3):
        alone = predict_contour(CONDITIONS, ContourSetting(speeds[index], feeds[index], 2))
        for field in fields(ContourPrediction):
            if getattr(together, field.name) is not None:
                value = np.broadcast_to(getattr(together, field.name), 3)[index]
                assert value == pytest.approx(getattr(alone, field.name), rel=1e-12), field.name


@pytest.mark.parametrize(
    ("name", "path", "value"),
    [
        ("depth within the reach of the disc", "engagement.reach", 8e-3),
        ("curve within the side play of the disc", "engagement.overcut", 0.5e-3),
        ("sideways deflection of the disc", "arm.tool_stiffness", 1e3),
        ("path error", "arm.stiffness", 1e3),
        ("heat at the cut edge", "thermal.room", 5.0),
        ("feed per tooth", "cutter.feed_high", 1e-5),
    ],
)
def test_each_limit_is_broken_by_what_it_watches(name: str, path: str, value: Any) -> None:
    assert limits_of()[name].utilisation < 1
    assert limits_of(changed(path, value))[name].utilisation > 1


def test_a_disc_has_no_limits_of_a_shank() -> None:
    assert not {"breakage of the tool", "chatter of the tool", "depth within the cutting length"} & limits_of().keys()


def test_a_weaker_spindle_plunges_slower() -> None:
    feeds = np.geomspace(1e-4, 0.05, 100)
    fastest = [
        feeds[plunge_held(CONDITIONS, CONDITIONS.engagement, 80.0, feeds, power, 0.2)].max() for power in (2e3, 4e3)
    ]
    assert fastest[0] < fastest[1]
