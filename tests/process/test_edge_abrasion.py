"""Edges under abrasives: the balance of sections, growth with the passes, and limits that react."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import fields, replace
from typing import Any

import numpy as np
import pytest

from finishplan.physics import edge_radius_after_passes, round_area
from finishplan.process.edge_abrasion import (
    EdgeAbrasionConditions,
    EdgeAbrasionPrediction,
    EdgeAbrasionSetting,
    edge_abrasion_limits,
    predict_edge_abrasion,
)
from finishplan.process.limits import Limit, highest_utilisation

AT = EdgeAbrasionSetting(spindle_speed=60.0, feed=0.15, force=30.0, passes=2)
Scatter = Callable[[Any, int], Any]

WORSE: list[tuple[str, str, float]] = [
    ("rated speed of the tool", "abrasive.rated_speed", 0.8),
    ("highest spindle speed", "spindle.speed_max", 0.8),
    ("lowest spindle speed", "spindle.speed_min", 1.2),
    ("highest surface speed", "abrasive.speed_high", 0.9),
    ("lowest surface speed", "abrasive.speed_low", 1.45),
    ("spindle power", "abrasive.force_ratio", 1.5),
    ("spindle torque", "spindle.curve_powers", 0.5),
    ("usual force, highest", "abrasive.force_high", 0.7),
    ("usual force, lowest", "abrasive.force_low", 1.6),
    ("highest device force", "mount.force_max", 0.5),
    ("lowest device force", "mount.force_min", 2.0),
    ("friction of the device", "mount.smallest_usable_force", 2.0),
    ("compliance stroke each way", "mount.stroke", 0.5),
    ("path accuracy", "robot.path_accuracy", 2.0),
    ("loss of contact on the waviness", "edge.waviness_amplitude", 2.0),
    ("force loop on the waviness", "mount.bandwidth", 0.5),
    ("approach speed the impact allows", "mount.moving_mass", 4.0),
    ("robot payload", "robot.payload", 0.5),
    ("robot speed", "robot.top_speed", 0.5),
    ("heat at the surface", "thermal.room", 0.5),
    ("heat at the surface", "setting.feed", 0.5),
    ("largest edge break", "edge.leg_upper", 0.9),
    ("smallest edge break", "edge.leg_lower", 1.2),
    ("smallest edge break", "setting.feed", 2.0),
    ("largest burr removed", "edge.burr_height", 1.5),
]


def limits_of(state: EdgeAbrasionConditions, at: EdgeAbrasionSetting, scatter: Scatter) -> dict[str, Limit]:
    """Limits with a scatter wide enough to put the breaks astride the middle of the band."""
    spread = {
        "nominal": state,
        "smallest break": scatter(state, -1),
        "largest break": scatter(state, 1),
        "heaviest load": scatter(state, 1),
    }
    predictions = {name: predict_edge_abrasion(corner, at) for name, corner in spread.items()}
    found = edge_abrasion_limits(state, at, predictions)  # type: ignore[arg-type]
    assert len({limit.name for limit in found}) == len(found)
    return {limit.name: limit for limit in found}


def test_the_section_removed_is_burr_and_edge_break(edge_under_abrasive: EdgeAbrasionConditions) -> None:
    found = predict_edge_abrasion(edge_under_abrasive, AT)
    assert found.section == pytest.approx(2 * 2e-11 * 30.0 * np.pi * 0.12 * 60.0 / 0.15, rel=1e-12)
    assert found.burr_section == pytest.approx(0.5 * 0.4e-3 * 0.12e-3, rel=1e-12)
    assert found.leg**2 / 2 == pytest.approx(found.section - found.burr_section, rel=1e-12)
    assert round_area(found.radius, np.pi / 2) == pytest.approx(found.leg**2 / 2, rel=1e-12)


def test_the_radius_is_that_of_the_closed_form(edge_under_abrasive: EdgeAbrasionConditions) -> None:
    found = predict_edge_abrasion(edge_under_abrasive, AT)
    burr = 0.5 * 0.4e-3 * 0.12e-3
    wanted = edge_radius_after_passes(2e-11, 30.0, np.pi * 0.12 * 60.0, 0.15, 2, np.pi / 2, burr)
    assert found.radius == pytest.approx(wanted, rel=1e-12)


def test_without_burr_the_radius_grows_with_the_root_of_the_passes(
    edge_under_abrasive: EdgeAbrasionConditions, changed: Any
) -> None:
    bare = changed(edge_under_abrasive, "edge.burr_height", 0.0)
    radii = [float(predict_edge_abrasion(bare, replace(AT, passes=n)).radius) for n in (1, 4, 9)]
    assert radii == pytest.approx([radii[0], 2 * radii[0], 3 * radii[0]], rel=1e-12)


def test_a_burr_left_standing_leaves_no_break(edge_under_abrasive: EdgeAbrasionConditions, changed: Any) -> None:
    found = predict_edge_abrasion(changed(edge_under_abrasive, "edge.burr_height", 20e-3), AT)
    assert (found.leg, found.radius) == (0.0, 0.0)
    assert found.section < found.burr_section


def test_a_blunter_edge_of_the_same_section_has_a_larger_radius(
    edge_under_abrasive: EdgeAbrasionConditions, changed: Any
) -> None:
    blunt = changed(edge_under_abrasive, "edge.included_angle", np.radians(120))
    sharp, round_ = (predict_edge_abrasion(state, AT) for state in (edge_under_abrasive, blunt))
    assert round_.section == sharp.section
    assert round_.radius > sharp.radius


def test_power_and_torque_belong_together(edge_under_abrasive: EdgeAbrasionConditions) -> None:
    found = predict_edge_abrasion(edge_under_abrasive, AT)
    assert found.power == pytest.approx(0.45 * 30.0 * np.pi * 0.12 * 60.0, rel=1e-12)
    assert found.torque == pytest.approx(found.power / (2 * np.pi * 60.0), rel=1e-12)


def test_corners_lie_about_the_nominal_edge(edge_under_abrasive: EdgeAbrasionConditions, scatter: Scatter) -> None:
    least, nominal, most = (predict_edge_abrasion(scatter(edge_under_abrasive, sense), AT) for sense in (-1, 0, 1))
    for name in ("section", "leg", "radius", "power", "temperature_rise"):
        assert getattr(least, name) < getattr(nominal, name) < getattr(most, name), name
    assert most.section == pytest.approx(nominal.section * 1.2 * 30.8 / 30.0, rel=1e-12)


@pytest.mark.parametrize(("name", "figure", "factor"), WORSE)
def test_a_limit_tightens_with_the_figure_it_is_about(
    name: str, figure: str, factor: float, edge_under_abrasive: EdgeAbrasionConditions, scatter: Scatter, changed: Any
) -> None:
    before = limits_of(edge_under_abrasive, AT, scatter)[name].utilisation
    group, field = figure.split(".")
    if group == "setting":
        after = limits_of(edge_under_abrasive, replace(AT, **{field: factor * getattr(AT, field)}), scatter)
    else:
        given = getattr(getattr(edge_under_abrasive, group), field)
        after = limits_of(changed(edge_under_abrasive, figure, factor * given), AT, scatter)
    assert after[name].utilisation > before


def test_no_limit_is_left_untried(edge_under_abrasive: EdgeAbrasionConditions, scatter: Scatter) -> None:
    assert set(limits_of(edge_under_abrasive, AT, scatter)) == {name for name, _, _ in WORSE}


def test_arrays_of_settings_equal_their_elements(edge_under_abrasive: EdgeAbrasionConditions, scatter: Scatter) -> None:
    feeds, forces = np.array([0.01, 0.03, 0.1]), np.array([10.0, 40.0, 90.0])
    many = replace(AT, feed=feeds, force=forces)
    together = predict_edge_abrasion(edge_under_abrasive, many)
    shares = highest_utilisation(list(limits_of(edge_under_abrasive, many, scatter).values()), 0.2)
    for i in range(3):
        one = replace(AT, feed=feeds[i], force=forces[i])
        alone = predict_edge_abrasion(edge_under_abrasive, one)
        for field in fields(EdgeAbrasionPrediction):
            wide = np.broadcast_to(getattr(together, field.name), 3)
            assert wide[i] == pytest.approx(getattr(alone, field.name), rel=1e-9), field.name
        limits = list(limits_of(edge_under_abrasive, one, scatter).values())
        assert shares[i] == pytest.approx(highest_utilisation(limits, 0.2), rel=1e-9)
