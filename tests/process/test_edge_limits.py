"""Every limit of an edge reacts to the figure it is about, and to nothing worse than that."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from typing import Any

import numpy as np
import pytest

from finishplan.process.edge_conditions import EdgeConditions, OperatingPoint
from finishplan.process.edge_limits import edge_limits, mount_limits
from finishplan.process.limits import Limit, highest_utilisation
from finishplan.units import KINDS

ALL = ("passive", "force loop", "rigid")
COMPLIANT = ("passive", "force loop")

# limit, the figure that is made worse, its factor, the mounts that know the limit
WORSE: list[tuple[str, str, float, tuple[str, ...]]] = [
    ("rated speed of the tool", "cutter.rated_speed", 0.8, ALL),
    ("rated speed of the tool", "point.spindle_speed", 1.1, ALL),
    ("highest spindle speed", "spindle.speed_max", 0.8, ALL),
    ("lowest spindle speed", "spindle.speed_min", 2.0, ALL),
    ("highest surface speed", "cutter.speed_high", 0.9, ALL),
    ("highest surface speed", "point.spindle_speed", 1.1, ALL),
    ("lowest surface speed", "cutter.speed_low", 1.4, ALL),
    ("lowest surface speed", "point.spindle_speed", 0.6, ALL),
    ("rubbing: thickest chip", "chip_law.minimum_chip_thickness", 2.0, ALL),
    ("rubbing: thickest chip", "cutter.teeth", 2.0, ALL),
    ("feed per tooth", "cutter.feed_high", 0.5, ALL),
    ("feed per tooth", "cutter.teeth", 0.5, ALL),
    ("depth within the radius of the tool", "cutter.diameter", 0.5, ALL),
    ("spindle power", "spindle.curve_powers", 0.5, ALL),
    ("spindle torque", "spindle.curve_powers", 0.5, ALL),
    ("tool deflection", "cutter.overhang", 1.5, ALL),
    ("tool deflection", "cutter.bending_diameter", 0.8, ALL),
    ("tool deflection", "cutter.modulus", 0.5, ALL),
    ("robot and tool deflection", "edge.leg_upper", 0.8, ("rigid",)),
    ("path accuracy", "robot.path_accuracy", 2.0, ALL),
    ("approach speed the impact allows", "rules.contact_stiffness", 4.0, ALL),
    ("approach speed the impact allows", "rules.approach_speed_min", 2.0, ALL),
    ("approach speed the impact allows", "mount.moving_mass", 4.0, ALL),
    ("approach speed the impact allows", "rules.impact_allowance", 0.8, COMPLIANT),
    ("highest device force", "mount.force_max", 0.5, COMPLIANT),
    ("highest device force", "point.setting", 1.5, COMPLIANT),
    ("lowest device force", "mount.force_min", 2.0, COMPLIANT),
    ("friction of the device", "mount.smallest_usable_force", 2.0, COMPLIANT),
    ("compliance stroke each way", "mount.stroke", 0.5, COMPLIANT),
    ("compliance stroke each way", "mount.stroke_needed", 2.0, COMPLIANT),
    ("path accuracy", "mount.stroke", 0.5, COMPLIANT),
    ("path accuracy", "mount.other_errors", 2.0, COMPLIANT),
    ("path accuracy", "mount.end_stop_reserve", 2.0, COMPLIANT),
    ("loss of contact on the waviness", "mount.moving_mass", 4.0, COMPLIANT),
    ("loss of contact on the waviness", "mount.friction", 2.0, COMPLIANT),
    ("loss of contact on the waviness", "edge.waviness_amplitude", 2.0, COMPLIANT),
    ("loss of contact on the waviness", "edge.waviness_wavelength", 0.5, COMPLIANT),
    ("force loop on the waviness", "mount.bandwidth", 0.5, ("force loop",)),
    ("force loop on the waviness", "mount.open_loop_stiffness", 2.0, ("force loop",)),
    ("force loop on the waviness", "rules.force_ripple_allowance", 0.5, ("force loop",)),
    ("force loop on the waviness", "edge.waviness_amplitude", 2.0, ("force loop",)),
    ("form error followed by the suspension", "mount.moving_mass", 4.0, ("passive",)),
    ("form error followed by the suspension", "mount.stiffness", 0.5, ("passive",)),
    ("form error followed by the suspension", "rules.form_error_factor", 2.0, ("passive",)),
    ("robot payload", "robot.payload", 0.5, ALL),
    ("robot payload", "robot.carried_mass", 1.5, ALL),
    ("robot speed", "robot.top_speed", 0.5, ALL),
    ("robot speed", "point.feed", 1.5, ALL),
    ("largest edge break", "edge.leg_upper", 0.9, ALL),
    ("smallest edge break", "edge.leg_lower", 1.2, ALL),
    ("largest burr removed", "edge.burr_height", 1.5, ALL),
    ("largest burr removed", "edge.burr_root_thickness", 1.5, ALL),
]
CASES = [
    pytest.param(name, figure, factor, kind, id=f"{kind}: {name} by {figure}")
    for name, figure, factor, kinds in WORSE
    for kind in kinds
]

Given = Callable[[str], EdgeConditions]
At = Callable[[str], OperatingPoint]
Spread = Callable[..., Any]


def limits_by_name(state: EdgeConditions, at: OperatingPoint, corners: Spread) -> dict[str, Limit]:
    found = edge_limits(state, at, corners(state, at))
    assert len({limit.name for limit in found}) == len(found)
    return {limit.name: limit for limit in found}


@pytest.mark.parametrize(("name", "figure", "factor", "kind"), CASES)
def test_a_limit_tightens_with_the_figure_it_is_about(
    name: str, figure: str, factor: float, kind: str, conditions: Given, point: At, corners: Spread, changed: Any
) -> None:
    state, at = conditions(kind), point(kind)
    before = limits_by_name(state, at, corners)[name].utilisation
    group, field = figure.split(".")
    if group == "point":
        at = replace(at, **{field: factor * getattr(at, field)})
    else:
        state = changed(state, figure, factor * getattr(getattr(state, group), field))
    assert limits_by_name(state, at, corners)[name].utilisation > before


@pytest.mark.parametrize("kind", ALL)
def test_no_limit_is_left_untried(kind: str, conditions: Given, point: At, corners: Spread) -> None:
    tried = {name for name, _, _, kinds in WORSE if kind in kinds}
    assert set(limits_by_name(conditions(kind), point(kind), corners)) == tried


@pytest.mark.parametrize("kind", ALL)
def test_limits_say_what_they_measure_and_what_would_widen_them(
    kind: str, conditions: Given, point: At, corners: Spread
) -> None:
    for limit in limits_by_name(conditions(kind), point(kind), corners).values():
        assert limit.kind in KINDS
        assert limit.source.count(".") == 1
        assert limit.remedy


def test_a_softer_rigid_mount_bends_further(conditions: Given, point: At, corners: Spread, changed: Any) -> None:
    """The cut settles shallower and presses less, but not by as much as the mount gives way more."""
    shares = [
        limits_by_name(changed(conditions("rigid"), "mount.stiffness", stiffness), point("rigid"), corners)[
            "robot and tool deflection"
        ].utilisation
        for stiffness in (8e5, 4e5, 2e5, 1e5)
    ]
    assert np.all(np.diff(shares) > 0)


@pytest.mark.parametrize("kind", ALL)
def test_arrays_of_points_equal_their_elements(kind: str, conditions: Given, point: At, corners: Spread) -> None:
    state, at = conditions(kind), point(kind)
    feeds, settings = np.array([0.02, 0.06, 0.15]), at.setting * np.array([0.8, 1.0, 1.4])
    many = replace(at, feed=feeds, setting=settings)
    together = highest_utilisation(edge_limits(state, many, corners(state, many)), 0.2)
    for i in range(3):
        one = replace(at, feed=feeds[i], setting=settings[i])
        alone = highest_utilisation(edge_limits(state, one, corners(state, one)), 0.2)
        assert together[i] == pytest.approx(alone, rel=1e-9)


def test_without_a_spring_there_is_nothing_to_follow_with(
    conditions: Given, point: At, corners: Spread, changed: Any
) -> None:
    loose = changed(conditions("passive"), "mount.stiffness", 0.0)
    assert "form error followed by the suspension" not in limits_by_name(loose, point("passive"), corners)


def test_a_mount_of_no_known_kind(conditions: Given, point: At) -> None:
    with pytest.raises(TypeError, match="object"):
        mount_limits(object(), conditions("rigid"), point("rigid"), {})  # type: ignore[arg-type]
