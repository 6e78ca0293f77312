"""Distances, openings, wheels and fragments: edges of the tables, identities and errors."""

from __future__ import annotations

import re

import numpy as np
import pytest

from finishplan import physics
from finishplan.physics import guarding
from finishplan.physics.guarding import (
    GUARD_EXPOSURES,
    HAND_SPEED,
    MINIMUM_GAPS,
    REACH_ROWS,
    WHOLE_BODY_OPENINGS,
    burst_speed,
    crushed_parts,
    ejected_energy,
    guard_distance,
    hand_speed_distance,
    piece_centroid,
    piece_energy,
    piece_energy_bound,
    press_distance,
    press_opening,
    reach_distance,
    remaining_motion_time,
    robot_hazard_class,
    rotational_energy,
    separation_distance,
    speed_utilisation,
    wheel_inertia,
    wheel_mass,
)

MM = 1e-3
INCH = 0.0254


class TestSeparation:
    """Constants of ISO 13855:2010 as programmed: identities of the relation, not checks of its figures."""

    @pytest.mark.parametrize(
        ("time", "detection", "expected"),
        [
            pytest.param(0.09, 14, 180, id="hand speed"),
            pytest.param(0.36, 14, 576, id="beyond the switch, walking speed"),
            pytest.param(0.20, 30, 500, id="between both, the switch distance"),
            pytest.param(0.25, 14, 500, id="exactly at the switch"),
            pytest.param(0.01, 14, 100, id="never less than 100 mm"),
            pytest.param(0.02, 10, 100, id="fine curtain adds nothing below zero"),
            pytest.param(0.30, 50, 1330, id="arm not seen"),
            pytest.param(0.10, 40, 408, id="40 mm still sees the hand"),
            pytest.param(0.10, 40.1, 1010, id="above 40 mm it does not"),
        ],
    )
    def test_worked_by_hand(self, time: float, detection: float, expected: float) -> None:
        assert separation_distance(time, detection * MM) / MM == pytest.approx(expected, rel=1e-12)

    def test_arrays_choose_element_by_element(self) -> None:
        found = separation_distance(np.array([0.09, 0.36, 0.3]), np.array([14, 14, 50]) * MM)
        assert found / MM == pytest.approx([180, 576, 1330], rel=1e-12)
        assert np.ndim(separation_distance(0.1, 0.014)) == 0

    def test_refuses_a_coarse_curtain(self) -> None:
        with pytest.raises(ValueError, match=r"detection_capability must be between 0 and 0\.07"):
            separation_distance(0.1, 0.08)

    def test_faster_hand_governs_and_both_speeds_stay(self) -> None:
        assert HAND_SPEED.governing.value == 2.0
        assert len(HAND_SPEED.figures) == 2
        assert hand_speed_distance(1.0) == pytest.approx(HAND_SPEED.figures[1].value, rel=1e-14)


class TestGuardLocking:
    def test_at_the_guard_distance_nothing_turns_any_more(self) -> None:
        distance = guard_distance(0.8, 0.12)
        assert remaining_motion_time(0.8, distance, 0.12) == pytest.approx(0, abs=1e-15)
        assert remaining_motion_time(0.8, distance + 0.1, 0.12) < 0 < remaining_motion_time(0.8, distance - 0.1, 0.12)

    def test_within_reach_the_whole_run_down_is_left(self) -> None:
        assert remaining_motion_time(3.5, 0.5, 0.85) == 3.5


class TestGaps:
    def test_a_gap_of_the_figure_is_wide_enough(self) -> None:
        for part, least in MINIMUM_GAPS.items():
            assert part not in crushed_parts(least.value)
            assert part in crushed_parts(least.value - 1e-6)

    def test_refuses_a_negative_gap(self) -> None:
        with pytest.raises(ValueError, match="crushed_parts: gap"):
            crushed_parts(-0.01)


class TestOpenings:
    @pytest.mark.parametrize("shape", ["slot", "square", "round"])
    def test_an_edge_belongs_to_the_row_it_ends(self, shape: str) -> None:
        for row in REACH_ROWS:
            assert reach_distance(row.up_to, shape) == getattr(row, shape)  # type: ignore[arg-type]

    @pytest.mark.parametrize("shape", ["slot", "square", "round"])
    def test_wider_openings_never_need_less(self, shape: str) -> None:
        found = [reach_distance(opening, shape) for opening in np.linspace(0.5, 120, 500) * MM]  # type: ignore[arg-type]
        assert found == sorted(found)

    def test_short_slot_only_counts_in_its_row(self) -> None:
        assert reach_distance(25 * MM, "slot", 65 * MM) == 0.2
        assert reach_distance(25 * MM, "slot", 66 * MM) == 0.85
        assert reach_distance(35 * MM, "slot", 60 * MM) == 0.85
        assert reach_distance(15 * MM, "slot", 60 * MM) == 0.12

    @pytest.mark.parametrize("opening", [0.0, -1.0, 120.1, float("nan")])
    def test_refuses_openings_outside_the_table(self, opening: float) -> None:
        with pytest.raises(ValueError, match=re.escape("above 0 and at most 0.12 [m]")):
            reach_distance(opening * MM, "slot")

    def test_refuses_an_unknown_shape(self) -> None:
        with pytest.raises(ValueError, match="shape must be one of slot, square, round"):
            reach_distance(10 * MM, "hexagon")  # type: ignore[arg-type]

    def test_whole_body_openings_lie_beyond_the_table(self) -> None:
        assert all(each.value > REACH_ROWS[-1].up_to for each in WHOLE_BODY_OPENINGS.values())

    def test_press_opening_on_an_edge_takes_the_smaller(self) -> None:
        assert press_opening(1.5 * INCH) == pytest.approx(INCH / 4)
        assert press_opening(1.51 * INCH) == pytest.approx(INCH * 3 / 8)

    @pytest.mark.parametrize("distance", [0.4, 31.6])
    def test_refuses_distances_outside_the_press_table(self, distance: float) -> None:
        with pytest.raises(ValueError, match="press_opening: distance must be between"):
            press_opening(distance * INCH)


class TestWheels:
    def test_kinematics_are_those_of_every_turning_tool(self) -> None:
        assert guarding.surface_speed is physics.surface_speed
        assert guarding.spindle_speed is physics.spindle_speed

    def test_at_the_marked_speed_the_share_is_one(self) -> None:
        assert speed_utilisation(0.2, guarding.spindle_speed(0.2, 50.0), 50.0) == pytest.approx(1, rel=1e-14)

    def test_four_times_the_stress_is_twice_the_speed(self) -> None:
        assert burst_speed(50.0, 4.0) == pytest.approx(100.0, rel=1e-14)

    def test_exposure_keeps_every_figure(self) -> None:
        angle = GUARD_EXPOSURES["cutting-off machine"].angle
        assert angle.disagree
        assert np.degrees(sorted(figure.value for figure in angle.figures)) == pytest.approx([150, 150, 180])

    @pytest.mark.parametrize("name", GUARD_EXPOSURES)
    def test_exposure_allows_its_own_bounds_and_no_more(self, name: str) -> None:
        row = GUARD_EXPOSURES[name]
        angle = row.angle.governing.value
        start = None if row.start is None else row.start.value
        assert row.allows(angle, start)
        assert not row.allows(angle + 0.01, start)
        if start is not None:
            assert not row.allows(angle, start + 0.01)


class TestFragments:
    def test_thin_rim_has_all_its_mass_at_the_radius(self) -> None:
        assert wheel_inertia(2.0, 0.2, 0.2) == pytest.approx(2.0 * 0.1**2, rel=1e-14)

    def test_a_third_of_a_thin_rim(self) -> None:
        # chord over arc of 120 degrees: sin 60 / (pi/3)
        assert piece_centroid(0.2, 0.2) == pytest.approx(0.1 * np.sin(np.pi / 3) / (np.pi / 3), rel=1e-14)

    def test_half_a_full_disc(self) -> None:
        assert piece_centroid(0.2, 0.0, np.pi) == pytest.approx(4 * 0.1 / (3 * np.pi), rel=1e-14)

    def test_the_whole_wheel_goes_nowhere_but_holds_all_the_energy(self) -> None:
        assert piece_centroid(0.2, 0.03, 2 * np.pi) == pytest.approx(0, abs=1e-15)
        assert piece_energy_bound(1000.0, 2 * np.pi) == pytest.approx(1000.0, rel=1e-14)

    def test_flying_energy_stays_below_the_bound(self) -> None:
        angles = np.linspace(0.1, 2 * np.pi, 50)
        mass = wheel_mass(0.2, 0.032, 0.025, 2300.0)
        stored = rotational_energy(wheel_inertia(mass, 0.2, 0.032), 80.0)
        flying = piece_energy(mass, 80.0, piece_centroid(0.2, 0.032, angles), angles)
        assert (flying < piece_energy_bound(stored, angles)).all()

    def test_of_equal_pieces_thirds_fly_with_the_most_energy(self) -> None:
        angles = 2 * np.pi / np.array([2, 3, 4, 5, 6])
        flying = piece_energy(1.0, 80.0, piece_centroid(0.2, 0.03, angles), angles)
        assert flying.argmax() == 1

    def test_fragment_leaves_at_the_speed_of_its_place(self) -> None:
        assert ejected_energy(0.002, 0.05, 500.0) == pytest.approx(0.5 * 0.002 * (2 * np.pi * 25) ** 2, rel=1e-14)


class TestRobots:
    @pytest.mark.parametrize(
        ("values", "expected"),
        [
            ((10.0, 0.25, 50.0), "Class I"),
            ((10.1, 0.25, 50.0), "Class II"),
            ((10.0, 0.26, 50.0), "Class II"),
            ((10.0, 0.25, 50.1), "Class II"),
        ],
    )
    def test_all_three_bounds_have_to_hold(self, values: tuple[float, float, float], expected: str) -> None:
        assert robot_hazard_class(*values) == expected

    def test_refuses_values_of_zero_all_at_once(self) -> None:
        with pytest.raises(ValueError, match=re.escape("mass [kg] 0, force [N] -1")):
            robot_hazard_class(0.0, 1.0, -1.0)


class TestOpeningsOfPresses:
    @pytest.mark.parametrize("distance", [0.02, 0.06, 0.1, 0.2, 0.5, 0.79])
    def test_distance_undoes_opening(self, distance: float) -> None:
        opening = press_opening(distance)
        least = press_distance(opening)
        assert least is not None
        assert least < distance
        assert press_opening(least * (1 + 1e-6)) == opening

    def test_wider_than_any_row(self) -> None:
        assert press_distance(0.06) is None

    def test_no_opening_at_all(self) -> None:
        with pytest.raises(ValueError, match="must be above 0"):
            press_distance(0.0)
