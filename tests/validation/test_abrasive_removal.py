"""Removal, energy and force of abrasives against published tests and worked examples.

Sources
-------
Dieter, Mechanical Metallurgy, chapter 21; Kalpakjian and Schmid, Manufacturing Engineering and
Technology, chapter 25; Technologies 2025, 13(11), 498 (primer on aircraft skin, disc grinding by robot);
Appl. Sci. 2021, 11(6), 2860 (wood under a belt sander); BioResources 11(2) 2016, 5242-5254 (wear of
wood sanding belts); Machinery's Handbook, areas of plane figures.
"""

from __future__ import annotations

import numpy as np
import pytest

from finishplan.physics import (
    archard_coefficient,
    belt_speed,
    coefficient_from_pass,
    disc_mean_speed,
    edge_radius_after_passes,
    friction_power,
    pass_depth,
    specific_energy,
    winkler_flat_approach,
)
from finishplan.physics.abrasion import removal_rate

MM = 1e-3
UM = 1e-6
INCH = 0.0254
PER_MINUTE = 1 / 60
POUND_FORCE = 4.4482216152605
HORSEPOWER = 745.699872
MM3_PER_N_M = 1e-9
J_PER_MM3 = 1e9


class TestGrindingExamples:
    """Origin: recomputed by a second party from the books' inputs; the printed figures were not seen."""

    @pytest.mark.parametrize("force_ratio", [0.3, 0.5])
    def test_force_on_the_wheel_takes_off_the_infeed(self, force_ratio: float) -> None:
        """Dieter, example 21.4: 40 J/mm3, table 0.3 m/s, width 1.2 mm, infeed 0.05 mm, wheel 30 m/s: 24 N."""
        coefficient = force_ratio / (40 * J_PER_MM3)
        assert specific_energy(force_ratio, coefficient) == pytest.approx(40 * J_PER_MM3, rel=1e-12)
        depth = pass_depth(coefficient, 24 / force_ratio, 30, 0.3, 1.2 * MM)
        # the example's figures are exact
        assert depth / MM == pytest.approx(0.05, rel=1e-12)

    def test_power_of_the_wheel(self) -> None:
        """Dieter, example 21.4: the tangential force of 24 N at 30 m/s is 40 J/mm3 times the removal."""
        power = friction_power(0.4, 24 / 0.4, 30)
        # the example's figures are exact
        assert power / (0.3 * 1.2 * MM * 0.05 * MM) == pytest.approx(40 * J_PER_MM3, rel=1e-12)

    def test_surface_grinding_of_steel(self) -> None:
        """Kalpakjian and Schmid, example 25.2: wheel 10 in at 4000 rpm, 1 in wide, 0.002 in deep at
        60 in/min, 15 hp min/in3: tangential force 5.7 lb, normal force 7.4 lb."""
        energy = 15 * HORSEPOWER * 60 / INCH**3
        tangential, normal = 5.7 * POUND_FORCE, 7.4 * POUND_FORCE
        ratio = tangential / normal
        speed = belt_speed(10 * INCH, 4000 * PER_MINUTE)
        depth = pass_depth(ratio / energy, normal, speed, 60 * INCH * PER_MINUTE, 1 * INCH)
        # forces rounded to two digits
        assert depth / INCH == pytest.approx(0.002, rel=0.01)


class TestPrimerDisc:
    """Technologies 2025, 13(11), 498: 20 N, 40 mm/s, 2000 rpm, depth 27.5 um, depth rate 5.501 um/s.

    The disc lies flat under even pressure, the depth is the mean over its width.
    """

    FORCE, FEED, TURNS, DEPTH, DEPTH_RATE = 20.0, 40 * MM, 2000 * PER_MINUTE, 27.5 * UM, 5.501 * UM

    @pytest.mark.parametrize("diameter", [50, 125, 150])
    def test_coefficient(self, diameter: float) -> None:
        """Origin: recomputed by a second party from the paper's figures, 0.788 mm3/(N m) whatever the diameter."""
        speed = disc_mean_speed(diameter * MM, self.TURNS)
        found = coefficient_from_pass(self.DEPTH, self.FORCE, speed, self.FEED, diameter * MM)
        # three digits given
        assert found / MM3_PER_N_M == pytest.approx(0.788, abs=5e-4)

    @pytest.mark.parametrize("diameter", [50, 125])
    def test_depth_rate(self, diameter: float) -> None:
        """Origin: printed. The coefficient's volume in the 5.00 s of the pass, over the stripe passed."""
        speed = disc_mean_speed(diameter * MM, self.TURNS)
        duration = 5.0
        stripe = diameter * MM * self.FEED * duration
        volume = removal_rate(0.788 * MM3_PER_N_M, self.FORCE, speed) * duration
        # the coefficient is rounded to three digits
        assert volume / stripe / duration == pytest.approx(self.DEPTH_RATE, rel=1e-3)

    @pytest.mark.parametrize(
        ("factors", "deeper"),
        [
            pytest.param((1.5, 1.0, 1.0), True, id="more force"),
            pytest.param((1.0, 1.5, 1.0), True, id="more speed"),
            pytest.param((1.0, 1.0, 1.5), False, id="more feed"),
        ],
    )
    def test_trends(self, factors: tuple[float, float, float], deeper: bool) -> None:
        """Origin: printed trends: deeper with force and rotation, less deep with feed."""
        force, turns, feed = (
            factor * value for factor, value in zip(factors, (self.FORCE, self.TURNS, self.FEED), strict=True)
        )
        depth = pass_depth(0.788 * MM3_PER_N_M, force, disc_mean_speed(0.125, turns), feed, 0.125)
        assert bool(depth > self.DEPTH) is deeper


class TestWoodUnderABelt:
    """Appl. Sci. 2021, 11(6), 2860: softwood at 3828 Pa and 14.5 m/s, times to sand off a whole sample."""

    PRESSURE, SPEED = 3828.0, 14.5

    def coefficient(self, seconds: float) -> float:
        """Per millimetre of sample height: a 50 mm square sample moved once over its length in that time."""
        side = 50 * MM
        return float(coefficient_from_pass(MM, self.PRESSURE * side**2, self.SPEED, side / seconds, side))

    @pytest.mark.parametrize(
        ("seconds", "expected"),
        [
            pytest.param(87, 0.2071, id="P60"),
            pytest.param(150, 0.1201, id="P120"),
            pytest.param(188, 0.0958, id="P180"),
        ],
    )
    def test_coefficient_per_sample_height(self, seconds: float, expected: float) -> None:
        """Origin: recomputed by a second party from the printed times."""
        # four digits given
        assert self.coefficient(seconds) / MM3_PER_N_M == pytest.approx(expected, abs=6e-5)

    @pytest.mark.parametrize(
        ("seconds", "share"), [pytest.param(150, 0.580, id="P120"), pytest.param(188, 0.463, id="P180")]
    )
    def test_rate_beside_the_coarse_grit(self, seconds: float, share: float) -> None:
        """Origin: recomputed by a second party from the printed times, 1 : 0.580 : 0.463."""
        area = (50 * MM) ** 2
        rates = removal_rate(
            np.array([self.coefficient(seconds), self.coefficient(87)]), self.PRESSURE * area, self.SPEED
        )
        # three digits given
        assert rates[0] / rates[1] == pytest.approx(share, abs=5e-4)


@pytest.mark.parametrize(("pressure", "force"), [(6.6, 16.5), (10.4, 26.0), (14.7, 36.8), (18.6, 46.5)])
def test_pressure_and_force_on_a_wood_sample(pressure: float, force: float) -> None:
    """BioResources 11(2) 2016: 50 mm square samples at the printed pressures, in kPa.

    Origin: forces recomputed by a second party. An elastic bed of known stiffness turns the force back.
    """
    stiffness = 1e8
    found = stiffness * winkler_flat_approach(force, (50 * MM) ** 2, stiffness)
    # forces rounded to three digits
    assert found / 1e3 == pytest.approx(pressure, rel=2e-3)


@pytest.mark.parametrize("hardness", [1.05e9, 1.5e9, 4.2e9])
def test_archards_law_and_prestons_are_one(hardness: float) -> None:
    """Archard, J. Appl. Phys. 24 (1953): V = k F s/H; Preston 1927: dh/dt = K p v. Origin: law."""
    wear_number, force, speed, area, seconds = 0.03, 35.0, 18.0, 4e-4, 12.0
    worn = wear_number * force * (speed * seconds) / hardness
    coefficient = archard_coefficient(wear_number, hardness)
    # rounding of the arithmetic
    assert removal_rate(coefficient, force, speed) * seconds == pytest.approx(worn, rel=1e-12)
    assert coefficient * (force / area) * speed * seconds == pytest.approx(worn / area, rel=1e-12)


@pytest.mark.parametrize("passes", [1, 4])
def test_round_of_a_square_edge(passes: int) -> None:
    """Machinery's Handbook, areas of plane figures: a fillet in a square corner has 0.215 r^2. Origin: law."""
    coefficient, force, speed, feed = 0.01 * MM3_PER_N_M, 10.0, 15.0, 20 * MM
    radius = edge_radius_after_passes(coefficient, force, speed, feed, passes, np.pi / 2)
    # 1 - pi/4 = 0.2146 is rounded to 0.215
    assert 0.215 * radius**2 == pytest.approx(passes * coefficient * force * speed / feed, rel=2.5e-3)


@pytest.mark.parametrize(
    ("low", "high", "handbook_speed"),
    [
        pytest.param(20.3, 33.0, (4000, 6500), id="steel, rough"),
        pytest.param(22.9, 35.6, (4500, 7000), id="steel, polish"),
        pytest.param(17.8, 25.4, (3500, 5000), id="stainless steel, rough"),
        pytest.param(25.4, 33.0, (5000, 6500), id="aluminium, rough"),
        pytest.param(11.2, 22.9, (2200, 4500), id="brass, rough"),
    ],
)
@pytest.mark.parametrize("wheel_inches", [8, 14])
def test_belt_speeds_of_the_handbook(
    low: float, high: float, handbook_speed: tuple[int, int], wheel_inches: int
) -> None:
    """Machinery's Handbook, 31st ed., abrasive belts, speeds in feet per minute; wheels turn at
    3.82 x speed/diameter in inches, the handbook's rule. Origin: speeds printed, m/s converted by a second party.
    """
    turns = 3.82 * np.array(handbook_speed) / wheel_inches * PER_MINUTE
    # three digits given
    assert belt_speed(wheel_inches * INCH, turns) == pytest.approx([low, high], abs=0.06)
