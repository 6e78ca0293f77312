"""The forward model of an edge against published calculation chains and a library root finder.

A shoulder of depth a_p and width a_e is an edge whose bisector depth is a_e and whose section
a_e^2 tan(theta/2) is a_p a_e: the mean chip, the section and so force, power and torque are those
of peripheral milling. Teeth on a helix of lead angle lambda thin the chip by cos(lambda), as more
teeth in that ratio would.

Sources
-------
Dietrich and Tschätsch, Praxis der Zerspantechnik, 11th ed. 2014, milling force, with the inputs of a
second party's script. Origin: derived from published inputs; no printed answer was seen.
Ghosh and Mallik, Manufacturing Science, chapter 4; P. C. Sharma, A Textbook of Production
Engineering. Origin: recomputed by a second party from the book's inputs.
Kienzle table: Kienzle and Victor, Werkstattstechnik und Maschinenbau 47 (1957) (the citation is from
memory). Origin: read from an extract of the table.
Affine law: Goli et al., Materials, 2018. Origin: derived from the published slope and intercept.
Root finder: scipy.optimize.brentq. Origin: library.
"""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest
from scipy.optimize import brentq

from finishplan.process.chip_law import AffineLaw, ChipLaw, PowerLaw
from finishplan.process.edge_conditions import (
    CompliantMount,
    Cutter,
    EdgeConditions,
    EdgeState,
    OperatingPoint,
    RigidMount,
    RobotState,
    Rules,
    Spindle,
)
from finishplan.process.edge_cutting import Prediction, predict

MM = 1e-3
MPA = 1e6
J_PER_MM3 = 1e9
PER_MINUTE = 1 / 60

RATIO = 0.4
"""Normal over tangential force; what is compared does not depend on it."""


def shoulder(law: ChipLaw, diameter: float, teeth: float, depth: float, width: float) -> EdgeConditions:
    """Peripheral milling of a shoulder by an unyielding tool, lengths in millimetres."""
    return EdgeConditions(
        edge=EdgeState(2 * math.atan(depth / width), 0.0, 0.0, "triangular", 0.0, width * MM, 0.1 * MM, 50 * MM, 0.0),
        chip_law=law,
        cutter=Cutter(diameter * MM, teeth, 1.0, 1e3, 0.1, 100.0, MM, RATIO, diameter * MM, 20 * MM, 6e11),
        spindle=Spindle(0.1, 1e3, np.array([1.0]), np.array([1e5])),
        mount=RigidMount(stiffness=1e18, moving_mass=1.0),
        robot=RobotState(100.0, 1.0, 1.0, 0.0),
        rules=Rules(3e5, 1.5, 0.02, 0.002, 0.2, 3.0),
    )


def at_constant_force(state: EdgeConditions) -> EdgeConditions:
    """The same edge under a device that presses with a constant force."""
    device = CompliantMount(
        stiffness=0.0, reference_depth=0.0, force_min=1.0, force_max=1e6, smallest_usable_force=0.0, force_error=0.0,
        friction=0.0, force_scatter=0.0, stroke=10 * MM, stroke_needed=0.0, other_errors=0.0,
        end_stop_reserve=0.0, moving_mass=1.0, effective_area=None, bandwidth=None,
        open_loop_stiffness=0.0,
    )  # fmt: skip
    return replace(state, mount=device)


def metal(kc11: float, mc: float, rake_factor: float = 1.0, wear_factor: float = 1.0) -> PowerLaw:
    return PowerLaw(kc11, mc, 0.0, rake_factor, wear_factor)


TSCHAETSCH = [
    # kc1.1, mc, rake factor, surface speed m/min, feed per tooth mm;
    # wanted: kc N/mm2, force per tooth N, teeth in cut, motor power kW at an efficiency of 0.8
    pytest.param(1780, 0.17, 1.06, 200, 0.10, (5717.8, 488.1, 0.18643, 0.3792), id="structural steel, 0.1 mm"),
    pytest.param(1780, 0.17, 1.06, 240, 0.05, (6432.8, 274.6, 0.18643, 0.2560), id="structural steel, 0.05 mm"),
    pytest.param(700, 0.18, 0.90, 300, 0.06, (2176.4, 111.5, 0.18643, 0.1299), id="aluminium, 0.06 mm"),
]


def milled(kc11: float, mc: float, rake: float, speed: float, per_tooth: float) -> tuple[EdgeConditions, float, float]:
    """End mill of 3 mm, two teeth on a helix of 45 degrees, 3 mm deep and 0.25 mm wide; compression 1.2, wear 1.3."""
    teeth = 2 / math.cos(math.radians(45))
    turns = speed * PER_MINUTE / (math.pi * 3 * MM)
    state = shoulder(metal(1.2 * kc11 * MPA, mc, rake, 1.3), 3, teeth, 3, 0.25)
    return state, turns, per_tooth * MM * 2 * turns


@pytest.mark.parametrize(("kc11", "mc", "rake", "speed", "per_tooth", "wanted"), TSCHAETSCH)
def test_milling_chain(
    kc11: float, mc: float, rake: float, speed: float, per_tooth: float, wanted: tuple[float, ...]
) -> None:
    state, turns, feed = milled(kc11, mc, rake, speed, per_tooth)
    found = predict(state, OperatingPoint(turns, feed, 0.25 * MM, 1))
    force, tooth, in_cut, motor = wanted
    # the wanted figures carry four digits
    assert found.specific_force / MPA == pytest.approx(force, rel=5e-4)
    assert found.tangential_force == pytest.approx(tooth * in_cut, rel=5e-4)
    assert found.power / 0.8 / 1e3 == pytest.approx(motor, rel=5e-4)


@pytest.mark.parametrize(("kc11", "mc", "rake", "speed", "per_tooth", "wanted"), TSCHAETSCH)
def test_a_device_that_presses_with_the_force_of_the_chain_settles_at_its_width(
    kc11: float, mc: float, rake: float, speed: float, per_tooth: float, wanted: tuple[float, ...]
) -> None:
    state, turns, feed = milled(kc11, mc, rake, speed, per_tooth)
    pressed = RATIO * wanted[1] * wanted[2]
    found = predict(at_constant_force(state), OperatingPoint(turns, feed, pressed, 1))
    # four digits of force, of which the depth keeps about half the error
    assert found.depth / MM == pytest.approx(0.25, rel=5e-4)


def slab(law: ChipLaw, teeth: int, depth: float, width: float, turns: float, feed: float) -> Prediction:
    """Slab mill of 50 mm; lengths in millimetres, turns and feed in millimetres per minute."""
    state = shoulder(law, 50, teeth, width, depth)
    return predict(state, OperatingPoint(turns * PER_MINUTE, feed * MM * PER_MINUTE, depth * MM, 1))


def test_slab_milling_by_specific_energy() -> None:
    """Sharma, example 15.2, p. 603: 6 W s/mm3, 100 mm wide, 3.2 mm deep, 20 teeth, 0.25 mm, 100 rpm."""
    found = slab(metal(6 * J_PER_MM3, 0.0), 20, 3.2, 100, 100, 500)
    # six digits are given for rate and power; the recomputation cuts pi short in the torque
    assert found.removal_rate / MM**3 == pytest.approx(2666.67, rel=5e-6)
    assert found.power == pytest.approx(16_000, rel=1e-6)
    assert found.torque == pytest.approx(1527.89, rel=5e-4)


def test_slab_milling_by_specific_energy_of_mild_steel() -> None:
    """Ghosh and Mallik, problem 4.18, p. 240: 3.3 J/mm3, 5 mm deep, 20 mm wide, 25 mm/min."""
    found = slab(metal(3.3 * J_PER_MM3, 0.0), 20, 5, 20, 60, 25)
    assert found.removal_rate / MM**3 == pytest.approx(41.67, abs=0.005)
    # given without decimals
    assert found.power == pytest.approx(138, abs=0.6)


def test_slab_milling_by_the_power_law() -> None:
    """Ghosh and Mallik, problem 4.15, p. 235: 1.4 J/mm3 and exponent 0.4, 1 mm deep, 20 mm wide, 60 rpm, 15 mm/min."""
    found = slab(metal(1.4 * J_PER_MM3, 0.4), 20, 1, 20, 60, 15)
    # the chip is rounded to 0.0018 mm, 0.4 x 1.8 % of power, and taken by the square-root form, 0.4 x 0.34 %
    assert found.power == pytest.approx(87.7, rel=0.01)


def at_mean_chip(law: ChipLaw, chip: float) -> Prediction:
    """An edge cut 0.5 mm deep by a 10 mm cutter with two teeth, fed so that the mean chip is as given [mm]."""
    per_tooth = chip * math.acos(1 - 2 * 0.05) / (2 * 0.05)
    state = shoulder(law, 10, 2, 0.5, 0.5)
    return predict(state, OperatingPoint(100.0, per_tooth * MM * 2 * 100.0, 0.5 * MM, 1))


@pytest.mark.parametrize(
    ("kc11", "mc", "chip", "printed"),
    [
        pytest.param(780, 0.18, 0.1, 1180, id="brass, 0.1 mm"),
        pytest.param(2500, 0.26, 0.1, 4550, id="42CrMo4, 0.1 mm"),
        pytest.param(2100, 0.26, 0.63, 2370, id="16MnCr5, 0.63 mm"),
    ],
)
def test_kienzle_table(kc11: float, mc: float, chip: float, printed: float) -> None:
    found = at_mean_chip(metal(kc11 * MPA, mc), chip)
    # the table rounds to 10 N/mm2, half of which is 5
    assert found.specific_force / MPA == pytest.approx(printed, abs=5)
    assert found.power / found.removal_rate / MPA == pytest.approx(printed, abs=5)


@pytest.mark.parametrize(
    ("slope", "intercept", "chip", "given"),
    [
        pytest.param(31.44, 3.36, 0.05, 98.6, id="medium-density fibreboard, 0.05 mm"),
        pytest.param(20.33, 2.71, 0.10, 47.4, id="PTFE, 0.1 mm"),
    ],
)
def test_affine_law(slope: float, intercept: float, chip: float, given: float) -> None:
    found = at_mean_chip(AffineLaw(slope * MPA, intercept / MM, 0.0, 1.0), chip)
    # three digits are given
    assert found.specific_force / MPA == pytest.approx(given, rel=4e-3)


@pytest.mark.parametrize("stiffness", [0.0, 500.0, 5e4])
@pytest.mark.parametrize("passes", [1, 2])
def test_depth_by_a_library_root_finder(stiffness: float, passes: int) -> None:
    """Each pass as the root of the balance in plain floats. Origin: library, scipy.optimize.brentq."""
    state = at_constant_force(shoulder(metal(700 * MPA, 0.25), 8, 10, 0.4, 0.4))
    aimed, force, turns, feed = 0.4 * MM, 6.0, 450.0, 0.05
    mount = replace(state.mount, stiffness=stiffness, reference_depth=aimed)
    found = predict(replace(state, mount=mount), OperatingPoint(turns, feed, force, passes))

    def short_of_force(reached: float, before: float) -> float:
        chip = feed / (turns * 10) * 2 * ((reached - before) / (8 * MM)) / math.acos(1 - 2 * (reached - before) / 8e-3)
        taken = (reached**2 - before**2) * math.tan(state.edge.included_angle / 2)
        cutting = RATIO * 700 * MPA * (chip / MM) ** -0.25 * taken * feed / (math.pi * 8 * MM * turns)
        return cutting - force - stiffness * (aimed - reached)

    depth = 0.0
    for _ in range(passes):
        depth = brentq(short_of_force, depth + 1e-12, depth + 4 * MM, args=(depth,), xtol=1e-16, rtol=1e-13)
    # both are settled to better than this
    assert found.depth == pytest.approx(depth, rel=1e-9)
