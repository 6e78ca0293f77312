"""The forward model of a contour and its limits: balances that must close, shapes, and what each limit watches."""

from __future__ import annotations

from dataclasses import fields, replace
from typing import Any

import numpy as np
import pytest

from finishplan.physics import regenerative_depth_limit
from finishplan.process.chip_law import AffineLaw, PowerLaw
from finishplan.process.contour_conditions import Arm, ContourConditions, ContourSetting, ContourState
from finishplan.process.contour_cutting import ContourPrediction, Corner, predict_contour
from finishplan.process.contour_engagement import Milled, Shank
from finishplan.process.contour_forces import chip_rise, force_lever, peak_force
from finishplan.process.contour_limits import accuracy_room, contour_limits, stiffness_needed
from finishplan.process.edge_conditions import Cutter, RobotState, Spindle
from finishplan.process.limits import Limit
from finishplan.process.surface_conditions import Rubbing, Thermal

CONDITIONS = ContourConditions(
    contour=ContourState(
        thickness=4e-3,
        room=0.6e-3,
        position_error=0.33e-3,
        other_errors=0.23e-3,
        coverage=2.0,
        direction="conventional",
    ),
    chip_law=AffineLaw(slope=150e6, intercept=6e3, minimum_chip_thickness=2e-6, wear_factor=1.1),
    cutter=Cutter(
        diameter=12e-3,
        teeth=2.0,
        width_share=1.0,
        rated_speed=400.0,
        speed_low=5.0,
        speed_high=13.0,
        feed_high=0.2e-3,
        force_ratio=0.6,
        bending_diameter=9.6e-3,
        overhang=35e-3,
        modulus=600e9,
    ),
    engagement=Milled(
        radial_depth=1e-3,
        shank=Shank(
            overhang=35e-3,
            bending_diameter=9.6e-3,
            modulus=600e9,
            allowed_stress=833e6,
            cutting_length=22e-3,
        ),
    ),
    edge=Rubbing(conductivity=500.0, contact_radius=25e-6, carried_away=0.8),
    thermal=Thermal(conductivity=0.4, density=1800.0, specific_heat=1000.0, room=60.0),
    spindle=Spindle(
        speed_min=100.0,
        speed_max=400.0,
        curve_speeds=np.array([100.0, 200.0, 400.0]),
        curve_powers=np.array([1500.0, 3500.0, 3500.0]),
    ),
    arm=Arm(stiffness=9e5, tool_stiffness=6e6, natural_frequency=17.0, damping_ratio=0.028, coupling_limit=None),
    robot=RobotState(payload=150.0, carried_mass=14.0, top_speed=1.0, path_accuracy=0.2e-3),
)
POINT = ContourSetting(spindle_speed=300.0, feed=0.06, layers=2)


def changed(path: str, value: Any) -> ContourConditions:
    """The conditions with one figure, "group.field", replaced."""
    group, field = path.split(".")
    if group == "shank":
        engagement = CONDITIONS.engagement
        assert isinstance(engagement, Milled)
        group, field, value = "engagement", "shank", replace(engagement.shank, **{field: value})
    return replace(CONDITIONS, **{group: replace(getattr(CONDITIONS, group), **{field: value})})


def limits_of(
    conditions: ContourConditions = CONDITIONS, point: ContourSetting = POINT, **corners: ContourPrediction
) -> dict[str, Limit]:
    found = predict_contour(conditions, point)
    names: tuple[Corner, ...] = ("nominal", "heaviest load", "drawn in")
    predictions = {name: corners.get(name.split()[0], found) for name in names}
    return {limit.name: limit for limit in contour_limits(conditions, point, predictions)}


def test_force_speed_power_and_torque_belong_together() -> None:
    found = predict_contour(CONDITIONS, POINT)
    assert found.power == pytest.approx(found.tangential_force * found.surface_speed, rel=1e-12)
    assert found.power == pytest.approx(found.specific_force * found.removal_rate, rel=1e-12)
    assert found.torque == pytest.approx(found.tangential_force * 6e-3, rel=1e-12)
    assert found.removal_rate == pytest.approx(2e-3 * 1e-3 * 0.06, rel=1e-12)
    assert found.normal_force == pytest.approx(0.6 * found.tangential_force, rel=1e-12)


def test_layers_share_the_thickness() -> None:
    one, two = (predict_contour(CONDITIONS, replace(POINT, layers=layers)) for layers in (1, 2))
    assert one.layer_depth == 2 * two.layer_depth == 4e-3
    assert one.tangential_force == pytest.approx(2 * two.tangential_force, rel=1e-12)
    assert one.process_stiffness == pytest.approx(2 * two.process_stiffness, rel=1e-12)
    assert one.temperature_rise == pytest.approx(two.temperature_rise, rel=1e-12)
    assert one.tool_depth_limit == two.tool_depth_limit


def test_the_path_error_is_deflection_and_position() -> None:
    found = predict_contour(CONDITIONS, POINT)
    assert found.deflection == pytest.approx(abs(found.wall_force) * (1 / 9e5 + 1 / 6e6), rel=1e-12)
    assert found.path_error == pytest.approx(found.deflection + 0.33e-3, rel=1e-12)


def test_in_a_slot_the_direction_decides_on_which_side_the_wall_is_left() -> None:
    slot = changed("engagement.radial_depth", 12e-3)
    conventional = predict_contour(slot, POINT)
    climb = predict_contour(replace(slot, contour=replace(slot.contour, direction="climb")), POINT)
    assert conventional.wall_force == pytest.approx(-climb.wall_force, rel=1e-12)
    assert conventional.wall_force < 0
    # the tangential force has no mean along the feed over half a turn
    assert conventional.climb_force == pytest.approx(conventional.conventional_force, rel=1e-12)


def test_at_the_rim_climb_pulls_and_conventional_pushes() -> None:
    found = predict_contour(CONDITIONS, POINT)
    assert found.climb_force < 0 < found.conventional_force


def test_the_edge_share_of_a_force_law_drives_no_chatter() -> None:
    law = AffineLaw(150e6, 6e3, 2e-6, 1.1)
    chip = 50e-6
    assert chip_rise(law, chip, law.specific_force(chip)) == pytest.approx(1.1 * 150e6, rel=1e-12)
    metal = PowerLaw(700e6, 0.25, 2e-6, 1.0, 1.0)
    kc = metal.specific_force(chip)
    step = chip * 1e-6
    risen = metal.specific_force(chip + step) * (chip + step)
    assert chip_rise(metal, chip, kc) == pytest.approx((risen - kc * chip) / step, rel=1e-5)


def test_twice_the_teeth_in_the_cut_halve_the_depth_of_the_tool() -> None:
    two, four = (predict_contour(changed("cutter.teeth", teeth), POINT) for teeth in (2.0, 4.0))
    assert four.tool_depth_limit == pytest.approx(two.tool_depth_limit / 2, rel=1e-12)


def test_fast_teeth_calm_the_arm_but_not_the_tool() -> None:
    slow, fast = (predict_contour(CONDITIONS, replace(POINT, spindle_speed=speed)) for speed in (10.0, 300.0))
    gain = 1.1 * 150e6 * np.hypot(1, 0.6)
    foot = regenerative_depth_limit(9e5, 0.028, gain) / slow.teeth_in_cut
    assert slow.arm_depth_limit == pytest.approx(foot, rel=1e-12)
    assert fast.arm_depth_limit > 100 * slow.arm_depth_limit
    assert fast.tool_depth_limit == pytest.approx(slow.tool_depth_limit, rel=1e-12)


def test_the_lever_ends_in_the_middle_of_the_layer() -> None:
    assert force_lever(35e-3, 4e-3) == pytest.approx(33e-3)
    assert force_lever(35e-3, 60e-3) == pytest.approx(17.5e-3)


def test_arrays_of_points_equal_their_elements() -> None:
    speeds, feeds = np.array([150.0, 250.0, 350.0]), np.array([0.02, 0.06, 0.1])
    together = predict_contour(CONDITIONS, ContourSetting(speeds, feeds, 2))
    for index in range(3):
        alone = predict_contour(CONDITIONS, ContourSetting(speeds[index], feeds[index], 2))
        for field in fields(ContourPrediction):
            if getattr(together, field.name) is None:
                continue
            value = np.broadcast_to(getattr(together, field.name), 3)[index]
            assert value == pytest.approx(getattr(alone, field.name), rel=1e-12), field.name


def test_limits_take_arrays() -> None:
    speeds = np.linspace(100.0, 400.0, 7)
    limits = limits_of(point=ContourSetting(speeds, 0.06, 2))
    assert all(np.shape(limit.utilisation) in {(), (7,)} for limit in limits.values())


@pytest.mark.parametrize(
    ("name", "path", "value"),
    [
        ("rated speed of the tool", "cutter.rated_speed", 250.0),
        ("highest surface speed", "cutter.speed_high", 11.0),
        ("feed per tooth", "cutter.feed_high", 0.09e-3),
        ("rubbing: thickest chip", "chip_law.minimum_chip_thickness", 0.2e-3),
        ("spindle power", "spindle.curve_powers", np.array([1.0, 1.0, 1.0])),
        ("depth within the cutting length", "shank.cutting_length", 1.5e-3),
        ("breakage of the tool", "shank.allowed_stress", 1e6),
        ("tool deflection", "shank.modulus", 1e8),
        ("robot payload", "robot.payload", 14.1),
        ("path error", "contour.room", 0.325e-3),
        ("path accuracy", "robot.path_accuracy", 0.6e-3),
        ("robot stiffness", "arm.stiffness", 2e3),
        ("heat at the cut edge", "thermal.room", 5.0),
        ("chatter of the tool", "arm.damping_ratio", 1e-4),
        ("coupling of two directions of the arm", "arm.coupling_limit", 10.0),
    ],
)
def test_each_limit_is_broken_by_what_it_watches(name: str, path: str, value: Any) -> None:
    before = limits_of()
    assert name not in before or before[name].utilisation < 1
    assert limits_of(changed(path, value))[name].utilisation > 1


def test_the_arm_chatters_where_its_teeth_pass_slowly() -> None:
    assert limits_of()["chatter of the arm"].utilisation < 1
    assert limits_of(point=replace(POINT, spindle_speed=10.0))["chatter of the arm"].utilisation > 1


def test_the_path_error_is_that_of_the_worse_corner() -> None:
    drawn = predict_contour(changed("cutter.force_ratio", 0.0), replace(POINT, feed=0.3))
    limit = limits_of(drawn=drawn)["path error"]
    assert limit.value == pytest.approx(max(drawn.path_error, predict_contour(CONDITIONS, POINT).path_error))


def test_accuracy_and_stiffness_just_met_use_up_the_tolerance() -> None:
    force, tool = 40.0, 6e6
    stiffness = stiffness_needed(force, 0.6e-3, 0.33e-3, tool)
    assert force / stiffness + force / tool + 0.33e-3 == pytest.approx(0.6e-3, rel=1e-12)
    room = accuracy_room(0.6e-3, 0.05e-3, 0.23e-3, 2.0)
    combined = 2.0 * np.sqrt(room**2 / 3 + (0.23e-3 / 2.0) ** 2)
    assert combined + 0.05e-3 == pytest.approx(0.6e-3, rel=1e-12)


def test_no_room_asks_for_the_impossible_in_finite_figures() -> None:
    assert accuracy_room(0.2e-3, 0.1e-3, 0.23e-3, 2.0) == 0.0
    needed = stiffness_needed(40.0, 0.3e-3, 0.33e-3, 6e6)
    assert np.isfinite(needed)
    assert needed > 1e8


class TestTeethOnAShareOfTheWidth:
    """Crossed flutes: six of them that each cover half of the width are three plain teeth to every place."""

    def test_chips_and_heat_are_those_of_fewer_teeth(self) -> None:
        broken = replace(CONDITIONS, cutter=replace(CONDITIONS.cutter, teeth=6 * 0.5, width_share=0.5))
        plain = replace(CONDITIONS, cutter=replace(CONDITIONS.cutter, teeth=3.0))
        found, wanted = predict_contour(broken, POINT), predict_contour(plain, POINT)
        for name in ("feed_per_tooth", "mean_chip_thickness", "power", "temperature_rise", "tool_depth_limit"):
            assert getattr(found, name) == getattr(wanted, name)

    def test_one_tooth_in_the_cut_bears_on_its_share(self) -> None:
        assert peak_force(2e8, 4e-3, 5e-5, 0.3, 0.5) == pytest.approx(peak_force(2e8, 4e-3, 5e-5, 0.3, 1.0) / 2)

    def test_several_teeth_bear_together(self) -> None:
        assert peak_force(2e8, 4e-3, 5e-5, 1.5, 0.5) == peak_force(2e8, 4e-3, 5e-5, 1.5, 1.0)
