"""Heat under an abrasive: what swarf and grain take, and what is left to warm the surface."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from finishplan import physics, reference
from finishplan.process.abrasive_heat import dwell, surface_rise
from finishplan.process.surface_conditions import Rubbing, Thermal

STEEL = Thermal(conductivity=50.0, density=7850.0, specific_heat=480.0, room=200.0)
BOARD = Thermal(conductivity=0.16, density=711.0, specific_heat=1700.0, room=130.0)
PRIMER = Thermal(conductivity=0.2, density=1500.0, specific_heat=1300.0, room=40.0)
GRAIN = Rubbing(
    conductivity=reference.default("grain_conductivity").value,
    contact_radius=reference.default("grain_contact_radius").value,
    carried_away=reference.default("swarf_heat_share").value,
)


def share(thermal: Thermal, grain: Rubbing, speed: float) -> float:
    """Share of the power that warms the part, from the rise over that of a part that takes it all."""
    everything = replace(grain, conductivity=0.0, carried_away=0.0)
    at = (100.0, speed, 1e-3, 0.1)
    return float(surface_rise(thermal, grain, *at) / surface_rise(thermal, everything, *at))


def test_all_heat_warms_the_part_where_nothing_else_takes_any() -> None:
    """Carslaw and Jaeger, 2nd ed. 1959, section 2.9, for all of the power."""
    rise = surface_rise(STEEL, replace(GRAIN, conductivity=0.0, carried_away=0.0), 100.0, 20.0, 1e-3, 0.1)
    wanted = 2 * 1e5 / 50 * np.sqrt(50 / (7850 * 480) * 0.1 / np.pi)
    assert rise == pytest.approx(wanted, rel=1e-12)


def test_nothing_warms_the_part_where_swarf_takes_all() -> None:
    assert surface_rise(STEEL, replace(GRAIN, carried_away=1.0), 100.0, 20.0, 1e-3, 0.1) == 0


def test_a_part_that_hardly_conducts_is_warmed_alike_whatever_it_is_of() -> None:
    """The grain then takes nearly all; what is left meets a part that heats in the same measure as it takes less."""
    poor, poorer = (replace(BOARD, conductivity=BOARD.conductivity * share) for share in (1e-3, 1e-4))
    rises = [surface_rise(each, GRAIN, 100.0, 2.0, 1e-2, 1.0) for each in (poor, poorer)]
    assert rises[0] == pytest.approx(rises[1], rel=0.005)


@pytest.mark.parametrize("speed", [20.0, 30.0, 40.0])
def test_a_belt_leaves_steel_half_to_four_fifths_of_its_heat(speed: float) -> None:
    """Common practice, no published source: dry belts warm steel with half to four fifths of their power."""
    assert 0.5 <= share(STEEL, GRAIN, speed) <= 0.8


def test_a_board_takes_a_small_part_of_the_heat() -> None:
    assert share(BOARD, GRAIN, 2.5) < share(STEEL, GRAIN, 2.5) / 5


@pytest.mark.parametrize("diameter", [0.075, 0.125, 0.15])
def test_primer_that_a_measured_disc_ground_undamaged_stays_below_its_limit(diameter: float) -> None:
    """20 N, 40 mm/s and 2000 rpm took 27.5 um off the primer of an aircraft skin: Technologies 13 (2025) 498.
    Flat contact; the paper's disc is not given, so usual diameters. That primer is hurt by the heat of a rise
    beyond the table's limit is common practice, no published source."""
    speed = physics.disc_mean_speed(diameter, 2000 / 60)
    ratio = reference.abrasive("coated disc").force_ratio_on("primer").value
    power = physics.friction_power(ratio, 20.0, speed)
    rise = surface_rise(PRIMER, GRAIN, power, speed, np.pi * diameter**2 / 4, dwell(diameter, 0.04))
    assert rise < reference.coating("aircraft primer").temperature_limit.value - 293.15 == pytest.approx(40.0)


@pytest.mark.parametrize("force", [30.0, 50.0])
@pytest.mark.parametrize("material", [PRIMER, BOARD])
def test_sanding_by_hand_with_an_orbital_pad_burns_nothing(material: Thermal, force: float) -> None:
    """Common practice, no published source: 30 to 50 N on a 150 mm pad at full speed, moved at 50 mm/s."""
    speed = np.pi * 5e-3 * 12000 / 60
    power = physics.friction_power(0.5, force, speed)
    assert surface_rise(material, GRAIN, power, speed, np.pi * 0.075**2, dwell(0.15, 0.05)) < material.room / 2
