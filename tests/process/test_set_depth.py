"""Wheels and brushes fed in by a set depth: force from their own yielding, scattered by every error of position."""

from __future__ import annotations

from dataclasses import fields, replace

import numpy as np
import pytest

from finishplan.physics import impact_force, penetration_force, penetration_stiffness
from finishplan.process.abrasive_tools import Roller
from finishplan.process.edge_abrasion import EdgeAbrasionConditions
from finishplan.process.edge_conditions import RigidMount
from finishplan.process.limits import Limit
from finishplan.process.set_depth import (
    PenetrationWindow,
    SetDepthConditions,
    SetDepthPrediction,
    SetDepthSetting,
    allowed_deflection,
    predict_set_depth,
    set_depth_limits,
)

AT = SetDepthSetting(spindle_speed=40.0, feed=0.05, depth=2e-3, passes=2)
BRUSH = Roller(diameter=0.15, width=0.025, modulus=0.5e6, thickness=0.0375)
BED = 0.5e6 / 0.0375


@pytest.fixture
def brushed(edge_under_abrasive: EdgeAbrasionConditions) -> SetDepthConditions:
    """The edge under a brush of 150 mm by 25 mm on a robot of 800 N/mm."""
    given = edge_under_abrasive
    brush = replace(given.abrasive, tool=BRUSH, force_low=5.0, force_high=40.0, speed_low=10.0, speed_high=25.0)
    return SetDepthConditions(
        edge=given.edge,
        abrasive=brush,
        thermal=given.thermal,
        spindle=replace(given.spindle, speed_min=20.0),
        mount=RigidMount(stiffness=8e5, moving_mass=4.0),
        robot=given.robot,
        rules=given.rules,
        window=PenetrationWindow(low=1e-3, high=3e-3),
    )


def displaced(state: SetDepthConditions, error: float) -> SetDepthConditions:
    return replace(state, edge=replace(state.edge, path_error=error))


def limits_of(state: SetDepthConditions, at: SetDepthSetting = AT, error: float = 0.3e-3) -> dict[str, Limit]:
    predictions = {
        "nominal": predict_set_depth(state, at),
        "smallest break": predict_set_depth(displaced(state, -error), at),
        "largest break": predict_set_depth(displaced(state, error), at),
        "heaviest load": predict_set_depth(displaced(state, error), at),
    }
    found = set_depth_limits(state, at, predictions)  # type: ignore[arg-type]
    assert len({limit.name for limit in found}) == len(found)
    return {limit.name: limit for limit in found}


def test_the_force_follows_from_the_depth(brushed: SetDepthConditions) -> None:
    found = predict_set_depth(brushed, AT)
    wanted = 0.025 * (2 * BED / (3 * 0.075)) * (2 * 0.075 * 2e-3) ** 1.5
    assert found.force == pytest.approx(wanted, rel=1e-12)
    assert found.penetration == 2e-3


@pytest.mark.parametrize("error", [-0.5e-3, 0.3e-3])
def test_an_error_of_position_goes_into_the_force(brushed: SetDepthConditions, error: float) -> None:
    true, off = (predict_set_depth(displaced(brushed, given), AT) for given in (0.0, error))
    assert off.penetration == pytest.approx(2e-3 + error, rel=1e-12)
    assert off.force / true.force == pytest.approx((1 + error / 2e-3) ** 1.5, rel=1e-12)
    # the section removed goes with the force, and the power does
    assert off.section / true.section == pytest.approx(off.force / true.force, rel=1e-12)
    assert off.power / true.power == pytest.approx(off.force / true.force, rel=1e-12)


def test_a_tool_that_does_not_reach_does_nothing(brushed: SetDepthConditions) -> None:
    found = predict_set_depth(displaced(brushed, -2.5e-3), AT)
    assert [found.penetration, found.force, found.section, found.leg, found.power] == [0, 0, 0, 0, 0]
    assert np.isfinite(found.temperature_rise)


def test_depths_and_errors_broadcast(brushed: SetDepthConditions) -> None:
    depths = np.array([1e-3, 2e-3, 3e-3])
    together = predict_set_depth(displaced(brushed, 0.2e-3), replace(AT, depth=depths))
    for index, depth in enumerate(depths):
        alone = predict_set_depth(displaced(brushed, 0.2e-3), replace(AT, depth=depth))
        for field in fields(SetDepthPrediction):
            every = np.broadcast_to(getattr(together, field.name), depths.shape)
            assert every[index] == pytest.approx(getattr(alone, field.name), rel=1e-12), field.name


def test_the_impact_stays_within_its_allowance(brushed: SetDepthConditions) -> None:
    found = predict_set_depth(brushed, AT)
    slope = penetration_stiffness(2e-3, 0.075, 0.025, BED)
    assert impact_force(found.force, found.approach_speed, slope, 4.0) == pytest.approx(1.5 * found.force, rel=1e-12)


def test_the_surface_is_heated_over_the_strip_at_the_depth_set(brushed: SetDepthConditions) -> None:
    """The strip is twice sqrt(2 R delta) long; Carslaw and Jaeger, 2nd ed. 1959, section 2.9, for the rise."""
    found = predict_set_depth(brushed, AT)
    length = 2 * np.sqrt(2 * 0.075 * 2e-3)
    middle_leg = (brushed.edge.leg_lower + brushed.edge.leg_upper) / 2
    share = 0.75 / (1 + 35 / np.sqrt(45 * 7500 * 500 * 15e-6 * found.sliding_speed))
    flux = share * found.power / (length * middle_leg * np.sqrt(2))
    wanted = 2 * flux / 45.0 * np.sqrt(1.2e-5 * (length / 0.05) / np.pi)
    assert found.temperature_rise == pytest.approx(wanted, rel=1e-12)


class TestLimits:
    def test_window_of_the_filaments_holds_at_both_ends_of_the_scatter(self, brushed: SetDepthConditions) -> None:
        found = limits_of(brushed)
        assert found["highest penetration"].value == pytest.approx(2.3e-3, rel=1e-12)
        assert found["lowest penetration"].value == pytest.approx(1.7e-3, rel=1e-12)
        assert found["highest penetration"].utilisation == pytest.approx(0.3, rel=1e-9)
        assert limits_of(brushed, error=1.1e-3)["lowest penetration"].utilisation > 1

    def test_a_wheel_has_no_window_of_filaments(self, brushed: SetDepthConditions) -> None:
        names = limits_of(brushed).keys() - limits_of(replace(brushed, window=None)).keys()
        assert names == {"highest penetration", "lowest penetration"}

    def test_usual_forces_hold_at_both_ends_of_the_scatter(self, brushed: SetDepthConditions) -> None:
        found = limits_of(brushed)
        assert found["usual force, highest"].value == predict_set_depth(displaced(brushed, 0.3e-3), AT).force
        assert found["usual force, lowest"].value == predict_set_depth(displaced(brushed, -0.3e-3), AT).force

    def test_no_limit_of_a_device(self, brushed: SetDepthConditions) -> None:
        assert not [name for name in limits_of(brushed) if "device" in name or "stroke" in name or "waviness" in name]

    def test_yielding_of_the_robot_costs_no_more_force_than_is_accepted(self, brushed: SetDepthConditions) -> None:
        found = limits_of(brushed)["robot deflection"]
        assert found.value == pytest.approx(predict_set_depth(displaced(brushed, 0.3e-3), AT).force / 8e5, rel=1e-12)
        forces = [penetration_force(2e-3 - lost, 0.075, 0.025, BED) for lost in (0.0, allowed_deflection(2e-3, 0.01))]
        # to first order: 1 % of force, and a hundredth of that for the curve
        assert 1 - forces[1] / forces[0] == pytest.approx(0.01, rel=5e-3)

    @pytest.mark.parametrize(
        ("name", "group", "field", "factor"),
        [
            ("robot deflection", "mount", "stiffness", 0.5),
            ("robot deflection", "rules", "force_ripple_allowance", 0.5),
            ("path accuracy", "robot", "path_accuracy", 2.0),
            ("approach speed the impact allows", "mount", "moving_mass", 4.0),
            ("highest penetration", "window", "high", 0.9),
            ("lowest penetration", "window", "low", 1.2),
            ("heat at the surface", "thermal", "room", 0.5),
            ("spindle power", "abrasive", "force_ratio", 1.5),
            ("robot payload", "robot", "payload", 0.5),
            ("largest edge break", "edge", "leg_upper", 0.9),
        ],
    )
    def test_a_limit_is_used_up_more_as_its_figure_worsens(
        self, brushed: SetDepthConditions, name: str, group: str, field: str, factor: float
    ) -> None:
        owner = getattr(brushed, group)
        worse = replace(brushed, **{group: replace(owner, **{field: factor * getattr(owner, field)})})
        deep = replace(AT, feed=0.01)
        assert limits_of(worse, deep)[name].utilisation > limits_of(brushed, deep)[name].utilisation

    def test_accuracy_is_what_is_asked_of_the_robot(self, brushed: SetDepthConditions) -> None:
        limit = limits_of(brushed)["path accuracy"]
        assert (limit.bound, limit.asks_of) == (2e-3, "value")
        assert limit.needed(0.2) == pytest.approx(1.6e-3, rel=1e-12)
