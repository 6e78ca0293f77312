"""Guards, openings, wheel speeds and fragments against law, standards and mechanics.

Origins: "law" and "standard" are figures of the publication named; "agency" one of a guidance of its
authority; "recomputed" follows from such figures; "library" is a numerical integration by scipy.
"""

from __future__ import annotations

import numpy as np
import pytest
from scipy import constants
from scipy.integrate import dblquad

from finishplan.physics.guarding import (
    GUARD_EXPOSURES,
    MINIMUM_GAPS,
    TONGUE_GAP,
    WORK_REST_GAP,
    OpeningShape,
    burst_speed,
    crushed_parts,
    guard_distance,
    hand_speed_distance,
    piece_centroid,
    piece_energy,
    piece_energy_bound,
    press_opening,
    reach_distance,
    remaining_motion_time,
    robot_hazard_class,
    rotational_energy,
    speed_utilisation,
    spindle_speed,
    surface_speed,
    wheel_inertia,
    wheel_mass,
)

MM = 1e-3
INCH = constants.inch
RPM = 1 / constants.minute


@pytest.mark.parametrize(
    ("machine", "angle", "start", "allowed"),
    [
        pytest.param("cylindrical grinder", 170, 60, True, id="(b)(4), 170 degrees from 60"),
        pytest.param("cylindrical grinder", 170, 70, False, id="(b)(4), start above 65 degrees"),
        pytest.param("bench or floor stand", 90, 65, True, id="(b)(3), 90 degrees from 65"),
        pytest.param("bench or floor stand", 100, 60, False, id="(b)(3), 100 degrees above the spindle"),
        pytest.param("bench or floor stand, contact below the spindle", 125, 65, True, id="(b)(3), 125 degrees"),
        pytest.param("surface grinder", 150, -15, True, id="(b)(5), 150 degrees from 15 below"),
        pytest.param("surface grinder", 150, 0, False, id="(b)(5), start above 15 below"),
        pytest.param("swing frame", 180, None, True, id="(b)(6), 180 degrees"),
        pytest.param("top grinding", 61, None, False, id="(b)(8), more than 60 degrees"),
    ],
)
def test_open_angle_of_a_guard(machine: str, angle: float, start: float | None, allowed: bool) -> None:
    """29 CFR 1910.215(b) and WAC 296-806-40506, Table 405-1. Origin: law."""
    assert GUARD_EXPOSURES[machine].allows(np.radians(angle), None if start is None else np.radians(start)) is allowed


def test_stricter_angle_governs_where_laws_disagree() -> None:
    """Cutting-off machines: WAC 296-806-40506 180 degrees, Michigan R 408.10199 150 degrees. Origin: law."""
    angle = GUARD_EXPOSURES["cutting-off machine"].angle
    assert np.degrees(angle.governing.value) == pytest.approx(150)
    assert {round(np.degrees(figure.value)) for figure in angle.figures} == {150, 180}


def test_gaps_around_a_wheel() -> None:
    """WAC 296-806-40510: work rest 1/8 in; Michigan R 325.52506(3): tongue 1/4 in. Origin: law."""
    assert WORK_REST_GAP.value / INCH == pytest.approx(1 / 8)
    assert TONGUE_GAP.value / INCH == pytest.approx(1 / 4)


@pytest.mark.parametrize(
    ("shape", "opening", "slot_length", "distance"),
    [
        ("slot", 4, None, 2), ("slot", 6, None, 10), ("slot", 9, None, 80), ("slot", 11, None, 100),
        ("slot", 15, None, 120), ("slot", 25, None, 850), ("slot", 25, 60, 200), ("square", 9, None, 25),
        ("square", 35, None, 200), ("square", 100, None, 850), ("round", 9, None, 20), ("round", 35, None, 120),
    ],
)  # fmt: skip
def test_reach_through_openings(
    shape: OpeningShape, opening: float, slot_length: float | None, distance: float
) -> None:
    """ISO 13857, Table 4, persons of 14 years and above. Origin: standard, exact."""
    length = None if slot_length is None else slot_length * MM
    assert reach_distance(opening * MM, shape, length) / MM == pytest.approx(distance)


@pytest.mark.parametrize(
    ("distance", "opening"), [(1, 1 / 4), (2, 3 / 8), (3, 1 / 2), (5, 5 / 8), (6, 3 / 4), (10, 5 / 4), (31.5, 17 / 8)]
)
def test_openings_of_table_o_10(distance: float, opening: float) -> None:
    """29 CFR 1910.217, Table O-10. Origin: law, exact."""
    assert press_opening(distance * INCH) / INCH == pytest.approx(opening)


@pytest.mark.parametrize(
    ("time", "inches"),
    [(0.055, 3.5), (0.063, 4), (0.079, 5), (0.103, 6.5), (0.126, 8), (0.158, 10), (0.317, 20), (0.396, 25)],
)
def test_hand_speed_chart(time: float, inches: float) -> None:
    """29 CFR 1910.217(c)(3)(iii)(e) and OSHA's chart to it. Origin: agency; the chart rounds to 1/2 in."""
    assert hand_speed_distance(time) / INCH == pytest.approx(inches, abs=0.25)


def test_guard_without_a_lock_two_metres_from_a_coasting_spindle() -> None:
    """ISO 13855, 1600 mm/s: 3.5 s of run-down need 5600 mm, so a guard at 2000 mm needs a lock. Origin: recomputed."""
    assert guard_distance(3.5) / MM == pytest.approx(5600)
    # 2000 mm are walked in 1.25 s
    assert remaining_motion_time(3.5, 2.0) == pytest.approx(2.25)
    assert remaining_motion_time(3.5, 5.7) < 0


@pytest.mark.parametrize(
    ("part", "gap"),
    [
        ("body", 500), ("head", 300), ("leg", 180), ("foot", 120), ("toes", 50), ("arm", 120), ("hand", 100),
        ("finger", 25),
    ],
)  # fmt: skip
def test_gaps_that_do_not_crush(part: str, gap: float) -> None:
    """ISO 13854, Table 1. Origin: standard, exact."""
    assert MINIMUM_GAPS[part].value / MM == pytest.approx(gap)


def test_finger_in_a_gap_of_20_mm() -> None:
    """ISO 13854, Table 1: a finger needs 25 mm. Origin: standard."""
    assert "finger" in crushed_parts(20 * MM)
    assert "finger" not in crushed_parts(25 * MM)


@pytest.mark.parametrize(
    ("mass", "speed", "force", "expected"),
    [(9, 0.25, 40, "Class I"), (9, 1.5, 40, "Class II"), (12, 0.2, 40, "Class II"), (9, 0.2, 60, "Class II")],
)
def test_robot_classes(mass: float, speed: float, force: float, expected: str) -> None:
    """ISO 10218-1:2025: Class I up to 10 kg, 250 mm/s and 50 N together. Origin: standard."""
    assert robot_hazard_class(mass, speed, force) == expected


@pytest.mark.parametrize(("diameter", "speed", "rpm"), [(180, 63, 6684.5), (230, 80, 6643), (100, 50, 9549)])
def test_rotation_of_marked_wheels(diameter: float, speed: float, rpm: float) -> None:
    """Circle of the diameter at the marked speed. Origin: law of kinematics, recomputed; 0.1 % for rounding."""
    assert spindle_speed(diameter * MM, speed) / RPM == pytest.approx(rpm, rel=1e-3)


def test_speed_of_turning_wheels() -> None:
    """300 mm at 2000 rpm: 31.42 m/s; 12 in at 2100 rpm: 6597 ft/min. Origin: recomputed; 0.1 % for rounding."""
    assert surface_speed(300 * MM, 2000 * RPM) == pytest.approx(31.42, rel=1e-3)
    feet_per_minute = constants.foot / constants.minute
    assert surface_speed(12 * INCH, 2100 * RPM) / feet_per_minute == pytest.approx(6597, rel=1e-3)


def test_wheel_too_fast_for_its_marking() -> None:
    """29 CFR 1910.243(c)(5)(i): no faster than marked; 115 mm at 100 m/s, marked 80. Origin: law and kinematics."""
    rotation = spindle_speed(115 * MM, 100.0)
    assert rotation / RPM == pytest.approx(16607, rel=1e-3)
    assert spindle_speed(115 * MM, 80.0) / RPM == pytest.approx(13286, rel=1e-3)
    assert speed_utilisation(115 * MM, rotation, 80.0) == pytest.approx(1.25)


def test_burst_speed() -> None:
    """Stress grows with the square of the speed: 3.5 times at 149.7 m/s from 80. Origin: recomputed; 0.1 %."""
    assert burst_speed(80.0, 3.5) == pytest.approx(149.7, rel=1e-3)


class TestPieceOfABurstWheel:
    """A wheel of 200 x 25 x 32 mm and 2300 kg/m3 at 50 m/s. Origin: mechanics, recomputed and by library."""

    MASS = wheel_mass(200 * MM, 32 * MM, 25 * MM, 2300.0)
    ROTATION = spindle_speed(200 * MM, 50.0)
    CENTROID = piece_centroid(200 * MM, 32 * MM)

    def test_figures(self) -> None:
        # 0.3 % for rounding of the figures compared with
        stored = rotational_energy(wheel_inertia(self.MASS, 200 * MM, 32 * MM), self.ROTATION)
        assert pytest.approx(1.760, rel=3e-3) == self.MASS
        assert stored == pytest.approx(1128, rel=3e-3)
        assert pytest.approx(56.35, rel=3e-3) == self.CENTROID / MM
        assert piece_energy(self.MASS, self.ROTATION, self.CENTROID) == pytest.approx(232.9, rel=3e-3)
        assert piece_energy_bound(stored) == pytest.approx(376.1, rel=3e-3)

    def test_against_integration_over_the_piece(self) -> None:
        """Momentum and energy of every element of the third, added up. Accuracy of the quadrature."""
        per_area, omega, limits = 2300 * 25 * MM, 2 * np.pi * self.ROTATION, (-np.pi / 3, np.pi / 3, 16 * MM, 100 * MM)
        mass, _ = dblquad(lambda r, a: per_area * r, *limits)
        momentum, _ = dblquad(lambda r, a: per_area * r * omega * r * np.cos(a), *limits)
        energy, _ = dblquad(lambda r, a: per_area * r * (omega * r) ** 2 / 2, *limits)
        found = piece_energy(self.MASS, self.ROTATION, self.CENTROID)
        assert found == pytest.approx(momentum**2 / (2 * mass), rel=1e-9)
        stored = rotational_energy(wheel_inertia(self.MASS, 200 * MM, 32 * MM), self.ROTATION)
        assert piece_energy_bound(stored) == pytest.approx(energy, rel=1e-9)
