"""Specific cutting force against published tables and calculation chains.

Sources
-------
Kienzle table: Kienzle and Victor, Werkstattstechnik und Maschinenbau 47 (1957), kc1.1, mc and kc over
chip thickness (the citation is from memory). Origin: read from an extract of the table, which rounds
to 10 N/mm2; the page itself was not seen.
Milling chain: Dietrich and Tschätsch, Praxis der Zerspantechnik, 11th ed. 2014, milling force, with
the inputs of a second party's script for it. Origin: derived from published inputs; no printed
answer was seen.
Affine law: Goli et al., Materials, 2018, regression lines of peripheral milling tests. Origin:
derived from the published slope and intercept.
"""

from __future__ import annotations

import numpy as np
import pytest

from finishplan.physics import (
    affine_specific_force,
    cutting_power,
    engagement_angle,
    mean_chip_thickness,
    rake_factor,
    removal_rate,
    specific_cutting_force,
    spindle_speed,
    teeth_in_cut,
)

MPA = 1e6
MM = 1e-3


@pytest.mark.parametrize(
    ("kc11", "mc", "chip_mm", "printed"),
    [
        pytest.param(780, 0.18, 0.1, 1180, id="brass, 0.1 mm"),
        pytest.param(780, 0.18, 0.63, 850, id="brass, 0.63 mm"),
        pytest.param(1780, 0.17, 0.1, 2630, id="S275JR, 0.1 mm"),
        pytest.param(1780, 0.17, 0.63, 1930, id="S275JR, 0.63 mm"),
        pytest.param(2110, 0.17, 0.1, 3120, id="E335, 0.1 mm"),
        pytest.param(2110, 0.17, 0.63, 2280, id="E335, 0.63 mm"),
        pytest.param(2100, 0.26, 0.1, 3820, id="16MnCr5, 0.1 mm"),
        pytest.param(2100, 0.26, 0.63, 2370, id="16MnCr5, 0.63 mm"),
        pytest.param(2500, 0.26, 0.1, 4550, id="42CrMo4, 0.1 mm"),
        pytest.param(2500, 0.26, 0.63, 2820, id="42CrMo4, 0.63 mm"),
    ],
)
def test_kienzle_table(kc11: float, mc: float, chip_mm: float, printed: float) -> None:
    # the table rounds to 10 N/mm2, half of which is 5
    assert specific_cutting_force(kc11 * MPA, mc, chip_mm * MM) / MPA == pytest.approx(printed, abs=5)


@pytest.mark.parametrize(
    ("kc11", "mc", "rake", "reference_rake", "speed", "feed_per_tooth", "wanted"),
    [
        pytest.param(1780, 0.17, 0, 6, 200, 0.10, (0.02012, 5717.8, 488.1, 0.3792), id="structural steel, 0.1 mm"),
        pytest.param(1780, 0.17, 0, 6, 240, 0.05, (0.01006, 6432.8, 274.6, 0.2560), id="structural steel, 0.05 mm"),
        pytest.param(700, 0.18, 10, 0, 300, 0.06, (0.01207, 2176.4, 111.5, 0.1299), id="aluminium, 0.06 mm"),
    ],
)
def test_milling_chain(
    kc11: float,
    mc: float,
    rake: float,
    reference_rake: float,
    speed: float,
    feed_per_tooth: float,
    wanted: tuple[float, float, float, float],
) -> None:
    """End mill of 3 mm, two teeth, 45 degree helix, 3 mm deep, 0.25 mm wide; drive efficiency 0.8."""
    diameter, depth, width, teeth, lead = 3 * MM, 3 * MM, 0.25 * MM, 2, np.radians(45)
    compression, wear, efficiency = 1.2, 1.3, 0.8
    chip = mean_chip_thickness(feed_per_tooth * MM, width, diameter) * np.cos(lead)
    factor = rake_factor(np.radians(rake), np.radians(reference_rake))
    force = compression * specific_cutting_force(kc11 * MPA, mc, chip, rake_factor=factor, wear_factor=wear)
    per_tooth = force * chip * depth / np.cos(lead)
    in_cut = teeth_in_cut(teeth, engagement_angle(width, diameter))
    power = per_tooth * in_cut * speed / 60 / efficiency
    # the wanted figures carry four digits
    assert (chip / MM, force / MPA, per_tooth, power / 1e3) == pytest.approx(wanted, rel=5e-4)

    turns = spindle_speed(diameter, speed / 60)
    from_volume = cutting_power(force, removal_rate(depth * width, feed_per_tooth * MM * teeth * turns))
    assert from_volume / efficiency / 1e3 == pytest.approx(wanted[3], rel=5e-4)


@pytest.mark.parametrize(
    ("slope", "intercept", "at_50_um", "at_100_um"),
    [
        pytest.param(31.44, 3.36, 98.6, 65.0, id="medium-density fibreboard"),
        pytest.param(20.33, 2.71, 74.5, 47.4, id="PTFE"),
        pytest.param(32.29, 7.66, 185, 109, id="beech laminated veneer, across"),
        pytest.param(11.73, 3.70, 85.7, 48.7, id="beech laminated veneer, along"),
    ],
)
def test_affine_law(slope: float, intercept: float, at_50_um: float, at_100_um: float) -> None:
    chips = np.array([0.05, 0.10]) * MM
    force = affine_specific_force(slope * MPA, intercept / MM, chips) / MPA
    # three digits are given
    assert force == pytest.approx([at_50_um, at_100_um], rel=4e-3)
